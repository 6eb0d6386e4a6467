package dig

import (
	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// Trace is the arithmetic of a bottom: Origin plus the terms, added in order,
// is Sum, bit for bit.
type Trace struct {
	Words  string // as on the drawing
	Origin Origin
	Terms  []Term
	Sum    unit.Elevation
}

// Origin is the elevation a trace starts from.
type Origin struct {
	Label     phrase.Message
	Elevation unit.Elevation
}

// Term is one signed step of a trace, + up.
type Term struct {
	Label phrase.Message
	Value unit.Length
}

// Message is the trace on one line, without its words:
// 104.500 FFL − 0.406 below − 0.100 blinding = 103.994.
func (t Trace) Message() phrase.Message {
	if len(t.Terms) == 0 {
		return phrase.New("dig.trace.bare",
			phrase.With("origin", t.Origin.Elevation), phrase.With("label", t.Origin.Label))
	}
	terms := make([]phrase.Message, len(t.Terms))
	for i, term := range t.Terms {
		terms[i] = term.message()
	}
	return phrase.New("dig.trace",
		phrase.With("origin", t.Origin.Elevation), phrase.With("label", t.Origin.Label),
		phrase.With("terms", terms), phrase.With("sum", t.Sum))
}

// message is the term with its sign in front.
func (t Term) message() phrase.Message {
	key, v := phrase.Key("dig.trace.plus"), t.Value
	if v < 0 {
		key, v = "dig.trace.minus", -v
	}
	return phrase.New(key, phrase.With("value", v), phrase.With("label", t.Label))
}
