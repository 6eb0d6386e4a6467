package draw

import (
	"strconv"

	"spadework/engine/unit"
)

// scale is a usual scale of drawings: 1 to Denominator, as its trade writes it.
type scale struct {
	denominator float64
	words       string
}

// scales are those of the engineer's and architect's rulers in feet, and the
// ISO 5455 series with the 1:25 and 1:250 of site offices in metres (from
// memory), largest drawing first.
func scales(system unit.System) []scale {
	if system != unit.Imperial {
		return ratios(5, 10, 20, 25, 50, 100, 200, 250, 500, 1000, 2000, 2500, 5000, 10000, 20000, 50000)
	}
	out := []scale{{8, `1 1/2" = 1'`}, {12, `1" = 1'`}, {16, `3/4" = 1'`}, {24, `1/2" = 1'`}, {32, `3/8" = 1'`}, {48, `1/4" = 1'`}, {64, `3/16" = 1'`}, {96, `1/8" = 1'`}}
	for _, feet := range []int{10, 20, 30, 40, 50, 60, 80, 100, 200, 300, 400, 500, 1000, 2000, 4000} {
		out = append(out, scale{12 * float64(feet), `1" = ` + strconv.Itoa(feet) + "'"})
	}
	return out
}

func ratios(denominators ...int) []scale {
	var out []scale
	for _, d := range denominators {
		out = append(out, scale{float64(d), "1:" + strconv.Itoa(d)})
	}
	return out
}

// fitting is the largest scale at which metres fit into millimetres both ways;
// the smallest there is where none does, with ok false.
func fitting(system unit.System, wide, high, width, height float64) (s scale, ok bool) {
	list := scales(system)
	for _, s := range list {
		if wide*1000 <= width*s.denominator && high*1000 <= height*s.denominator {
			return s, true
		}
	}
	return list[len(list)-1], false
}
