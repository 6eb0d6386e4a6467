package phrase

import (
	"errors"

	"spadework/engine/unit"
)

// FromParse is what is wrong with a text and what to write instead.
func FromParse(e *unit.ParseError) (what, remedy Message) {
	what = New(parseKey(e),
		With("text", e.Text),
		With("quantity", New(Key("unit.quantity."+e.Quantity))),
		With("part", e.Part),
		With("limit", e.Limit),
		With("readings", e.Readings))
	key := Key("unit.remedy." + string(e.Kind))
	if e.Kind == unit.TooLarge && e.Quantity == "slope" {
		key += ".slope"
	}
	return what, New(key, With("example", New(Key("unit.example."+e.Quantity))))
}

// ParseFault is FromParse as a fault; an error that is no *unit.ParseError
// gives nil.
func ParseFault(err error) *Fault {
	var e *unit.ParseError
	if !errors.As(err, &e) {
		return nil
	}
	return NewFault(FromParse(e))
}

// parseKey is the key of a kind; some kinds have a text of their own where no
// part can be quoted, where there are readings, or for bearings.
func parseKey(e *unit.ParseError) Key {
	key := Key("unit." + string(e.Kind))
	switch e.Kind {
	case unit.BadNumber, unit.BadFraction, unit.MixedUnits:
		if e.Part == "" {
			return key + ".end"
		}
	case unit.MissingUnit:
		if len(e.Readings) > 0 {
			return key + ".readings"
		}
	case unit.Negative:
		if e.Quantity == "bearing" {
			return key + ".bearing"
		}
	}
	return key
}
