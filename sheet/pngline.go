//go:build !page

package sheet

import (
	"strings"

	"spadework/engine/geom"
)

// dashes cuts a line into the pieces of a dash pattern told in millimetres, k
// dots each; "" leaves it whole.
func dashes(line []geom.Point, dash string, k float64) [][]geom.Point {
	var pattern []float64
	for figure := range strings.FieldsSeq(dash) {
		pattern = append(pattern, decimal(figure)*k)
	}
	if len(pattern) == 0 || len(line) < 2 {
		return [][]geom.Point{line}
	}
	var out [][]geom.Point
	now, left, on, n := []geom.Point{line[0]}, pattern[0], true, 0
	for i := 1; i < len(line); i++ {
		a, b := line[i-1], line[i]
		length := a.Distance(b)
		for done := 0.0; length-done > 0; {
			step := min(left, length-done)
			done, left = done+step, left-step
			p := a.Toward(b, done/length)
			if on {
				now = append(now, p)
			}
			if left > 0 {
				continue
			}
			if on {
				out = append(out, now)
			}
			n = (n + 1) % len(pattern)
			now, left, on = []geom.Point{p}, pattern[n], n%2 == 0
		}
	}
	if on && len(now) > 1 {
		out = append(out, now)
	}
	return out
}

// outlined is what a line of a half width covers: a rectangle a leg, all wound
// one way, and a small ring at every joint.
func outlined(line []geom.Point, half float64) area {
	var out area
	for i := 1; i < len(line); i++ {
		a, b := line[i-1], line[i]
		if a == b {
			continue
		}
		side := b.Sub(a).Right().Unit().Scale(half)
		back := side.Scale(-1)
		out = append(out, []geom.Point{a.Add(side), b.Add(side), b.Add(back), a.Add(back)})
		if i > 1 {
			out = append(out, ring(a, half))
		}
	}
	return out
}

// round is what lines of a half width along outlines cover.
func round(a area, half float64) area {
	var out area
	for _, ring := range a {
		out = append(out, outlined(append(append([]geom.Point(nil), ring...), ring[0], ring[min(1, len(ring)-1)]), half)...)
	}
	return out
}

// ring is an octagon about a point, wound as outlined winds.
func ring(c geom.Point, r float64) []geom.Point {
	const s = 0.70710678 // cos 45°
	out := make([]geom.Point, 0, 8)
	for _, d := range [...]geom.Vector{{X: 1}, {X: s, Y: s}, {Y: 1}, {X: -s, Y: s}, {X: -1}, {X: -s, Y: -s}, {Y: -1}, {X: s, Y: -s}} {
		out = append(out, c.Add(d.Scale(r)))
	}
	return out
}
