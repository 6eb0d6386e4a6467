package plan

import (
	"spadework/engine/geom"
	"spadework/engine/unit"
)

// Cell is a piece of a part's bottom that is dug one way. Cells of a part do not
// overlap and together are the part.
type Cell struct {
	Excavation, Part string
	Outline          geom.Ring // convex, counter-clockwise
	Hand             bool      // hands or vacuum only, at any depth, until the service is seen
	Service          string    // of a hand cell: the first service whose zone it lies in
	Stop             unit.Length
}

// Cells are the pieces of a dig: what the machine digs and, inside the zones of
// services that nobody has seen, what hands or vacuum dig.
func (p *Plan) Cells(id string) []Cell {
	if cells, cut := p.cells[id]; cut {
		return cells
	}
	d, _ := p.Dig(id)
	return p.cutDig(d)
}

// HandDig is the hand-dug cells of a dig.
func (p *Plan) HandDig(id string) []Cell {
	var out []Cell
	for _, c := range p.cells[id] {
		if c.Hand {
			out = append(out, c)
		}
	}
	return out
}

// leastCell is the area under which a piece is what clipping leaves of rounding,
// in square metres: a thousandth of a square millimetre.
const leastCell = 1e-9

// cutHandDig cuts the zones out of the digs that they come near; the others are
// whole and are cut into pieces when somebody asks.
func (p *Plan) cutHandDig() {
	zones := geom.EmptyBox()
	for _, z := range p.Bounds.Zones {
		for _, band := range z.Bands {
			zones = zones.Union(band.Bounds())
		}
	}
	p.cells = map[string][]Cell{}
	for _, d := range p.Digs {
		if zones.Meets(d.box()) {
			p.cells[d.Excavation.ID] = p.cutDig(d)
		}
	}
}

// box is the box of a dig's bottoms.
func (d Dig) box() geom.Box {
	box := geom.EmptyBox()
	for _, part := range d.Parts {
		box = box.Union(part.Outline.Bounds())
	}
	return box
}

// cutDig is the cells of a dig.
func (p *Plan) cutDig(d Dig) []Cell {
	var out []Cell
	for _, part := range d.Parts {
		for _, piece := range geom.ConvexPieces(part.Outline) {
			out = append(out, p.cutPiece(Cell{Excavation: d.Excavation.ID, Part: part.ID, Outline: piece})...)
		}
	}
	return out
}

// cutPiece cuts one convex piece by the zones in their order.
func (p *Plan) cutPiece(whole Cell) []Cell {
	left := []geom.Ring{whole.Outline}
	var out []Cell
	for _, z := range p.Bounds.Zones {
		if z.Seen {
			continue
		}
		for _, band := range z.Bands {
			var outside []geom.Ring
			for _, ring := range left {
				inside, rest := splitBy(ring, band)
				outside = append(outside, rest...)
				if inside != nil {
					out = append(out, Cell{whole.Excavation, whole.Part, inside, true, z.Service, z.Stop})
				}
			}
			left = outside
		}
	}
	for _, ring := range left {
		out = append(out, Cell{Excavation: whole.Excavation, Part: whole.Part, Outline: ring})
	}
	return out
}

// splitBy cuts a convex ring by a convex counter-clockwise band: what lies in it,
// nil for nothing, and the convex pieces outside.
func splitBy(ring, band geom.Ring) (inside geom.Ring, outside []geom.Ring) {
	if !ring.Bounds().Meets(band.Bounds()) {
		return nil, []geom.Ring{ring}
	}
	rest := ring
	for i := range band {
		a, b := band.Side(i)
		if off := clip(rest, b, a); off.Area() > leastCell {
			outside = append(outside, off)
		}
		if rest = clip(rest, a, b); !(rest.Area() > leastCell) {
			return nil, []geom.Ring{ring}
		}
	}
	return rest, outside
}
