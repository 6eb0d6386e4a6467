package reception

import (
	"spadework/engine/geom"
)

// fillWhole marks the cells that lie on facets, whole: no edge of the rim, with
// ground on one side only, comes near them and their middle lies on a facet.
func (m *mesh) fillWhole(rim func(visit func(a, b geom.Point) bool)) {
	m.full = newMarked(len(m.tops))
	for cell := range m.tops {
		if m.middleOnFacet(cell) {
			m.full.add(cell)
		}
	}
	rim(func(a, b geom.Point) bool {
		m.near(a, b, m.full.remove)
		return true
	})
}

// near visits the cells that the line from a to b may meet.
func (m *mesh) near(a, b geom.Point, visit func(cell int)) {
	d := b.Sub(a)
	along := m.corridor(&ray{from: a, to: b, dx: d.X, dy: d.Y})
	for st, ok := along.next(); ok; st, ok = along.next() {
		for k := st.first; k <= st.last; k++ {
			visit(st.line*along.lineStep + k*along.cellStep)
		}
	}
}

// middleOnFacet says that a place well inside a cell lies on a facet.
func (m *mesh) middleOnFacet(cell int) bool {
	p := geom.Point{
		X: m.origin.X + float64((float64(cell%m.cols)+0.5)*m.dx),
		Y: m.origin.Y + float64((float64(cell/m.cols)+0.5)*m.dy),
	}
	for _, f := range m.items[m.first[cell]:m.first[cell+1]] {
		a, b, c := m.facets[f][0].Plan(), m.facets[f][1].Plan(), m.facets[f][2].Plan()
		if geom.Orient(a, b, p) >= 0 && geom.Orient(b, c, p) >= 0 && geom.Orient(c, a, p) >= 0 {
			return true
		}
	}
	return false
}
