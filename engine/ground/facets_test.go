package ground

import (
	"math/rand/v2"
	"testing"

	"spadework/engine/geom"
)

// Facets against a look at every triangle, for boxes in, across and beside the
// survey, without width, and on the lattice of the points.
func TestFacetsInBox(t *testing.T) {
	for name, s := range roughSurfaces(t) {
		all, r := refereeOf(s), rand.New(rand.NewPCG(31, 32))
		some := 0
		for range 500 {
			a, b := place(r, s.Bounds()), place(r, s.Bounds())
			if r.IntN(3) == 0 {
				b = a
			}
			box, got := geom.BoxOf(a, b), map[[3]geom.Point3]bool{}
			s.Facets(box, func(a, b, c geom.Point3) bool {
				got[[3]geom.Point3{a, b, c}] = true
				return true
			})
			for _, f := range all.facets {
				ring := geom.Ring{f[0].Plan(), f[1].Plan(), f[2].Plan()}
				meets := meetsBox(ring, box)
				if _, tin := s.(*TIN); meets && !got[f] || tin && !meets && got[f] {
					t.Fatalf("%s: Facets(%v) has %v: %v, want %v", name, box, f, got[f], meets)
				}
				if meets {
					some++
				}
			}
		}
		if some < 1000 {
			t.Errorf("%s: %d triangles met, want many", name, some)
		}
	}
}

// meetsBox says that a corner of one lies in the other or their sides meet.
func meetsBox(ring geom.Ring, box geom.Box) bool {
	for i := range ring {
		if box.Holds(ring[i]) {
			return true
		}
		a, b := ring.Side(i)
		for k := range box.Ring() {
			if c, d := box.Ring().Side(k); geom.Meet(a, b, c, d) != geom.Apart {
				return true
			}
		}
	}
	return ring.Contains(box.Min) != geom.Outside
}

// A line along one edge where the ground ends was once told as a gap, if the
// triangle found first was the one without ground.
func TestProfileAlongTheBoundary(t *testing.T) {
	s := survey{options: Options{Holes: []geom.Ring{{{X: 2, Y: 2}, {X: 6, Y: 2}, {X: 6, Y: 6}, {X: 2, Y: 6}}}}}
	for i := range 81 {
		s.shots = append(s.shots, Shot{geom.Point{X: float64(i % 9), Y: float64(i / 9)}, float64(i % 3)})
	}
	tin := built(t, s)
	ring := s.options.Holes[0]
	for i := range ring {
		a, b := ring.Side(i)
		for k := range 4 {
			p, q := a.Toward(b, float64(k)/4+1.0/16), a.Toward(b, float64(k)/4+3.0/16)
			for _, line := range [][]geom.Point{{p, q}, {q, p}} {
				if prof := tin.Profile(line); prof[0].Gap {
					t.Errorf("Profile(%v) on the hole's edge has a gap: %+v", line, prof)
				}
				if hit := tin.FirstHit(line[0].Raised(9), line[1].Raised(9)); hit.Unknown || hit.Blocked {
					t.Errorf("FirstHit over the hole's edge %v = %+v, want clear and known", line, hit)
				}
			}
		}
	}
}
