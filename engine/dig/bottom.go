package dig

import (
	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// Rule is how the drawing gives a bottom.
type Rule string

// The rules, with the fields of Bottom that each reads.
const (
	ByElevation Rule = "elevation"    // Elevation
	BelowDatum  Rule = "below"        // Depth, Datum
	BelowGround Rule = "below_ground" // Depth, From
	BelowTop    Rule = "top"          // Elevation, or Datum and Offset; Thickness
	ByCover     Rule = "cover"        // Cover, From
	ByInvert    Rule = "invert"       // Excavation.Inverts, or Outlets of a Box
)

// Reference says which ground a depth or cover is measured from.
type Reference string

// The grounds.
const (
	Existing Reference = "existing"
	Finished Reference = "finished"
)

// Datum is a named level of the drawing.
type Datum struct {
	ID        string
	Elevation unit.Elevation
}

// Bottom is how the drawing gives the bottom of concrete, of bedding stone or
// of the pipe. Bedding, blinding and sub-base of the excavation lie under it.
type Bottom struct {
	Rule      Rule
	Elevation unit.Elevation // of the bottom, or of the top
	Datum     Datum
	Offset    unit.Length // of the top over Datum, + up
	Depth     unit.Length // ≥ 0 under a datum, > 0 under ground
	Thickness unit.Length // > 0
	From      Reference
	Cover     unit.Length // least over the top of the pipe, > 0; with ByInvert checked if > 0
}

// checkBottom judges the fields that the rule reads.
func checkBottom(x *Excavation) error {
	b := &x.Bottom
	switch b.Rule {
	case ByElevation:
		return known("bottom.elevation", float64(b.Elevation))
	case BelowDatum:
		return b.checkBelow()
	case BelowGround:
		if err := b.checkReference(); err != nil {
			return err
		}
		return positive(named{"bottom.below", b.Depth})
	case BelowTop:
		return b.checkTop()
	case ByCover:
		return checkCover(x)
	case ByInvert:
		return checkInvertRule(x)
	}
	return fault("bottom", "dig.no_bottom", phrase.With("value", string(b.Rule)))
}

// checkBelow judges a depth under a datum.
func (b *Bottom) checkBelow() error {
	if err := b.checkDatum(); err != nil {
		return err
	}
	return notNegative(named{"bottom.below", b.Depth})
}

// checkTop judges a top less a thickness.
func (b *Bottom) checkTop() error {
	if err := known("bottom.top", float64(b.Elevation)); err != nil {
		return err
	}
	if err := known("bottom.top", float64(b.Offset)); err != nil {
		return err
	}
	if b.Datum.ID != "" {
		if err := b.checkDatum(); err != nil {
			return err
		}
	}
	return positive(named{"bottom.thickness", b.Thickness})
}

// checkDatum judges that the datum is there.
func (b *Bottom) checkDatum() error {
	if b.Datum.ID == "" {
		return fault("bottom.datum", "dig.no_datum")
	}
	return known("bottom.datum", float64(b.Datum.Elevation))
}

// checkReference judges which ground is meant.
func (b *Bottom) checkReference() error {
	if b.From != Existing && b.From != Finished {
		return fault("bottom.from", "dig.reference", phrase.With("value", string(b.From)))
	}
	return nil
}

// checkCover judges a least cover, which only runs have.
func checkCover(x *Excavation) error {
	if !x.Kind.Run() {
		return foreign(x, "bottom.cover")
	}
	if err := x.Bottom.checkReference(); err != nil {
		return err
	}
	return positive(named{"bottom.cover", x.Bottom.Cover})
}

// checkInvertRule judges that there are inverts to go by.
func checkInvertRule(x *Excavation) error {
	switch {
	case x.Kind == Box && x.Outlets == nil:
		return fault("outlets", "dig.no_outlets")
	case x.Kind == Box:
		return nil
	case !x.Kind.Run():
		return foreign(x, "bottom.invert")
	case len(x.Steps) > 0:
		return conflict("steps", "dig.steps_and_inverts")
	case !x.hasInverts():
		return fault("inverts", "dig.no_inverts")
	case x.Bottom.Cover != 0:
		return checkCover(x)
	}
	return nil
}

// hasInverts says that the run or one of its structures gives an invert.
func (x *Excavation) hasInverts() bool {
	for _, s := range x.Structures {
		if s.InvertIn != nil || s.InvertOut != nil {
			return true
		}
	}
	return len(x.Inverts) > 0
}
