package reception

import (
	"math"

	"spadework/engine/geom"
	"spadework/engine/ground"
)

// mesh is triangles, found by the cells of a lattice that their boxes meet.
type mesh struct {
	lattice
	facets  [][3]geom.Point3
	first   []int32 // of each cell in items, and one more
	items   []int32 // facets
	highest float64
	bit     int
}

// perCell is how many facets a cell of a mesh has, about.
const perCell = 2

// newMesh finds facets again, of which the list is kept.
func newMesh(facets [][3]geom.Point3) *mesh {
	m := &mesh{facets: facets, bit: math.MaxInt16}
	box := geom.EmptyBox()
	for i := range facets {
		for _, p := range facets[i] {
			box = box.With(p.Plan())
			m.bit = min(m.bit, unitOf(p.X), unitOf(p.Y))
			if !math.IsInf(p.Z, 0) {
				m.bit = min(m.bit, unitOf(p.Z))
				m.highest = max(m.highest, math.Abs(p.Z))
			}
		}
	}
	if len(facets) > 0 {
		m.lay(box)
		m.fill()
	}
	return m
}

// lay sets the lattice over box.
func (m *mesh) lay(box geom.Box) {
	w, h := max(box.Width(), tiny), max(box.Height(), tiny)
	m.most = max(math.Abs(box.Min.X), math.Abs(box.Min.Y), math.Abs(box.Max.X), math.Abs(box.Max.Y))
	step := max(math.Sqrt(float64(w*h)*perCell/float64(len(m.facets))), max(w, h)/4096, m.most*1e-9)
	m.lattice = lattice{
		origin: box.Min, dx: step, dy: step, most: m.most,
		cols: int(w/step) + 1, rows: int(h/step) + 1,
	}
}

// fill enters the facets in their cells.
func (m *mesh) fill() {
	m.first = make([]int32, m.cols*m.rows+1)
	m.eachCell(func(cell, _ int32) { m.first[cell+1]++ })
	for i := 1; i < len(m.first); i++ {
		m.first[i] += m.first[i-1]
	}
	m.items = make([]int32, m.first[len(m.first)-1])
	next := append([]int32(nil), m.first...)
	m.eachCell(func(cell, facet int32) {
		m.items[next[cell]] = facet
		next[cell]++
	})
}

// eachCell visits the cells that the box of each facet meets. A cell's place is
// taken as it is rounded here; the corridor's margin is far wider.
func (m *mesh) eachCell(visit func(cell, facet int32)) {
	for i := range m.facets {
		f := &m.facets[i]
		b := geom.BoxOf(f[0].Plan(), f[1].Plan(), f[2].Plan())
		c0, c1 := span((b.Min.X-m.origin.X)/m.dx, (b.Max.X-m.origin.X)/m.dx, m.cols)
		r0, r1 := span((b.Min.Y-m.origin.Y)/m.dy, (b.Max.Y-m.origin.Y)/m.dy, m.rows)
		for r := r0; r <= r1; r++ {
			for c := c0; c <= c1; c++ {
				visit(int32(r*m.cols+c), int32(i))
			}
		}
	}
}

// collect offers the facets near a ray; with marks each once.
func (m *mesh) collect(r *ray, floor float64, obstacle bool, s *Scratch) {
	if len(m.facets) == 0 {
		return
	}
	marks := s.marksFor(obstacle, len(m.facets))
	along := m.corridor(r)
	lineStep, cellStep := 1, m.cols
	if along.swap {
		lineStep, cellStep = cellStep, lineStep
	}
	for st, ok := along.next(); ok; st, ok = along.next() {
		for k := st.first; k <= st.last; k++ {
			cell := st.line*lineStep + k*cellStep
			for _, f := range m.items[m.first[cell]:m.first[cell+1]] {
				if marks[f] == s.mark {
					continue
				}
				marks[f] = s.mark
				c := &m.facets[f]
				s.offer(candidate{facet: f, obstacle: obstacle, flat: r.isFlat(c)}, r.facet(c), floor)
			}
		}
	}
}

// marksFor is the marks of n facets; s.mark is that of the ray in hand.
func (s *Scratch) marksFor(obstacle bool, n int) []int32 {
	i := 0
	if obstacle {
		i = 1
	}
	if len(s.marks[i]) != n {
		s.marks[i] = make([]int32, n)
	}
	return s.marks[i]
}

// nextRay gives the ray in hand a mark of its own.
func (s *Scratch) nextRay() {
	if s.mark == math.MaxInt32 {
		s.mark, s.marks = 0, [2][]int32{}
	}
	s.mark++
	s.cands, s.gap = s.cands[:0], false
}

// meshGround is ground of triangles made ready.
type meshGround struct {
	*mesh
	asked ground.Surface
}

// facetsOf is all facets of ground within finite bounds.
func facetsOf(s ground.Surface) [][3]geom.Point3 {
	var out [][3]geom.Point3
	s.Facets(s.Bounds(), func(a, b, c geom.Point3) bool {
		out = append(out, [3]geom.Point3{a, b, c})
		return true
	})
	return out
}

func (m meshGround) unit() int                                 { return m.bit }
func (m meshGround) corners(f int32, _ *ray) *[3]geom.Point3   { return &m.facets[f] }
func (m meshGround) speaks(r *ray, _ *Scratch) bool            { return groundAlong(m.asked, r, m.highest) }
func (m meshGround) collect(r *ray, floor float64, s *Scratch) { m.mesh.collect(r, floor, false, s) }

// levelGround is ground at one elevation without end.
type levelGround struct{ z float64 }

func (l levelGround) unit() int                  { return min(0, unitOf(l.z)) }
func (l levelGround) speaks(*ray, *Scratch) bool { return true }

// corners are of two triangles well about the ray. Coordinates a metre from
// others have no finer unit than those or a metre.
func (l levelGround) corners(facet int32, r *ray) *[3]geom.Point3 {
	b := geom.BoxOf(r.from, r.to).Grown(1).Ring()
	i := int(facet) + 1
	return &[3]geom.Point3{b[0].Raised(l.z), b[i].Raised(l.z), b[i+1].Raised(l.z)}
}

func (l levelGround) collect(r *ray, floor float64, s *Scratch) {
	for f := range int32(2) {
		c := l.corners(f, r)
		s.offer(candidate{facet: f, flat: r.isFlat(c)}, r.facet(c), floor)
	}
}
