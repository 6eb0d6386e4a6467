package safety

import (
	"math"

	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// bearing judges a bottom that concrete bears on: cover, frost, fall and what
// an over-dug one is filled with (IRC R403.1).
func (j *judge) bearing(d Dig) {
	if d.Bears == No {
		return
	}
	if d.Bears == Unknown {
		j.missing("bears", d.at("footing_bed").mild(phrase.Note))
		return
	}
	j.cover(d)
	j.bottomSlope(d)
	if d.OverDug > snap {
		v := d.at("footing_bed", phrase.With("over", d.OverDug))
		v.measured = d.OverDug
		j.overDug(d, v)
	}
}

// mild is v with a severity of its own.
func (v verdict) mild(s phrase.Severity) verdict {
	v.severity = s
	return v
}

// cover judges how deep a footing lies under undisturbed ground, and frost.
func (j *judge) cover(d Dig) {
	least, ok := have(d.Least)
	if !ok {
		j.missing("least_depth", d.at("footing_cover"))
		return
	}
	v := d.at("footing_cover", phrase.With("least", least))
	v.measured = least
	if breaks(least, j.book.rule("footing_cover")) {
		j.breach(v)
	}
	if d.Frosty == No {
		return
	}
	frost, ok := have(d.Frost)
	switch {
	case !ok:
		j.missing("frost", d.at("footing_frost").mild(phrase.Note))
	case under(least, frost):
		v = d.at("footing_frost", phrase.With("least", least), phrase.With("frost", frost))
		v.measured, v.limit = least, frost
		j.breach(v)
	}
}

// bottomSlope judges the fall of a footing's bottom.
func (j *judge) bottomSlope(d Dig) {
	slope, ok := have(d.Slope)
	if !ok {
		j.missing("bottom_slope", d.at("footing_slope").mild(phrase.Note))
		return
	}
	if steep := math.Abs(float64(slope)); !(steep <= j.book.rule("footing_slope").Limit.Number+ratioSnap) {
		v := d.at("footing_slope", phrase.With("slope", unit.Grade(steep)))
		v.measured = unit.Grade(steep)
		j.breach(v)
	}
}

// overDug judges what became of an over-dug bottom.
func (j *judge) overDug(d Dig, v verdict) {
	switch d.LooseFill {
	case Yes:
		v.key = "footing_loose"
		j.breach(v)
	case Unknown:
		j.missing("loose_fill", v)
	default:
		j.breach(v.mild(phrase.Caution))
	}
}

// footing judges a footing near a dig by the line that falls from its lower
// edge: 45° for a trench along it (UPC 314.1), 30° for a footing beside it on
// granular soil (IBC 1809.6), and 29 CFR 1926.651(i) below its base.
func (j *judge) footing(x Footing) {
	d := j.find(x.Dig)
	drop := j.drop(x, d)
	if !(drop > snap) {
		return
	}
	at := x.at("", told(lengthOf(drop)))
	distance, ok := have(x.Distance)
	if !ok {
		at.rule = "footing_below"
		j.missing("footing_distance", at)
	}
	j.influence(x, drop, distance)
	wide := unit.Length(float64(drop) * j.book.rule("influence_footing").Limit.RunPerDrop())
	rock := Classify(d.Ground).Soil == Rock
	if under(distance, wide) && !x.Own && x.Supported != Yes && x.Engineer == "" && !rock {
		at.rule, at.measured, at.limit = "footing_below", measured(x.Distance), wide
		j.breach(at)
	}
}

// at is the place and arguments of a footing's findings.
func (x Footing) at(rule string, drop any, more ...phrase.Arg) verdict {
	return verdict{
		rule: rule, where: phrase.Where{Excavation: x.Dig, Part: x.ID},
		args: append(args{phrase.With("id", x.Dig), phrase.With("footing", x.ID), phrase.With("drop", drop),
			length("distance", x.Distance)}, more...),
	}
}

// influence judges the distance by the falling line. A registered engineer's
// word goes before it.
func (j *judge) influence(x Footing, drop, distance unit.Length) {
	rule := j.book.rule("influence_trench")
	if x.Adjoining {
		rule = j.book.rule("influence_footing")
		if x.Granular == Unknown {
			j.missing("granular", x.at(rule.ID, drop).mild(phrase.Caution))
		}
	}
	if x.Engineer != "" || x.Adjoining && x.Granular == No {
		return
	}
	limit := unit.Length(float64(drop) * rule.Limit.RunPerDrop())
	if under(distance, limit) {
		v := x.at(rule.ID, drop, phrase.With("limit", limit))
		v.measured, v.limit = measured(x.Distance), limit
		if x.Own { // nothing stands on it yet: a matter of design
			v = v.mild(phrase.Caution)
		}
		j.breach(v)
	}
}

// drop is how far a dig goes below a footing's underside. An underside not
// known is taken at the ground, so the drop is the dig's depth; without that it
// is the depth that an engineer designs.
func (j *judge) drop(x Footing, d Dig) unit.Length {
	if drop, ok := have(x.Drop); ok {
		return drop
	}
	bearing, ok := have(x.Bearing)
	bottom, okBottom := have(d.Bottom)
	if ok && okBottom {
		return bearing.Above(bottom)
	}
	if !ok {
		j.missing("footing_bearing", x.at("footing_below", phrase.New("safety.unknown")))
	}
	if depth, ok := have(d.Depth); ok {
		return depth
	}
	return j.book.rule("engineer_depth").Limit.Length()
}

// find is a dig of the facts, one of nothing known where there is none.
func (j *judge) find(id string) Dig {
	for _, d := range j.facts.Digs {
		if d.ID == id {
			return d
		}
	}
	return Dig{ID: id}
}

func lengthOf(l unit.Length) *unit.Length { return &l }
