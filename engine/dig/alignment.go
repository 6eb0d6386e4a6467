package dig

import (
	"math"
	"sort"

	"spadework/engine/geom"
	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// snap is how near two stations are one: the micrometre that plan coordinates
// are rounded to on reading.
const snap = 1e-6

// alignment is the line of a run with the station of each of its points.
type alignment struct {
	points []geom.Point
	at     []float64
}

// newAlignment judges a line. path is the field it came from.
func newAlignment(line []geom.Point, path string) (alignment, error) {
	if len(line) < 2 {
		return alignment{}, fault(path, "dig.line_points", phrase.With("count", len(line)))
	}
	a := alignment{points: line, at: make([]float64, len(line))}
	for i, p := range line {
		if !finite(p.X) || !finite(p.Y) {
			return a, fault(item(path, i, ""), "dig.not_finite", phrase.With("value", p.X+p.Y))
		}
		if i == 0 {
			continue
		}
		leg := line[i-1].Distance(p)
		if !(leg > snap) && len(line) == 2 {
			return a, fault(path, "dig.line_zero", phrase.With("value", unit.Length(leg)))
		}
		if !(leg > snap) {
			return a, fault(item(path, i, ""), "dig.point_twice", phrase.With("point", i+1))
		}
		a.at[i] = a.at[i-1] + leg
	}
	return a, a.crosses(path)
}

// crosses is a fault if the line meets itself.
func (a alignment) crosses(path string) error {
	for i := 1; i < len(a.points); i++ {
		for j := i + 1; j < len(a.points); j++ {
			m := geom.Meet(a.points[i-1], a.points[i], a.points[j-1], a.points[j])
			if m == geom.Apart || j == i+1 && m == geom.Touching {
				continue
			}
			return fault(item(path, j, ""), "dig.line_crosses",
				phrase.With("leg", i), phrase.With("other", j))
		}
	}
	return nil
}

// length is the last station.
func (a alignment) length() float64 { return a.at[len(a.at)-1] }

// snapped is a station moved to a point of the line within a micrometre, or as
// it is.
func (a alignment) snapped(s float64) float64 {
	i := sort.SearchFloat64s(a.at, s-snap)
	if i < len(a.at) && math.Abs(a.at[i]-s) <= snap {
		return a.at[i]
	}
	return s
}

// legAt is the index of the leg that holds a station: leg i runs from point i
// to point i+1. A station of a point belongs to the leg that starts there, of
// the last point to the last leg.
func (a alignment) legAt(s float64) int {
	i := sort.SearchFloat64s(a.at, s)
	if i < len(a.at) && a.at[i] == s {
		i++
	}
	return min(max(i-1, 0), len(a.at)-2)
}

// direction is the unit vector of a leg.
func (a alignment) direction(leg int) geom.Vector {
	return a.points[leg+1].Sub(a.points[leg]).Unit()
}

// pointAt is the point of a station on the line.
func (a alignment) pointAt(s float64) geom.Point {
	leg := a.legAt(s)
	run := a.at[leg+1] - a.at[leg]
	return a.points[leg].Toward(a.points[leg+1], (s-a.at[leg])/run)
}

// heading is the direction at a station, at a bend that of the bisector.
func (a alignment) heading(s float64) geom.Vector {
	leg := a.legAt(s)
	d := a.direction(leg)
	if leg > 0 && a.at[leg] == s {
		return a.direction(leg - 1).Plus(d).Unit()
	}
	return d
}

// inside judges that a station lies on the line, both ends included, and snaps
// it.
func (a alignment) inside(s unit.Station, path string) (float64, error) {
	if !(float64(s) >= -snap && float64(s) <= a.length()+snap) {
		return 0, fault(path, "dig.station_beyond",
			phrase.With("value", s), phrase.With("end", unit.Station(a.length())))
	}
	return a.snapped(float64(s)), nil
}

// shifted is the line moved sideways by d metres to a hand, bends mitred.
func (a alignment) shifted(d float64, hand Hand, path string) (alignment, error) {
	if d == 0 {
		return a, nil
	}
	band := geom.Band(a.points, 2*d)
	n := len(a.points)
	if len(band) != 2*n {
		return a, fault(path, "dig.line_back")
	}
	line := make([]geom.Point, n)
	for i := range line {
		line[i] = band[i]
		if hand == Left {
			line[i] = band[2*n-1-i]
		}
		if i > 0 && !(line[i].Sub(line[i-1]).Dot(a.direction(i-1)) > snap) {
			return a, fault(path, "dig.leg_short", phrase.With("leg", i),
				phrase.With("length", unit.Length(a.at[i]-a.at[i-1])))
		}
	}
	return newAlignment(line, path)
}
