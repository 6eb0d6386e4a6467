package job

import (
	"spadework/engine/unit"
)

// Answer is yes, no or, left out, not known.
type Answer string

// The answers.
const (
	Unknown Answer = ""
	Yes     Answer = "yes"
	No      Answer = "no"
)

// Conditions is what somebody saw at a dig, for the safety rules. What is not
// told is taken at its worst.
type Conditions struct {
	Fissured, Vibration, Disturbed, Water, Running, Cohesive Answer
	People, Surcharge, AirHazard, Drained, LooseRock         Answer
	Support                                                  string // none, shoring, shield; "" not told
	OpenHours                                                float64
	WayOut                                                   unit.Length // farthest travel to one, 0 not told
	Engineer                                                 string

	Soil                                             string  // of digs that do not tell their own, "" not known
	Strength                                         float64 // unconfined, in tons per square foot; 0 not told
	Layers                                           []Layer // from the top; empty: one soil
	Vertical, ShieldTop, BelowSupport, Forms         *unit.Length
	FullDepth, SoilLoss, EdgeMarked, LooseFill, Hand Answer
	Oxygen                                           *float64 // per cent, as tested
	OverDug                                          unit.Length
}

// Layer is one soil of several.
type Layer struct {
	Soil      string
	Thickness unit.Length // the last goes on to any depth
}

// soils are the classes of soil, strongest first, as the rules name them; read in
// either case.
var (
	soilWords = []string{"rock", "a", "b", "c"}
	soils     = []string{"rock", "A", "B", "C"}
)

// soil reads a class of soil, "" if absent: not known.
func (t *table) soil(key string) string {
	if i := t.choice(key, soilWords, -1); i >= 0 {
		return soils[i]
	}
	return ""
}

// supports are the words for how a dig is held.
var supports = []string{"none", "shoring", "shield"}

// conditions reads [conditions] of the job or of a dig, whose answers go first.
func (d *decoder) conditions(t *table, otherwise Conditions) Conditions {
	c, given := t.inner("conditions")
	if !given {
		return otherwise
	}
	out := otherwise
	for _, a := range []struct {
		key string
		to  *Answer
	}{
		{"fissured", &out.Fissured}, {"vibration", &out.Vibration}, {"disturbed", &out.Disturbed}, {"water", &out.Water},
		{"running", &out.Running}, {"cohesive", &out.Cohesive}, {"people", &out.People}, {"surcharge", &out.Surcharge},
		{"air_hazard", &out.AirHazard}, {"drained", &out.Drained}, {"loose_rock", &out.LooseRock},
		{"full_depth", &out.FullDepth}, {"soil_loss", &out.SoilLoss}, {"edge_marked", &out.EdgeMarked},
		{"loose_fill", &out.LooseFill}, {"hand_dug", &out.Hand},
	} {
		*a.to = c.answer(a.key, *a.to)
	}
	if i := c.choice("support", supports, -1); i >= 0 {
		out.Support = supports[i]
	}
	out.OpenHours = c.number("open_hours", out.OpenHours)
	if c.has("way_out") {
		out.WayOut = c.positive("way_out")
	}
	c.take("way_out")
	if e := c.text("engineer"); e != "" {
		out.Engineer = e
	}
	if soil := c.soil("soil"); soil != "" {
		out.Soil = soil
	}
	c.measures(&out)
	c.done()
	return out
}

// measures reads what somebody measured at a dig.
func (t *table) measures(out *Conditions) {
	for _, m := range []struct {
		key string
		to  **unit.Length
	}{{"vertical", &out.Vertical}, {"shield_top", &out.ShieldTop}, {"below_support", &out.BelowSupport}, {"forms", &out.Forms}} {
		if v := t.optionalLength(m.key); v != nil {
			*m.to = v
		}
	}
	if t.has("oxygen") {
		v := t.number("oxygen", 0)
		out.Oxygen = &v
	}
	t.take("oxygen")
	out.Strength = t.number("strength_tsf", out.Strength)
	if t.has("over_dug") {
		out.OverDug = t.notNegative("over_dug")
	}
	t.take("over_dug")
	for i, l := range t.list("layers") {
		if i == 0 {
			out.Layers = nil
		}
		l.need("soil")
		out.Layers = append(out.Layers, Layer{Soil: l.soil("soil"), Thickness: l.notNegative("thickness")})
		l.done()
	}
}

// answer reads true or false.
func (t *table) answer(key string, otherwise Answer) Answer {
	if !t.has(key) {
		t.take(key)
		return otherwise
	}
	if t.flag(key, false) {
		return Yes
	}
	return No
}
