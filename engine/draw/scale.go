package draw

import (
	"math"
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

// reach is a place along a drawing and the millimetres of paper needed to its
// left and right.
type reach struct{ x, left, right float64 }

// span is what the reaches take of the paper at millimetres per metre.
func span(reaches []reach, mm float64) (from, to float64) {
	from, to = math.Inf(1), math.Inf(-1)
	for _, r := range reaches {
		from, to = min(from, r.x*mm-r.left), max(to, r.x*mm+r.right)
	}
	return from, to
}

// fitting is the largest usual scale at which reaches fit into a width and
// metres into a height of paper; the smallest there is where none does.
func fitting(system unit.System, reaches []reach, high float64, width, height float64) scale {
	list := scales(system)
	for _, s := range list {
		mm := 1000 / s.denominator
		if from, to := span(reaches, mm); to-from <= width && high*mm <= height {
			return s
		}
	}
	return list[len(list)-1]
}
