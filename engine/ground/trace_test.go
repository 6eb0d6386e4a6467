package ground

import (
	"math"
	"testing"

	"spadework/engine/geom"
)

// nudged is p some float64 north or south.
func nudged(p geom.Point, steps int) geom.Point {
	to := math.Inf(1)
	if steps < 0 {
		to, steps = math.Inf(-1), -steps
	}
	for range steps {
		p.Y = math.Nextafter(p.Y, to)
	}
	return p
}

// A line that crosses an edge at an angle of roundings once met it anywhere: the
// quotient of cross products, both mostly rounding, put the stop far off the edge,
// or left it without a place where the divisor vanished. Later the place was right
// and the height that of another place, more than a quarter of the edge away.
func TestTraceOfNearlyParallelLines(t *testing.T) {
	for _, move := range []geom.Vector{{}, {X: 0.1, Y: 0.3}, eastings} {
		u, v := geom.Point{X: 0.3, Y: 0.1}.Add(move), geom.Point{X: 10.7, Y: 3.3}.Add(move)
		shots := []Shot{{u, 1}, {v, 2}, {geom.Point{X: 4, Y: 9}.Add(move), 0}, {geom.Point{X: 6, Y: -7}.Add(move), 0}}
		tin, _, err := Build(shots, []Breakline{{shots[0], shots[1]}}, Options{})
		if err != nil {
			t.Fatal(err)
		}
		crossed := 0
		for k := range 400 {
			a := nudged(u.Toward(v, 0.05+0.001*float64(k)), k%9-4)
			b := nudged(u.Toward(v, 0.95-0.0007*float64(k)), k%7-3)
			share := 0.0
			trace(tin, a, b, func(s stop) bool {
				if s.kind == atEdge {
					crossed++
				}
				// 4 roundings of a crossing point
				tol := 4 * tin.rounding()
				off := max(offSegment(s.at, a, b), offSegment(s.at, u, v))
				if !(off <= tol) || !(s.share >= share && s.share <= 1) || !s.known || s.open {
					t.Errorf("trace(%v, %v) stops at %+v, %v m off the legs, want on both, ahead, on the ground (tol %v m)", a, b, s, off, tol)
				}
				along := 1 + alongLeg(s.at, u, v)
				if !(math.Abs(s.z-along) <= 1e-6) { // 1e-6 of the edge: flatAngle
					t.Errorf("trace(%v, %v) is at height %v where the edge is at %v", a, b, s.z, along)
				}
				share = s.share
				return true
			})
		}
		if crossed < 100 {
			t.Errorf("%d of 400 lines crossed the edge", crossed)
		}
	}
}
