package ground

import (
	"errors"
	"math"
	"testing"

	"spadework/engine/geom"
	"spadework/engine/phrase"
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

// Rings of two corners or with a corner nowhere were once passed over, or took all
// the ground away, in silence.
func TestBuildRefusesRings(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	shots := raised([]geom.Point{{X: 0, Y: 0}, {X: 9, Y: 0}, {X: 0, Y: 9}, {X: 9, Y: 9}})
	good := geom.Ring{{X: 1, Y: 1}, {X: 8, Y: 1}, {X: 8, Y: 8}}
	cases := []struct {
		name string
		o    Options
		key  phrase.Key
	}{
		{"empty boundary", Options{Boundary: geom.Ring{}}, "ground.boundary_corners"},
		{"boundary of two", Options{Boundary: good[:2]}, "ground.boundary_corners"},
		{"boundary at NaN", Options{Boundary: geom.Ring{good[0], good[1], {X: nan, Y: 1}}}, "ground.boundary_not_finite"},
		{"boundary at Inf", Options{Boundary: geom.Ring{good[0], good[1], {X: 1, Y: -inf}}}, "ground.boundary_not_finite"},
		{"boundary too far", Options{Boundary: geom.Ring{good[0], good[1], {X: 1, Y: 2e15}}}, "ground.boundary_not_finite"},
		{"empty hole", Options{Holes: []geom.Ring{{}}}, "ground.hole_corners"},
		{"second hole of two", Options{Boundary: good, Holes: []geom.Ring{good, good[1:]}}, "ground.hole_corners"},
		{"hole at NaN", Options{Holes: []geom.Ring{{good[0], {X: 1, Y: nan}, good[1]}}}, "ground.hole_not_finite"},
		{"hole at Inf", Options{Holes: []geom.Ring{{{X: inf, Y: 1}, good[0], good[1]}}}, "ground.hole_not_finite"},
	}
	for _, c := range cases {
		tin, _, err := Build(shots, nil, c.o)
		var f *phrase.Fault
		if tin != nil || !errors.As(err, &f) || f.What.Key != c.key || f.Remedy.Key != "ground.ring_remedy" {
			t.Errorf("Build(%s) = %v, want %s", c.name, err, c.key)
		}
	}
	if _, r, err := Build(shots, nil, Options{Boundary: good}); err != nil || r.Triangles == 0 {
		t.Errorf("Build(good boundary) = %+v, %v, want ground", r, err)
	}
}

// Level.FirstHit once compared ends that are no numbers and told a clear sight.
func TestLevelFirstHitWithoutFiniteEnds(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	good := geom.Point3{X: 1, Y: 2, Z: 7}
	for _, bad := range []geom.Point3{
		{X: nan, Z: 7}, {Y: nan, Z: 7}, {Z: nan}, {X: inf, Z: 7}, {Y: -inf, Z: 7}, {Z: inf}, {Z: -inf},
	} {
		for _, ends := range [][2]geom.Point3{{bad, good}, {good, bad}, {bad, bad}} {
			if got := Level(5).FirstHit(ends[0], ends[1]); got != (Sight{Unknown: true}) {
				t.Errorf("Level(5).FirstHit(%v, %v) = %+v, want unknown", ends[0], ends[1], got)
			}
		}
	}
}
