package dig

import (
	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// height is how the existing ground along the outlines lies to the bottoms.
type height struct {
	highest, lowest unit.Length // of the ground over the bottom
	bottom          unit.Elevation
	ground          unit.Elevation
	any, unknown    bool
}

// checkUnderGround is a fault if there is nothing to dig, and notes where only
// some of the bottom lies under the existing ground.
func (d *Dig) checkUnderGround(site Site) error {
	if site.Existing == nil {
		d.Notes = append(d.Notes, phrase.New("dig.note.no_existing"))
		return nil
	}
	var h height
	for i := range d.Parts {
		h.look(site.Existing, &d.Parts[i])
	}
	if h.unknown {
		d.Notes = append(d.Notes, phrase.New("dig.note.outside"))
	}
	switch {
	case !h.any || h.lowest > 0:
	case h.highest <= 0 && !h.unknown:
		return conflict(d.bottomPath(), "dig.nothing_to_dig",
			phrase.With("bottom", h.bottom), phrase.With("ground", h.ground), phrase.With("over", -h.highest))
	default:
		d.Notes = append(d.Notes, phrase.New("dig.note.above_ground", phrase.With("over", -h.lowest)))
	}
	return nil
}

// look takes in the ground along one part. Ground and bottom are straight
// between the points of a profile, so these tell all.
func (h *height) look(g Ground, p *Part) {
	if low := g.LowestOn(p.Neat); p.level() && low.OK && unit.Elevation(low.Z) > p.Trace.Sum {
		h.take(unit.Elevation(low.Z), p.Trace.Sum)
		return
	}
	for _, at := range g.Profile(closed(p.Neat)) {
		if !at.Known || !finite(at.Z) {
			h.unknown = true
			continue
		}
		h.take(unit.Elevation(at.Z), p.BottomAt(at.At))
	}
}

// take counts one place.
func (h *height) take(ground, bottom unit.Elevation) {
	cut := ground.Above(bottom)
	if !h.any || cut > h.highest {
		h.highest, h.bottom, h.ground = cut, bottom, ground
	}
	if !h.any || cut < h.lowest {
		h.lowest = cut
	}
	h.any = true
}

// level says that the part's bottom is level.
func (p *Part) level() bool { return p.Grade == 0 }

// bottomPath is the field that decides the bottom.
func (d *Dig) bottomPath() string {
	switch b := d.Excavation.Bottom; b.Rule {
	case BelowDatum, BelowGround:
		return "bottom.below"
	case ByInvert:
		if d.Excavation.Kind == Box {
			return "outlets.level"
		}
		return "inverts"
	default:
		return "bottom." + string(b.Rule)
	}
}
