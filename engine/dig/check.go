package dig

import (
	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// check is the first fault of fields that can be judged without geometry.
func (x *Excavation) check() error {
	for _, judge := range [...]func(*Excavation) error{
		checkKind, checkBottom, checkLayers, checkTolerance, checkSides, checkField, checkOutlets,
	} {
		if err := judge(x); err != nil {
			return err
		}
	}
	return nil
}

// checkKind judges the kind and that no field belongs to another kind.
func checkKind(x *Excavation) error {
	switch {
	case x.ID == "":
		return fault("id", "dig.no_id")
	case !x.Kind.Run() && !x.Kind.Area():
		return fault("kind", "dig.kind", phrase.With("value", string(x.Kind)))
	case x.Kind.Run():
		return checkRunFields(x)
	}
	return checkAreaFields(x)
}

// checkRunFields judges what a run may have.
func checkRunFields(x *Excavation) error {
	switch {
	case len(x.Outline) > 0:
		return foreign(x, "outline")
	case x.Size != [2]unit.Length{}:
		return foreign(x, "size")
	case len(x.Thickened) > 0:
		return foreign(x, "edges")
	case x.Outlets != nil:
		return foreign(x, "outlets")
	case x.Kind == Field && len(x.Structures) > 0:
		return foreign(x, "structures")
	case len(x.Inverts) > 0 && x.Bottom.Rule != ByInvert:
		return conflict("inverts", "dig.inverts_unused", phrase.With("rule", string(x.Bottom.Rule)))
	case len(x.Sides.Each) != 0 && len(x.Sides.Each) != runSides:
		return sidesCount(x, runSides)
	}
	if err := known("fall", float64(x.Fall)); err != nil {
		return err
	}
	return positive(named{"width", x.Width})
}

// checkAreaFields judges what an area may have.
func checkAreaFields(x *Excavation) error {
	switch {
	case len(x.Line) > 0:
		return foreign(x, "line")
	case x.Fall != 0:
		return foreign(x, "fall")
	case len(x.Steps) > 0:
		return foreign(x, "steps")
	case len(x.Inverts) > 0:
		return foreign(x, "inverts")
	case len(x.Structures) > 0:
		return foreign(x, "structures")
	case x.Pipe != nil && x.Kind != Box:
		return foreign(x, "pipe")
	case x.Outlets != nil && x.Kind != Box:
		return foreign(x, "outlets")
	}
	return known("bearing", float64(x.Bearing))
}

// foreign is the fault of a field that the kind does not have.
func foreign(x *Excavation, field string) error {
	return fault(field, "dig.foreign", phrase.With("field", field), phrase.With("kind", string(x.Kind)))
}

// checkLayers judges the pipe and what lies under the bottom and beside it.
func checkLayers(x *Excavation) error {
	if x.Pipe != nil {
		if f := x.Pipe.Check(); f != nil {
			return inside("pipe", f)
		}
	}
	return notNegative(
		named{"bedding", x.Bedding}, named{"blinding", x.Blinding},
		named{"subbase", x.Subbase}, named{"sides_at", x.Working})
}

// checkTolerance judges the tolerance, if there is one.
func checkTolerance(x *Excavation) error {
	t := x.Tolerance
	if t == nil {
		return nil
	}
	if err := notNegative(
		named{"tolerance.above", t.Above}, named{"tolerance.below", t.Below},
		named{"tolerance.equal", t.Equal}); err != nil {
		return err
	}
	for _, g := range [...]struct {
		path  string
		value unit.Grade
	}{{"tolerance.fall", t.Fall}, {"tolerance.level_over", t.LevelOver}} {
		if !(g.value >= 0) || !finite(float64(g.value)) {
			return fault(g.path, "dig.not_negative", phrase.With("value", g.value))
		}
	}
	return nil
}

// checkSides judges batters and benches.
func checkSides(x *Excavation) error {
	if err := x.Sides.All.check("sides"); err != nil {
		return err
	}
	for i, s := range x.Sides.Each {
		if err := s.check(item("sides", i, "")); err != nil {
			return err
		}
	}
	return nil
}

// runSides are the sides of a run: right, far end, left, near end.
const runSides = 4

// sidesCount is the fault of slopes that do not go one to a side.
func sidesCount(x *Excavation, want int) error {
	return fault("sides", "dig.sides_count", phrase.With("count", len(x.Sides.Each)), phrase.With("want", want))
}

// maxBenches catches a slip: no side of ours has so many (common practice).
const maxBenches = 20

// check judges one slope.
func (s Slope) check(path string) error {
	if !(s.Batter >= 0) || !finite(s.Batter) {
		return fault(path, "dig.batter", phrase.With("value", s.Batter))
	}
	if n := len(s.Benches); n > maxBenches {
		return fault(path+".benches", "dig.benches", phrase.With("count", n), phrase.With("most", maxBenches))
	}
	for i, b := range s.Benches {
		at := item(path+".benches", i, "")
		if err := positive(named{at + ".height", b.Height}, named{at + ".width", b.Width}); err != nil {
			return err
		}
		if i > 0 && !(b.Height > s.Benches[i-1].Height) {
			return fault(at+".height", "dig.bench_order", phrase.With("value", b.Height))
		}
	}
	return nil
}

// checkField judges the trenches of a field.
func checkField(x *Excavation) error {
	if x.Kind != Field {
		if x.Count != 0 || x.Spacing != 0 {
			return foreign(x, "count")
		}
		return nil
	}
	if x.Count < 1 || x.Count > maxField {
		return fault("count", "dig.count", phrase.With("value", x.Count), phrase.With("most", maxField))
	}
	if x.Count == 1 {
		return nil
	}
	if err := positive(named{"spacing", x.Spacing}); err != nil {
		return err
	}
	if x.Hand != Left && x.Hand != Right {
		return fault("hand", "dig.hand", phrase.With("value", string(x.Hand)))
	}
	if dug := x.dugWidth(); x.Spacing < dug {
		return conflict("spacing", "dig.spacing", phrase.With("value", x.Spacing), phrase.With("width", dug))
	}
	return nil
}

// maxField catches a count in the wrong field: no absorption field has so many
// trenches (common practice).
const maxField = 1000

// dugWidth is the width of a run with its working space.
func (x *Excavation) dugWidth() unit.Length { return x.Width + 2*x.Working }

// checkOutlets judges the pipes of a distribution box.
func checkOutlets(x *Excavation) error {
	o := x.Outlets
	if o == nil {
		return nil
	}
	if o.Count < 1 || o.Count > maxField {
		return fault("outlets.count", "dig.count", phrase.With("value", o.Count), phrase.With("most", maxField))
	}
	if err := notNegative(named{"outlets.base", o.Base}, named{"outlets.inlet_above", o.LeastInletAbove}); err != nil {
		return err
	}
	if err := known("outlets.level", float64(o.Level)); err != nil {
		return err
	}
	if o.Inlet == nil {
		return nil
	}
	if err := known("outlets.inlet", float64(*o.Inlet)); err != nil {
		return err
	}
	// A micrometre, the grain of all elevations, is given away to rounding.
	if over := o.Inlet.Above(o.Level); over < o.LeastInletAbove-unit.Micrometre {
		return conflict("outlets.inlet", "dig.inlet_low", phrase.With("value", *o.Inlet),
			phrase.With("over", over), phrase.With("least", o.LeastInletAbove))
	}
	return nil
}
