package safety

import (
	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// Slope is the steepest side a dig may have without support.
type Slope struct {
	Dig      string
	Class    Class
	Ratio    float64      // horizontal over vertical of the whole side, ≥ 0
	Run      *unit.Length // horizontal, foot to top edge, each layer at its own slope; nil for an unknown depth
	Vertical unit.Length  // less than this may stand vertical where a competent person sees no sign of cave-in
	Engineer bool         // too deep or of no known depth, or ground no rule covers: an engineer designs it
	Rule     string
}

// slopeOf is the steepest slope of one dig.
func slopeOf(b Book, d SiteDig) Slope {
	class := Classify(d.Ground)
	depth, known := have(d.Depth)
	rule := slopeRule(b, class, d.Depth, d.OpenHours)
	out := Slope{
		Dig: d.ID, Class: class, Ratio: rule.Limit.Number, Rule: rule.ID,
		Vertical: b.rule("protection_depth").Limit.Length(),
		Engineer: d.Ground.Running == Yes || class.Soil != Rock && (!known || over(depth, b.rule("engineer_depth"))),
	}
	if known {
		run := faceRun(b, d)
		out.Run = &run
	}
	return out
}

// slopeRule is the rule of the steepest slope of a class. Soil that nobody
// classified stands at the default of 29 CFR 1926.652(b)(1).
func slopeRule(b Book, c Class, depth *unit.Length, hours *float64) Rule {
	switch {
	case !c.Told:
		return b.rule("slope_default")
	case c.Soil == Rock:
		return b.rule("slope_rock")
	case c.Soil == TypeA && shortTerm(b, depth, hours):
		return b.rule("slope_a_short")
	case c.Soil == TypeA:
		return b.rule("slope_a")
	case c.Soil == TypeB:
		return b.rule("slope_b")
	}
	return b.rule("slope_c")
}

// shortTerm says that a dig is known to be open so briefly and so shallow that
// type A may stand steeper.
func shortTerm(b Book, depth *unit.Length, hours *float64) bool {
	d, ok := have(depth)
	h, okHours := have(hours)
	return ok && okHours && !over(d, b.rule("short_depth")) && h <= b.rule("short_hours").Limit.Number
}

// faceRun is ratio × depth, layer by layer: a layer stands no steeper than any
// under it (29 CFR 1926 Subpart P App. A and B on layered soil).
func faceRun(b Book, d SiteDig) unit.Length {
	layers := d.Ground.Layers
	if len(layers) == 0 {
		layers = []Layer{{Soil: d.Ground.Soil}}
	}
	var heights, ratios []float64
	left := float64(*d.Depth)
	for i, l := range layers {
		h := min(left, float64(l.Thickness))
		if i == len(layers)-1 || !(h > 0) {
			h = left
		}
		rule := slopeRule(b, d.Ground.classify(l.Soil), d.Depth, d.OpenHours)
		heights, ratios = append(heights, h), append(ratios, rule.Limit.Number)
		if left -= h; !(left > 0) {
			break
		}
	}
	run, ratio := 0.0, 0.0
	for i := len(heights) - 1; i >= 0; i-- {
		ratio = max(ratio, ratios[i])
		run += float64(ratio * heights[i])
	}
	return unit.Length(run)
}

// steepest is the least ratio of a dig's sides over a depth, benches counted as
// run; 0 for sides not known.
func steepest(sides []Side, depth unit.Length) float64 {
	least := 0.0
	for i, s := range sides {
		r := s.ratio(depth)
		if i == 0 || !(r >= least) {
			least = r
		}
	}
	if !(least >= 0) {
		return 0
	}
	return least
}

// ratio is the run of a side over its depth.
func (s Side) ratio(depth unit.Length) float64 {
	r := s.Batter
	for _, b := range s.Benches {
		if depth > 0 && b.Height < depth {
			r += float64(b.Width) / float64(depth)
		}
	}
	return r
}

// slopeText is a ratio as people write it: "1.5:1".
func slopeText(ratio float64) phrase.Message {
	if ratio == 0 {
		return phrase.New("safety.vertical")
	}
	return phrase.New("safety.ratio", phrase.With("ratio", ratio))
}
