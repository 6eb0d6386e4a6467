package ground

import (
	"math"

	"spadework/engine/geom"
)

// HeightGrid is the grid g with the elevations of the surface at its nodes, NaN
// where the survey does not speak; g.Z is not read. Cols and Rows ≤ 0 give no
// elevations.
func (t *TIN) HeightGrid(g GridData) GridData {
	g.Z = make([]float64, max(0, g.Cols)*max(0, g.Rows))
	s := sampler{TIN: t}
	for row := range max(0, g.Rows) {
		for k := range g.Cols {
			col := k
			if row&1 == 1 { // to and fro, so that each node is near the last
				col = g.Cols - 1 - k
			}
			g.Z[row*g.Cols+col] = s.height(g.Node(col, row))
		}
	}
	return g
}

// sampler gives heights at places that follow each other closely: it keeps the
// last face with its plane.
type sampler struct {
	*TIN
	face    int32
	primed  bool
	a, b, c geom.Point3
	inv     float64 // 1 over twice the area, 0 for a sliver
}

// height is the elevation over p, NaN outside the survey.
func (s *sampler) height(p geom.Point) float64 {
	wa, wb, inside := s.inside(p)
	if !inside || s.inv == 0 {
		f := s.find(p, s.face)
		if s.isGhost(f) || !s.known(f) {
			return s.rare(p, f)
		}
		s.take(f)
		if wa, wb, inside = s.inside(p); !inside || s.inv == 0 {
			return heightIn(s.TIN, f, p)
		}
	}
	return s.c.Z + float64(wa*s.inv*(s.a.Z-s.c.Z)) + float64(wb*s.inv*(s.b.Z-s.c.Z))
}

// inside gives the weights of corners a and b for p and whether p is certainly
// inside the face: weights that are doubtful count as outside.
func (s *sampler) inside(p geom.Point) (wa, wb float64, ok bool) {
	if !s.primed {
		return 0, 0, false
	}
	ax, ay := s.a.X-p.X, s.a.Y-p.Y
	bx, by := s.b.X-p.X, s.b.Y-p.Y
	cx, cy := s.c.X-p.X, s.c.Y-p.Y
	wa = float64(bx*cy) - float64(by*cx)
	wb = float64(cx*ay) - float64(cy*ax)
	wc := float64(ax*by) - float64(ay*bx)
	// The bound of geom.Orient with every product under the sum of squares.
	sure := 1e-15 * (float64(ax*ax) + float64(ay*ay) + float64(bx*bx) + float64(by*by) + float64(cx*cx) + float64(cy*cy))
	return wa, wb, wa > sure && wb > sure && wc > sure
}

// take makes f the face at hand.
func (s *sampler) take(f int32) {
	s.face, s.primed = f, true
	s.a, s.b, s.c = corner(s.TIN, f<<2), corner(s.TIN, f<<2|1), corner(s.TIN, f<<2|2)
	det := s.b.Plan().Sub(s.a.Plan()).Cross(s.c.Plan().Sub(s.a.Plan()))
	s.inv = 0
	if det > 0 {
		s.inv = 1 / det
	}
}

// rare is the height over p in a face without ground, or outside.
func (s *sampler) rare(p geom.Point, f int32) float64 {
	if !s.isGhost(f) {
		s.face, s.primed = f, false
	}
	if z, ok := s.Height(p); ok {
		return z
	}
	return math.NaN()
}
