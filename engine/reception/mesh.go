package reception

import (
	"math"

	"spadework/engine/geom"
	"spadework/engine/ground"
)

// mesh is triangles, found by the cells of a lattice that their boxes meet.
type mesh struct {
	lattice
	box      geom.Box
	blocks   blocks
	facets   [][3]geom.Point3
	first    []int32   // of each cell in items, and one more
	items    []int32   // facets
	tops     []float64 // of each cell: the highest corner of its facets
	full     marked    // cells that lie on facets, whole
	obstacle bool
	highest  float64
	bit      int
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
	m.box = box
	if len(facets) > 0 {
		m.lay(box)
		m.fill()
		m.crown()
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

// crown finds the tops of cells and blocks.
func (m *mesh) crown() {
	m.tops = make([]float64, m.cols*m.rows)
	for cell := range m.tops {
		m.tops[cell] = math.Inf(-1)
		for _, f := range m.items[m.first[cell]:m.first[cell+1]] {
			c := &m.facets[f]
			m.tops[cell] = max(m.tops[cell], c[0].Z, c[1].Z, c[2].Z)
		}
	}
	m.blocks = blocksOf(m.lattice)
	for cell, top := range m.tops {
		m.blocks.raise(cell%m.cols, cell/m.cols, top)
	}
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
func (m *mesh) collect(r *ray, s *Scratch) {
	if len(m.facets) > 0 {
		m.blocks.search(r, s, m)
	}
}

func (m *mesh) size() float64 { return m.highest }

// strip offers the facets of cells of one line that reach up to limit.
func (m *mesh) strip(r *ray, c cells, limit float64, s *Scratch) {
	marks := s.marksFor(m.obstacle, len(m.facets))
	for cell := c.first; cell <= c.last; cell += c.step {
		s.gap = s.gap || !m.full.has(cell)
		if m.tops[cell] < limit {
			continue
		}
		for _, f := range m.items[m.first[cell]:m.first[cell+1]] {
			c := &m.facets[f]
			if marks[f] == s.mark || larger(larger(c[0].Z, c[1].Z), c[2].Z) < limit {
				continue // too low in this strip, it may matter in another
			}
			marks[f] = s.mark
			s.offer(candidate{facet: f, obstacle: m.obstacle, flat: r.isFlat(c)}, r.facet(c))
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

// meshGround is ground of triangles made ready.
type meshGround struct {
	*mesh
	asked    ground.Surface
	unbroken bool // there is ground between any two places on it
}

// newMeshGround makes ground of triangles ready. Where it tells the rim of its
// survey, the cells off the rim are full.
func newMeshGround(s ground.Surface) meshGround {
	m := meshGround{mesh: newMesh(facetsOf(s)), asked: s}
	m.full = newMarked(len(m.tops))
	if tin, ok := s.(rimmed); ok {
		m.fillWhole(tin.Rim)
		m.unbroken = tin.Unbroken()
	}
	if len(m.facets) > 0 {
		m.blocks.gapsFrom(&m.full)
	}
	return m
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

func (m meshGround) unit() int                               { return m.bit }
func (m meshGround) corners(f int32, _ *ray) *[3]geom.Point3 { return &m.facets[f] }

// rimmed is a survey that tells where it ends; a TIN is one.
type rimmed interface {
	Rim(visit func(a, b geom.Point) bool)
	Unbroken() bool
}

// speaks asks the surface itself where a cell near the ray is not full.
func (m meshGround) speaks(r *ray, s *Scratch) bool {
	switch {
	case !s.gap && m.box.Holds(r.to):
		return true
	case m.unbroken:
		_, ok := m.asked.Height(r.to)
		return ok
	}
	return groundAlong(m.asked, r, m.highest)
}

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

func (l levelGround) collect(r *ray, s *Scratch) {
	for f := range int32(2) {
		c := l.corners(f, r)
		s.offer(candidate{facet: f, flat: r.isFlat(c)}, r.facet(c))
	}
}
