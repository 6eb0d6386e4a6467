package gradeline

import (
	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// Kind is what a rule asks for.
type Kind string

// The rules.
const (
	Cover     Kind = "cover"      // the least cover
	FixedAt   Kind = "fixed"      // an invert that the drawing gives
	PassOver  Kind = "pass_over"  // over something in the way
	PassUnder Kind = "pass_under" // under something in the way
)

// Rule is what holds the line at a station: no higher than Level where Upper,
// else no lower.
type Rule struct {
	Kind    Kind
	ID      string // of a pass
	Station unit.Station
	Level   unit.Elevation // of the line
	Upper   bool
}

// Message is the rule in words.
func (r Rule) Message() phrase.Message {
	return phrase.New(phrase.Key("gradeline.rule_"+string(r.Kind)),
		phrase.With("station", r.Station), phrase.With("level", r.Level), phrase.With("id", r.ID))
}

// Clash is a smallest set of rules that cannot be kept together: without any
// one of them the others could.
type Clash struct {
	Rules     []Rule      // by station
	Short     unit.Length // how far the rules from above would have to give way
	LeastFall bool        // the least fall has a part in it
	MostFall  bool        // the most fall has
}

// messages are the rules in words.
func (c *Clash) messages() []phrase.Message {
	out := make([]phrase.Message, len(c.Rules))
	for i, r := range c.Rules {
		key := phrase.Key("gradeline.clash_next")
		if i == 0 {
			key = "gradeline.clash_first"
		}
		out[i] = phrase.New(key, phrase.With("rule", r.Message()))
	}
	return out
}
