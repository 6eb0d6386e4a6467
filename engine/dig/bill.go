package dig

import (
	"math"

	"spadework/engine/unit"
)

// Bill is what goes into a hole. A nil figure is not known.
type Bill struct {
	Concrete *unit.Volume // over the neat outline
	Blinding unit.Volume  // these three fill the dug outline, sides included
	Subbase  unit.Volume
	Bedding  unit.Volume
	Pipe     unit.Volume  // ground that the pipe displaces
	Built    *unit.Volume // all that stays in the ground: the above, or the core of a pit up to the ground
	Backfill *unit.Volume // compacted, what is dug less what is built; ≥ 0
}

// Dug is what is dug of a dig and how much of it the core fills.
type Dug struct {
	Bank, Core unit.Volume
	Known      bool
}

// Bill is the bill of a dig with a cut surface.
func (d Dig) Bill(c CutSurface, dug Dug) Bill {
	x := &d.Excavation
	var b Bill
	b.Bedding, b.Blinding, b.Subbase = d.layers(c)
	if x.Pipe != nil {
		for i := range d.Parts {
			if p := &d.Parts[i]; p.Run() {
				g := float64(p.Grade)
				l := float64(p.To-p.From) * math.Sqrt(1+float64(g*g))
				b.Pipe += unit.Volume(displaced(float64(x.Pipe.Outside), l))
			}
		}
	}
	b.Concrete = d.concrete()
	b.Built = d.built(&b, dug)
	if b.Built != nil && dug.Known {
		fill := max(0, dug.Bank-*b.Built)
		b.Backfill = &fill
	}
	return b
}

// layers are the volumes of bedding, blinding and sub-base, the sub-base
// lowest. Each fills the cut from side to side, part by part.
func (d Dig) layers(c CutSurface) (bedding, blinding, subbase unit.Volume) {
	x := &d.Excavation
	low := 0.0
	layer := func(t unit.Length) unit.Volume {
		if t == 0 {
			return 0
		}
		v := c.layer(low, low+float64(t))
		low += float64(t)
		return unit.Volume(v)
	}
	subbase, bedding, blinding = layer(x.Subbase), layer(x.Bedding), layer(x.Blinding)
	return bedding, blinding, subbase
}

// layer is the volume between two heights over the bottoms of the pieces.
func (c CutSurface) layer(from, to float64) float64 {
	sum := 0.0
	for i := range c.pieces {
		p := &c.pieces[i]
		area := func(h float64) float64 { return p.areaAt(h) }
		sum += Prismoidal(to-from, area(from), area((from+to)/2), area(to))
	}
	return sum
}

// areaAt is the plan area of the piece at a height over its bottom: the ring with
// each side moved out, walls where they are.
func (p *piece) areaAt(h float64) float64 {
	here := p.moved(func(f *face) float64 {
		if f.wall() {
			return 0
		}
		return f.rise.width(h)
	})
	if here.empty() {
		return 0
	}
	return here.area()
}

// concrete is the neat outline times the thickness, deeper under the edges of a
// slab; nil where no thickness is known.
func (d Dig) concrete() *unit.Volume {
	x := &d.Excavation
	t := d.Thickness()
	if t == 0 || len(d.Parts) == 0 || x.Kind == Trench || x.Kind == Field {
		return nil
	}
	var sum unit.Volume
	top := d.Parts[0].Trace.Sum.Plus(t)
	for i := range d.Parts {
		p := &d.Parts[i]
		thick := t
		if !p.Run() {
			thick = top.Above(p.Trace.Sum)
		}
		sum += unit.Volume(p.Neat.Area() * float64(thick))
	}
	return &sum
}

// Thickness is that of the concrete, 0 not known.
func (d Dig) Thickness() unit.Length {
	x := &d.Excavation
	if x.Bottom.Rule == BelowTop {
		return x.Bottom.Thickness
	}
	return x.Concrete
}

// built is all that stays in the ground; nil where not known.
func (d Dig) built(b *Bill, dug Dug) *unit.Volume {
	sum := b.Bedding + b.Blinding + b.Subbase + b.Pipe
	switch x := &d.Excavation; {
	case x.Kind == Pit || x.Kind == Box:
		if !dug.Known {
			return nil
		}
		sum = dug.Core
	case x.Kind == Field && x.Bedding == 0 && x.Pipe == nil: // the drawing tells nothing of its stone
		return nil
	case x.Kind == Trench || x.Kind == Field:
		sum += dug.Core
	case b.Concrete == nil:
		return nil
	default:
		sum += *b.Concrete
	}
	return &sum
}

// Core is what a pit, a box or the structures of a run fill up to the ground:
// their neat outlines with vertical sides. Other digs have none.
func (d Dig) Core() (CutSurface, bool) {
	core := Dig{Excavation: Excavation{Kind: Pit}}
	whole := d.Excavation.Kind == Pit || d.Excavation.Kind == Box
	for _, p := range d.Parts {
		if whole || d.Excavation.Kind.Run() && !p.Run() {
			p.Outline, p.outer = p.Neat, nil
			core.Parts = append(core.Parts, p)
		}
	}
	return core.CutSurface(), len(core.Parts) > 0
}
