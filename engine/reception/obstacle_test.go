package reception

import (
	"math"
	"math/rand/v2"
	"testing"

	"spadework/engine/geom"
)

// TestTrianglesOfRings: the triangles of a ring are counter-clockwise, their areas
// sum to the ring's, and their middles lie in it.
func TestTrianglesOfRings(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	rings := 0
	for rings < 400 {
		var ring geom.Ring
		for range 3 + r.IntN(9) {
			ring = append(ring, geom.Point{X: float64(r.IntN(8)), Y: float64(r.IntN(8))})
		}
		if _, _, bad := ring.SelfIntersects(); bad {
			continue
		}
		rings++
		sum := 0.0
		for _, c := range triangles(ring) {
			tri := geom.Ring{c[0], c[1], c[2]}
			if !(tri.Area() > 0) || ring.Contains(tri.Centroid()) == geom.Outside {
				t.Errorf("ring %v: triangle %v is turned or outside", ring, c)
			}
			sum += tri.Area()
		}
		if want := math.Abs(ring.Area()); sum != want { // whole coordinates: exact
			t.Errorf("ring %v: triangles of %v m², want %v", ring, sum, want)
		}
	}
}
