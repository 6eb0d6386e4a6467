package dig

import (
	"math"

	"spadework/engine/geom"
	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// area is a footing, pad, pit or box while it is resolved.
type area struct {
	x      *Excavation
	neat   geom.Ring // counter-clockwise
	turned bool      // the outline was given clockwise
}

// resolveArea adds the parts of an area.
func (d *Dig) resolveArea(x *Excavation, site Site) error {
	a := area{x: x}
	if err := d.setOutline(&a); err != nil {
		return err
	}
	if n := len(x.Sides.Each); n != 0 && n != len(a.neat) {
		return sidesCount(x, len(a.neat))
	}
	trace, err := a.trace(site)
	if err != nil {
		return err
	}
	if len(x.Thickened) > 0 {
		return d.addEdges(&a, trace)
	}
	dug, err := a.offset(nil)
	if err != nil {
		return err
	}
	x.addLayers(&trace)
	d.Parts = append(d.Parts, levelPart("1", a.neat, dug, trace))
	d.noteBox(x)
	return nil
}

// levelPart is a part with a level bottom at the sum of its trace.
func levelPart(id string, neat, dug geom.Ring, t Trace) Part {
	return Part{
		ID: id, Outline: dug, Neat: neat, Trace: t,
		Bottom: geom.Plane{Origin: neat[0], Z0: float64(t.Sum)},
	}
}

// setOutline makes the concrete outline, counter-clockwise.
func (d *Dig) setOutline(a *area) error {
	x := a.x
	if len(x.Outline) == 0 {
		return a.setRectangle()
	}
	if x.Size != [2]unit.Length{} {
		return conflict("outline", "dig.outline_and_size")
	}
	ring := x.Outline
	if n := len(ring); n > 1 && ring[0] == ring[n-1] {
		ring = ring[:n-1]
		d.Notes = append(d.Notes, phrase.New("dig.note.closed"))
	}
	if err := checkOutline(ring); err != nil {
		return err
	}
	a.neat = ring
	if ring.Area() < 0 {
		a.neat, a.turned, d.Turned = ring.Reversed(), true, true
		d.Notes = append(d.Notes, phrase.New("dig.note.turned"))
	}
	return nil
}

// setRectangle makes the outline from centre, size and bearing.
func (a *area) setRectangle() error {
	x := a.x
	if err := positive(named{"size", x.Size[0]}, named{"size", x.Size[1]}); err != nil {
		return err
	}
	if !finite(x.At.X) || !finite(x.At.Y) {
		return fault("at", "dig.not_finite", phrase.With("value", x.At.X+x.At.Y))
	}
	sin, cos := math.Sincos(float64(x.Bearing))
	a.neat = geom.Rectangle(x.At, geom.Vector{X: sin, Y: cos}, float64(x.Size[1]), float64(x.Size[0]))
	return nil
}

// checkOutline judges a ring as drawn.
func checkOutline(ring geom.Ring) error {
	if len(ring) < 3 {
		return fault("outline", "dig.outline_corners", phrase.With("count", len(ring)))
	}
	for i, p := range ring {
		if !finite(p.X) || !finite(p.Y) {
			return fault(item("outline", i, ""), "dig.not_finite", phrase.With("value", p.X+p.Y))
		}
		if from, to := ring.Side(i); from.Distance(to) <= snap {
			return fault(item("outline", i, ""), "dig.corner_twice",
				phrase.With("corner", i+1), phrase.With("next", (i+1)%len(ring)+1))
		}
	}
	if i, j, crosses := ring.SelfIntersects(); crosses {
		return fault(item("outline", i, ""), "dig.outline_crosses",
			phrase.With("side", i+1), phrase.With("other", j+1))
	}
	if ring.Area() == 0 {
		return fault("outline", "dig.outline_flat")
	}
	return nil
}

// trace is that of the bottom before its layers.
func (a *area) trace(site Site) (Trace, error) {
	x := a.x
	switch x.Bottom.Rule {
	case ByInvert:
		t := startTrace(x.Words, phrase.New("dig.term.outlets"), x.Outlets.Level)
		t.add(phrase.New("dig.term.base"), -x.Outlets.Base)
		return t, nil
	case BelowGround:
		g, err := site.ground(x.Bottom.From)
		if err != nil {
			return Trace{}, err
		}
		z, err := lowest(g, x.Bottom.From, a.neat)
		if err != nil {
			return Trace{}, err
		}
		return x.groundTrace(lowestLabel(x.Bottom.From), z), nil
	}
	return x.fixedTrace(), nil
}

// offset is the concrete outline with each side moved outward by the working
// space, or inward by inward[side] where that is more than 0.
func (a *area) offset(inward []float64) (geom.Ring, error) {
	if a.x.Working == 0 && inward == nil {
		return a.neat, nil
	}
	d := make([]float64, len(a.neat))
	for i := range d {
		d[i] = float64(a.x.Working)
		if inward != nil && inward[i] > 0 {
			d[i] = -inward[i]
		}
	}
	return moved(a.neat, d)
}

// moved is a ring with its sides moved, with a fault at our field.
func moved(ring geom.Ring, d []float64) (geom.Ring, error) {
	out, err := geom.OffsetOutward(ring, d)
	if err != nil {
		f, ok := err.(*phrase.Fault)
		if !ok {
			return nil, err
		}
		return nil, inside("sides_at", f)
	}
	return out, nil
}

// noteBox tells what is not known of a distribution box.
func (d *Dig) noteBox(x *Excavation) {
	if x.Outlets != nil && x.Outlets.Inlet == nil {
		d.Notes = append(d.Notes, phrase.New("dig.note.no_inlet"))
	}
}
