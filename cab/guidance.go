package cab

import (
	"spadework/engine/beam"
	"spadework/engine/guard"
	"spadework/engine/phrase"
	"spadework/engine/plan"
	"spadework/engine/record"
)

// TieAsk is the tie without which a machine with sensors of its own has no
// number: what is said when it was made.
type TieAsk struct {
	Words map[string]string `json:"words"` // of a record of kind tie
	Text  string            `json:"text"`
}

// why is why a row has no number now, zero where it has one.
func (c *Cab) why(tag string, n plan.Number) phrase.Message {
	switch n.From {
	case plan.FromBeam:
		return c.whyBeam(tag, n)
	case plan.FromTouch:
		return c.whyTie(n, record.ID{})
	}
	return phrase.Message{}
}

// whyBeam asks the log, the watch and, for sensors, the tie.
func (c *Cab) whyBeam(tag string, n plan.Number) phrase.Message {
	t, ok := c.tag(tag)
	if !ok {
		return phrase.New("cab.not_set_up", phrase.With("tag", tag))
	}
	if why := c.state.MayDig(record.At{Setup: t.Setup, Today: c.opening.Today}); !why.IsZero() {
		return why
	}
	for _, b := range c.beams {
		if b.Tag.Setup == t.Setup && b.Judged && !b.Numbers {
			return b.Head()
		}
	}
	if n.Guidance == beam.SensorsBeam {
		return c.whyTie(n, t.Setup)
	}
	return phrase.Message{}
}

// whyTie is why the machine's own depth means nothing at a row: it has no tie to
// this set-up or point, or the last one is void.
func (c *Cab) whyTie(n plan.Number, setup record.ID) phrase.Message {
	tie, made, ok := c.tie(c.machineOf(n))
	if !ok || made.Setup != setup || made.Point != n.Reference {
		return c.tieText(n)
	}
	return c.state.MayDig(record.At{Tie: tie.Tie, Today: c.opening.Today})
}

// tieText is the tie that a row asks for, in words.
func (c *Cab) tieText(n plan.Number) phrase.Message {
	if n.From == plan.FromTouch {
		return phrase.New("cab.touch_first", phrase.With("point", n.Reference))
	}
	return phrase.New("cab.catch_first", phrase.With("tag", n.Setup))
}

// tie is the newest tie of a machine.
func (c *Cab) tie(machine string) (record.TieState, *record.Tie, bool) {
	for i := len(c.state.Ties) - 1; i >= 0; i-- {
		t := c.state.Ties[i]
		if t.Machine != machine {
			continue
		}
		for _, l := range c.state.Log {
			if made, ok := l.Payload.(*record.Tie); ok && l.ID == t.Tie {
				return t, made, true
			}
		}
	}
	return record.TieState{}, nil, false
}

// machineOf is the machine that a row is dug by.
func (c *Cab) machineOf(n plan.Number) string {
	if s, ok := c.plan.Setup(n.Setup); ok && s.Machine != nil {
		return s.Machine.ID
	}
	if m := c.plan.Job.Machines; len(m) > 0 {
		return m[0].ID
	}
	return ""
}

// sensed says that a row is dug by a machine's own depth.
func sensed(n plan.Number) bool {
	return n.Guidance == beam.SensorsBeam && n.From == plan.FromBeam || n.From == plan.FromTouch
}

// tieAsk is the tie to be made for a row, nil where it is not dug by sensors.
func (c *Cab) tieAsk(n plan.Number) *TieAsk {
	if !sensed(n) {
		return nil
	}
	words := map[string]string{"machine": c.machineOf(n)}
	if n.From == plan.FromTouch {
		words["point"] = n.Reference
	} else {
		words["tag"] = n.Setup
	}
	return &TieAsk{words, c.view.Say(c.tieText(n))}
}

// onTie lets a shot rest on the tie that its number rests on.
func (c *Cab) onTie(kind record.Kind, words map[string]string) {
	if kind != record.KindShot {
		return
	}
	for _, n := range c.rows(words["dig"], words["tag"]) {
		if tie, _, ok := c.tie(c.machineOf(n)); ok && sensed(n) && c.why(words["tag"], n).IsZero() {
			words["tie"] = tie.Tie.String()
			delete(words, "tag")
			return
		}
	}
}

// watched is the watch over the beams of the log.
func (c *Cab) watched() *phrase.Fault {
	beams, f := guard.Beams(c.plan, c.state, c.opening.Today)
	if f == nil {
		c.beams = beams
	}
	return f
}
