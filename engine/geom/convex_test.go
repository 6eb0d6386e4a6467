package geom

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// TestConvexPiecesAreTheRing: of a star-shaped ring and of rings by hand, the
// pieces are convex and their areas sum to the ring's.
func TestConvexPiecesAreTheRing(t *testing.T) {
	check := func(t interface{ Fatalf(string, ...any) }, r Ring) {
		sum := 0.0
		for _, p := range ConvexPieces(r) {
			if !p.Convex() || !(p.Area() > 0) {
				t.Fatalf("piece %v of %v is not convex", p, r)
			}
			sum += p.Area()
		}
		if want := math.Abs(r.Area()); !(math.Abs(sum-want) <= 1e-9*want) { // rounding of areas
			t.Fatalf("pieces of %v have %v m², want %v", r, sum, want)
		}
	}
	for _, r := range []Ring{square, lShape, lShape.Reversed(), moved(lShape, east),
		{{0, 0}, {9, 0}, {9, 9}, {6, 9}, {6, 3}, {3, 3}, {3, 9}, {0, 9}}, // a U
		{{0, 0}, {2, 0}, {4, 0}, {4, 4}, {2, 1}, {0, 4}}} {               // a corner in line, a notch
		check(t, r)
	}
	if got := len(ConvexPieces(square)); got != 1 {
		t.Errorf("a square is cut into %d pieces", got)
	}
	if got := len(ConvexPieces(lShape)); got != 2 {
		t.Errorf("an L is cut into %d pieces, want 2", got)
	}
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(3, 12).Draw(t, "corners")
		var r Ring
		for i := range n {
			far := rapid.Float64Range(1, 10).Draw(t, "far")
			sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
			r = append(r, Point{far * cos, far * sin})
		}
		check(t, r)
	})
}
