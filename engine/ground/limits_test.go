package ground

import (
	"math"
	"testing"

	"spadework/engine/geom"
)

// clipConvex is the part of a ring inside a convex, counter-clockwise one
// (Sutherland, Hodgman 1974).
func clipConvex(ring, convex geom.Ring) geom.Ring {
	for i := range convex {
		a, b := convex.Side(i)
		side := func(p geom.Point) float64 { return b.Sub(a).Cross(p.Sub(a)) }
		var out geom.Ring
		for k := range ring {
			p, q := ring.Side(k)
			if side(p) >= 0 {
				out = append(out, p)
			}
			if side(p)*side(q) < 0 {
				out = append(out, p.Toward(q, side(p)/(side(p)-side(q))))
			}
		}
		ring = out
	}
	return ring
}

// groundArea is the area of all facets.
func groundArea(s Surface) float64 {
	area := 0.0
	s.Facets(s.Bounds(), func(a, b, c geom.Point3) bool {
		area += geom.Ring{a.Plan(), b.Plan(), c.Plan()}.Area()
		return true
	})
	return area
}

// A boundary that leaves the survey over a sloping border once drew its side from
// a far corner of the survey, where rounding put the crossing outside: ground was
// told of where there is none, and not told of where there is.
func TestBoundaryLeavesTheSurvey(t *testing.T) {
	rim := geom.Ring{{X: 0, Y: 0}, {X: 10, Y: 1.1}, {X: 11, Y: 9.7}, {X: -1.3, Y: 8.9}}
	hole := geom.Ring{{X: 9, Y: 4}, {X: 14, Y: 5}, {X: 8.5, Y: 6}}
	for _, frame := range frames {
		for i := range 50 {
			x := 2 + 0.02*float64(i)
			ring := geom.Ring{{X: x, Y: -3}, {X: x + 3.3, Y: -3.1}, {X: x + 3.1, Y: 4}, {X: 12, Y: 4}, {X: 12, Y: 8}, {X: x + 0.1, Y: 6}}
			s := frame.survey(survey{
				shots:   raised(append(rim[:4:4], geom.Point{X: 5, Y: 5})),
				options: Options{Boundary: ring, Holes: []geom.Ring{hole}},
			})
			tin, report, err := s.build()
			if err == nil {
				err = s.validate(tin, report)
			}
			if err != nil {
				t.Fatalf("Build(%s, boundary at %v) = %v", frame.name, x, err)
			}
			want := clipConvex(ring, rim).Area() - clipConvex(clipConvex(ring, rim), hole).Area()
			want *= frame.scale * frame.scale
			// Rounding along 40 m of border, and the plan's own where it is moved.
			tol := 40*tin.rounding()*frame.scale + 1e-12*want
			if got := groundArea(tin); !(math.Abs(got-want) <= tol) {
				t.Fatalf("%s: boundary at %v leaves %v m² of ground, want %v (tol %v)", frame.name, x, got, want, tol)
			}
		}
	}
}
