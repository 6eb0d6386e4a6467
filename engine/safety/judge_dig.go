package safety

import (
	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// dig judges one excavation.
func (j *judge) dig(d Dig) {
	j.digMissing(d)
	j.protection(d)
	j.benches(d)
	j.support(d)
	j.wayOut(d)
	j.air(d)
	j.hole(d)
	j.bearing(d)
}

// at is the place and the first arguments of a dig's findings.
func (d Dig) at(rule string, more ...phrase.Arg) verdict {
	return verdict{
		rule: rule, where: phrase.Where{Excavation: d.ID},
		args: append(args{phrase.With("id", d.ID), length("depth", d.Depth)}, more...),
	}
}

// deep is at with the depth as what was measured.
func (d Dig) deep(rule string, more ...phrase.Arg) verdict {
	v := d.at(rule, more...)
	v.measured = measured(d.Depth)
	return v
}

// entered says that people go in, or that nobody said they do not.
func (d Dig) entered() bool { return d.People != No }

// shallow says that a dig is known to be under every depth the rules name.
func (j *judge) shallow(d Dig) bool {
	depth, ok := have(d.Depth)
	return ok && !reaches(depth, j.book.rule("way_out_depth")) && !reaches(depth, j.book.rule("protection_depth"))
}

// digMissing tells each thing about the soil and shape that is not known. In a
// shallow dig they are notes.
func (j *judge) digMissing(d Dig) {
	if _, ok := have(d.Depth); !ok {
		j.missing("depth", d.at("protection_depth"))
	}
	severity := phrase.Caution
	if j.shallow(d) {
		severity = phrase.Note
	}
	tell := func(kind string, missing bool, rule string) {
		if missing {
			v := d.at(rule)
			v.severity = severity
			j.missing(kind, v)
		}
	}
	for _, name := range Classify(d.Ground).Missing {
		tell(name, true, "weaker_soil")
	}
	_, width := have(d.Width)
	_, hours := have(d.OpenHours)
	tell("width", !width, "trench_width")
	tell("sides", len(d.Sides) == 0, "slope_default")
	tell("open_hours", !hours, "short_hours")
	tell("surcharge", d.Surcharge == Unknown, "surcharge")
	tell("people", d.People == Unknown, "protection_depth")
	tell("support", d.Support.Kind == NotTold, "protection_depth")
}

// protection judges depth and sides: from 5 ft protected, over 20 ft designed
// by an engineer, under 5 ft looked at (29 CFR 1926.652).
func (j *judge) protection(d Dig) {
	slope := slopeOf(j.book, SiteDig{ID: d.ID, Ground: d.Ground, Depth: d.Depth, OpenHours: d.OpenHours})
	rock := slope.Class.Soil == Rock
	if !d.entered() {
		j.out = append(j.out, phrase.Finding{
			Rule: "nobody_enters", Severity: phrase.Note, Where: phrase.Where{Excavation: d.ID},
			What: phrase.New("safety.nobody_enters", phrase.With("id", d.ID)), Remedy: phrase.New("safety.nobody_enters.remedy"),
			Decides: phrase.New("who.foreman"),
		})
		return
	}
	if d.Surcharge == Yes {
		j.breach(d.at("surcharge"))
	}
	if d.Engineer != "" || rock {
		return
	}
	if breaksWorst(d.Depth, j.book.rule("engineer_depth")) {
		j.breach(d.deep("engineer_depth"))
	}
	j.running(d)
	if breaksWorst(d.Depth, j.book.rule("protection_depth")) {
		j.sides(d, slope)
	}
}

// looked says that a dig may stand unprotected only after a competent person's
// look: people go in, and it is under the depth of protection.
func (j *judge) looked(d Dig) bool {
	return d.entered() && !breaksWorst(d.Depth, j.book.rule("protection_depth")) &&
		Classify(d.Ground).Soil != Rock && d.Engineer == ""
}

// running tells ground that runs, which no slope that was read covers.
func (j *judge) running(d Dig) {
	if d.Ground.Running != Yes {
		return
	}
	if j.book.rule("running_ground").On {
		j.breach(d.at("running_ground"))
		return
	}
	v := d.at("")
	f := v.finding(Rule{Severity: phrase.Stop, Decides: "engineer"}, "no_slope_known")
	f.Rule = "no_slope_known"
	j.out = append(j.out, f)
}

// sides judges the sides of a dig that needs protection and has no engineer's.
func (j *judge) sides(d Dig, slope Slope) {
	if d.Support.Kind == Shoring || d.Support.Kind == Shield {
		return
	}
	depth, _ := have(d.Depth)
	ratio := steepest(d.Sides, depth)
	switch {
	case ratio == 0:
		j.breach(d.deep("protection_depth", phrase.With("ratio", slopeText(slope.Ratio))))
	case !(ratio >= slope.Ratio-ratioSnap):
		v := d.at(slope.Rule, phrase.With("sides", slopeText(ratio)), phrase.With("ratio", slopeText(slope.Ratio)),
			phrase.With("soil", slope.Class.text()), length("run", slope.Run))
		v.key, v.measured, v.limit = "slope", ratio, slope.Ratio
		j.breach(v)
	}
}

// text is the class in words.
func (c Class) text() phrase.Message { return phrase.New(phrase.Key("safety.soil." + string(c.Soil))) }

// benches judges the heights of benches by the class of the soil.
func (j *judge) benches(d Dig) {
	held := d.Support.Kind == Shoring || d.Support.Kind == Shield
	soil := Classify(d.Ground).Soil
	if !d.entered() || d.Engineer != "" || held || soil == Rock {
		return
	}
	for side, s := range d.Sides {
		if len(s.Benches) > 0 {
			j.bench(d, side, soil)
		}
	}
}

// bench judges the benches of one side.
func (j *judge) bench(d Dig, side int, soil Soil) {
	number := phrase.With("side", side+1)
	if soil == TypeC {
		j.breach(d.at("bench_c", number))
		return
	}
	if soil == TypeB && d.Ground.Cohesive != Yes {
		j.breach(d.at("bench_b_cohesive", number))
	}
	for i, rise := range d.Sides[side].risers(d.Depth) {
		rule := "bench_b"
		switch {
		case soil == TypeA && i == 0:
			rule = "bench_a_first"
		case soil == TypeA:
			rule = "bench_a_other"
		}
		if breaks(rise, j.book.rule(rule)) {
			v := d.at(rule, number, phrase.With("rise", rise), phrase.With("limit", j.book.rule(rule).Limit.Length()))
			v.key, v.measured = "bench", rise
			j.breach(v)
		}
	}
}

// risers is the heights between the shelves of a side, from the bottom; the
// last reaches the top where the depth is known.
func (s Side) risers(depth *unit.Length) []unit.Length {
	var out []unit.Length
	foot := unit.Length(0)
	for _, b := range s.Benches {
		out = append(out, b.Height-foot)
		foot = b.Height
	}
	if top, ok := have(depth); ok && top > foot {
		out = append(out, top-foot)
	}
	return out
}

// support judges a shield or shoring: how high it stands over the vertical part
// and how far is dug under it.
func (j *judge) support(d Dig) {
	s := d.Support
	if s.Kind != Shoring && s.Kind != Shield || !d.entered() {
		return
	}
	vertical, knownVertical := have(s.Vertical)
	depth, knownDepth := have(d.Depth)
	whole := knownVertical && knownDepth && !(vertical < depth-snap)
	if top, ok := have(s.Top); !ok && !whole {
		j.missing("shield_top", d.at("shield_top"))
	} else if ok && !whole && breaks(top, j.book.rule("shield_top")) {
		v := d.at("shield_top", phrase.With("top", top))
		v.measured = top
		j.breach(v)
	}
	below, ok := have(s.Below)
	switch {
	case !ok:
		j.missing("below_support", d.at("below_support"))
	case below > snap && (breaks(below, j.book.rule("below_support")) || s.FullDepth != Yes || s.SoilLoss != No):
		v := d.at("below_support", phrase.With("below", below))
		v.measured = below
		j.breach(v)
	}
}

// trench says that a dig counts as a trench: deeper than wide and no wider than
// 15 ft at the bottom, the worst where either is not known.
func (j *judge) trench(d Dig) bool {
	width, okWidth := have(d.Width)
	depth, okDepth := have(d.Depth)
	forms, okForms := have(d.Forms)
	if r := j.book.rule("forms_width"); okForms && r.On && !breaks(forms, r) {
		return true
	}
	if !okWidth {
		return true
	}
	return !breaks(width, j.book.rule("trench_width")) && (!okDepth || depth > width)
}

// wayOut judges ladders, stairs and ramps.
func (j *judge) wayOut(d Dig) {
	if !d.entered() || !j.trench(d) || !breaksWorst(d.Depth, j.book.rule("way_out_depth")) {
		return
	}
	far, ok := have(d.WayOut)
	switch {
	case !ok:
		j.missing("way_out", d.at("way_out_travel"))
	case breaks(far, j.book.rule("way_out_travel")):
		v := d.at("way_out_travel", phrase.With("travel", far))
		v.measured = far
		j.breach(v)
	}
}

// air judges the test of the air.
func (j *judge) air(d Dig) {
	if !d.entered() || !breaksWorst(d.Depth, j.book.rule("air_depth")) || d.AirHazard == No {
		return
	}
	oxygen, ok := have(d.Oxygen)
	switch {
	case d.AirHazard == Unknown:
		v := d.at("air_depth")
		v.severity = phrase.Caution
		j.missing("air", v)
	case !ok:
		j.missing("oxygen", d.at("oxygen"))
	case !(oxygen >= j.book.rule("oxygen").Limit.Number):
		v := d.at("oxygen", phrase.With("oxygen", oxygen), phrase.With("least", j.book.rule("oxygen").Limit.Number))
		v.measured = oxygen
		j.breach(v)
	}
}

// hole judges water, loose rock and the edge.
func (j *judge) hole(d Dig) {
	if !d.entered() {
		return
	}
	if d.Ground.Water == Yes {
		j.duty("hole_water", d.Drained, d.at(""))
	}
	if d.LooseRock == Yes {
		j.breach(d.at("loose_rock"))
	}
	for _, s := range j.facts.Stands {
		if s.Dig == d.ID {
			v := d.at("")
			v.severity = phrase.Caution
			j.duty("edge_warning", d.EdgeMarked, v)
			return
		}
	}
}
