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
	c.done()
	return out
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
