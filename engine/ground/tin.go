package ground

import (
	"math"

	"spadework/engine/geom"
)

// TIN is a surface of triangles, made by Build.
type TIN struct {
	mesh
	z    []float64
	rows []int32 // index in the input of each vertex, −1 for one added
	box  geom.Box

	// hints is a coarse grid of faces at which a walk may start.
	hints        []int32
	hintCols     int32
	hintX0       geom.Point
	hintX, hintY float64 // cells per metre
}

var _ Surface = (*TIN)(nil)

// hintEvery is how many faces share a cell of hints.
const hintEvery = 8

// finish makes the index of hints.
func (t *TIN) finish() {
	n := max(1, len(t.faces)/hintEvery)
	w, h := t.box.Width(), t.box.Height()
	cols := int32(min(float64(n), max(1, math.Sqrt(float64(n)*w/h))))
	rows := max(1, int32(n)/cols)
	t.hintCols = cols
	t.hints = make([]int32, cols*rows)
	for i := range t.hints {
		t.hints[i] = far
	}
	t.hintX0 = t.box.Min
	t.hintX, t.hintY = finite(float64(cols)*(1-1e-9)/w), finite(float64(rows)*(1-1e-9)/h)
	for f := 0; f < len(t.faces); f += 3 {
		if v := t.faces[f].v[0]; v >= 0 {
			t.hints[t.hintCell(t.pts[v])] = int32(f)
		}
	}
	last := int32(0)
	for i, f := range t.hints {
		if f == far {
			t.hints[i] = last
		}
		last = t.hints[i]
	}
}

// finite is v, 0 where a division by next to nothing made it infinite.
func finite(v float64) float64 {
	if v > 1e300 {
		return 0
	}
	return v
}

// hintCell is the cell of hints for p, the nearest for a p outside.
func (t *TIN) hintCell(p geom.Point) int32 {
	x := float64((p.X - t.hintX0.X) * t.hintX)
	y := float64((p.Y - t.hintX0.Y) * t.hintY)
	rows := int32(len(t.hints)) / t.hintCols
	col := int32(min(max(x, 0), float64(t.hintCols-1)))
	row := int32(min(max(y, 0), float64(rows-1)))
	return row*t.hintCols + col
}

// Bounds is the box of all points.
func (t *TIN) Bounds() geom.Box { return t.box }

// The methods by which net walks the triangles.

func (t *TIN) place(v int32) geom.Point  { return t.pts[v] }
func (t *TIN) elevation(v int32) float64 { return t.z[v] }
func (t *TIN) start(e edge) int32        { return t.from(e) }
func (t *TIN) known(f int32) bool        { return t.faces[f].v[3]&noGround == 0 }
func (t *TIN) count() int32              { return int32(len(t.faces)) }
func (t *TIN) proper(f int32) bool       { return !t.isGhost(f) }

func (t *TIN) across(e edge) (edge, bool) {
	o := t.twin(e)
	return o, !t.isGhost(o >> 2)
}

func (t *TIN) faceAt(p geom.Point) (int32, bool) {
	if !(t.box.Holds(p)) {
		return 0, false
	}
	f := t.find(p, t.near(p))
	return f, !t.isGhost(f)
}

// near is a face from which to walk to p.
func (t *TIN) near(p geom.Point) int32 {
	if t.hints == nil {
		return 0
	}
	return t.hints[t.hintCell(p)]
}

func (t *TIN) rim(yield func(e edge) bool) { t.hull(yield) }

// hull visits the edges of the hull in turn, of the faces inside.
func (t *TIN) hull(yield func(e edge) bool) {
	outside := geom.Point{X: t.box.Min.X - t.box.Width() - 1, Y: t.box.Min.Y - t.box.Height() - 1}
	first := t.realEdge(t.find(outside, t.near(outside)))
	for e := first; yield(e); {
		// From the ghost outside e over its edge to far: the ghost before it.
		e = t.twin(after(t.twin(after(t.twin(e)))))
		if e == first {
			return
		}
	}
}

// Height is the elevation over p.
func (t *TIN) Height(p geom.Point) (float64, bool) { return height(t, p) }

// Slope is the gradient at p.
func (t *TIN) Slope(p geom.Point) (geom.Vector, bool) { return slope(t, p) }

// Profile is the ground along a line.
func (t *TIN) Profile(line []geom.Point) []ProfilePoint { return profile(t, line) }

// FirstHit is where a sight line first meets the ground.
func (t *TIN) FirstHit(from, to geom.Point3) Sight { return firstHit(t, from, to) }

// Contour is the lines at elevation z.
func (t *TIN) Contour(z float64) [][]geom.Point { return contour(t, z) }

// LowestOn is the lowest ground along an outline.
func (t *TIN) LowestOn(ring geom.Ring) Lowest { return lowestOn(t, ring) }
