package safety

import (
	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// overhead judges one power line and everything tall that comes near it.
func (j *judge) overhead(o Overhead) {
	at := verdict{where: phrase.Where{Part: o.ID}, args: args{phrase.With("line", o.ID)}}
	clear := ClearanceOf(j.book, o.Kilovolts)
	at.rule, at.limit = clear.Rule, clear.Distance
	at.args = append(at.args, phrase.With("clear", clear.Distance))
	if clear.Assumed {
		j.missing("voltage", at.mild(phrase.Caution))
	}
	if clear.Beyond {
		v := at
		v.key = "line_beyond"
		j.breach(v)
	}
	if _, ok := have(o.Height); !ok {
		j.missing("line_height", at.mild(phrase.Caution))
	}
	seen := false
	for _, r := range j.facts.Reaches {
		if r.Line == o.ID {
			seen = true
			j.reach(o, r, at)
		}
	}
	if !seen {
		j.missing("reach", at.mild(phrase.Caution))
	}
}

// reach judges one tall thing near a line.
func (j *judge) reach(o Overhead, r Reach, at verdict) {
	at.where.Stand, at.where.Excavation = r.Stand, r.Dig
	gap := r.gap(o.Height)
	at.args = append(at.args[:len(at.args):len(at.args)], phrase.With("gap", gap), length("top", r.Top),
		phrase.With("what", r.text()))
	if r.Distance == nil || r.Top == nil || r.Radius == nil {
		j.missing("reach_size", at.mild(phrase.Caution))
	}
	if under(gap, at.limit.(unit.Length)) {
		v := at
		v.key, v.measured = "line", gap
		j.breach(v)
	}
	j.ask(o, r, at)
}

// ask judges the distance in plan within which the owner is asked, where the
// set has one. What the line hangs on, not known, is the farther.
func (j *judge) ask(o Overhead, r Reach, at verdict) {
	id := "ask_tower"
	if o.On == Pole {
		id = "ask_pole"
	}
	rule, ok := j.book.Rule(id)
	if ok && breaksWorst(r.Distance, rule) {
		at.rule, at.key, at.measured, at.limit = id, "ask_owner", measured(r.Distance), nil
		at.args = append(at.args[:len(at.args):len(at.args)], phrase.With("within", rule.Limit.Length()))
		j.breach(at)
	}
}

// text is a tall thing in words.
func (r Reach) text() phrase.Message {
	switch r.What {
	case LongRod, Mast, TruckBody:
		return phrase.New(phrase.Key("safety.tall." + r.What))
	}
	return phrase.New("safety.tall.machine")
}

// edges judges what lies or stands at the top edge.
func (j *judge) edges() {
	for _, h := range j.facts.Heaps {
		j.edge("spoil_setback", "heap_edge", h.Edge, h.Retained, verdict{
			where: phrase.Where{Excavation: h.Dig, Heap: h.ID},
			args:  args{phrase.With("id", h.Dig), phrase.With("heap", h.ID)},
		})
	}
	for _, s := range j.facts.Stands {
		j.edge("plant_setback", "stand_edge", s.Edge, s.Retained, verdict{
			where: phrase.Where{Excavation: s.Dig, Stand: s.ID},
			args:  args{phrase.With("id", s.Dig), phrase.With("stand", s.ID)},
		})
	}
}

// edge judges one distance from a top edge.
func (j *judge) edge(rule, kind string, edge *unit.Length, retained Answer, at verdict) {
	if retained == Yes {
		return
	}
	at.rule, at.measured = rule, measured(edge)
	at.args = append(at.args, length("edge", edge), phrase.With("least", j.book.rule(rule).Limit.Length()))
	if _, ok := have(edge); !ok {
		j.missing(kind, at)
	} else if breaksWorst(edge, j.book.rule(rule)) {
		j.breach(at)
	}
}

// crossing judges a walkway over a dig.
func (j *judge) crossing(c Crossing) {
	at := verdict{
		rule: "crossing_rails", where: phrase.Where{Excavation: c.Dig, Part: c.ID}, measured: measured(c.Height),
		args: args{phrase.With("id", c.Dig), phrase.With("crossing", c.ID), length("height", c.Height)},
	}
	if _, ok := have(c.Height); !ok {
		j.missing("crossing_height", at.mild(phrase.Caution))
	}
	if breaksWorst(c.Height, j.book.rule("crossing_rails")) {
		switch c.Rails {
		case Yes:
		case No:
			j.breach(at)
		default:
			j.missing("crossing_rails", at)
		}
	}
}

// laser judges the beam where people walk, its signs and who minds it.
func (j *judge) laser(l Laser) {
	at := verdict{where: phrase.Where{Setup: l.Setup}, args: args{phrase.With("setup", l.Setup)}}
	j.duty("laser_trained", l.Trained, at)
	j.duty("laser_signs", l.Signs, at)
	j.duty("laser_unattended", l.Attended, at)
	if l.Foul == Yes {
		v := at
		v.rule = "laser_weather"
		j.breach(v)
	}
	j.eyes(l, at)
}

// eyes judges a beam at the height of eyes.
func (j *judge) eyes(l Laser, at verdict) {
	if l.Walked == No {
		return
	}
	from, to := j.book.rule("eye_low"), j.book.rule("eye_high")
	at.rule = from.ID
	at.args = append(at.args, phrase.With("from", from.Limit.Length()), phrase.With("to", to.Limit.Length()))
	if l.Walked == Unknown {
		j.missing("walked", at)
	}
	low, okLow := have(l.Lowest)
	high, okHigh := have(l.Highest)
	if !okLow || !okHigh {
		j.missing("beam_height", at)
		return
	}
	if high > from.Limit.Length()+snap && low < to.Limit.Length()-snap {
		at.key, at.measured = "eye_height", low
		at.args = append(at.args, phrase.With("low", low), phrase.With("high", high))
		j.breach(at)
	}
}
