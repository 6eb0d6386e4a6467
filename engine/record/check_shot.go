package record

import "spadework/engine/unit"

// Where a check shot is taken from.
const (
	FromEdge   = "edge"
	FromBucket = "bucket"
	FromHole   = "hole" // only after the competent person's entry for the day
)

var shotFrom = []string{FromEdge, FromBucket, FromHole}

// CheckShot is one check of a bottom, with the bottom and tolerance that the
// crew dug to: a later revision does not change what the shot is judged by.
type CheckShot struct {
	Setup      ID // or
	Tie        ID // of the machine that took it with its own sensors
	Excavation string
	Part       string        // "" where the dig has one
	Point      string        // "" the centre
	Station    *unit.Station // of a run
	At         *[2]unit.Length
	From       string
	Direction  ID // the changed bottom it was judged by, zero the drawing's

	Bottom       unit.Elevation // wanted
	Above, Below *unit.Length   // tolerance, ≥ 0, nil none given
	Beam         *unit.Elevation
	Reading      *unit.Reading // with Beam, or
	Call         Call
	Amount       unit.Length // of High or Low
}

// Kind is KindShot.
func (*CheckShot) Kind() Kind { return KindShot }

// Names are the set-up or tie, and the direction.
func (s *CheckShot) Names() []ID { return named(s.Setup, s.Tie, s.Direction) }

func (s *CheckShot) walk(f *fields) {
	f.maybeID("setup", &s.Setup)
	f.maybeID("tie", &s.Tie)
	f.name("excavation", &s.Excavation)
	f.maybe("part", &s.Part)
	f.maybe("point", &s.Point)
	known(f, "station", &s.Station)
	f.place("at", &s.At)
	f.choice("from", &s.From, shotFrom)
	f.maybeID("direction", &s.Direction)
	size(f, "bottom", &s.Bottom)
	knownFigure(f, "above", &s.Above, 0, 100)
	knownFigure(f, "below", &s.Below, 0, 100)
	known(f, "beam", &s.Beam)
	known(f, "reading", &s.Reading)
	f.maybe("call", (*string)(&s.Call))
	figure(f, "amount", &s.Amount, 0, 100)
	s.checkResult(f)
}

// checkResult holds that a shot says what it rests on and one result.
func (s *CheckShot) checkResult(f *fields) {
	if s.Setup.IsZero() == s.Tie.IsZero() {
		f.fail("setup", "record.shot_rests")
	}
	if (s.Reading == nil) == (s.Call == "") || (s.Reading == nil) != (s.Beam == nil) {
		f.fail("reading", "record.shot_result")
	}
	switch s.Call {
	case "", On, High, Low:
	default:
		f.fail("call", "record.call", quoted(string(s.Call)))
	}
	if (s.Call == High || s.Call == Low) != (s.Amount > 0) {
		f.fail("amount", "record.shot_amount")
	}
	if (s.Above == nil) != (s.Below == nil) {
		f.fail("above", "record.shot_tolerance")
	}
}

// Height is the bottom as shot.
func (s *CheckShot) Height() unit.Elevation {
	switch {
	case s.Reading != nil && s.Beam != nil:
		return s.Beam.Plus(-unit.Length(*s.Reading))
	case s.Call == High:
		return s.Bottom.Plus(s.Amount)
	case s.Call == Low:
		return s.Bottom.Plus(-s.Amount)
	}
	return s.Bottom
}

// Deviation is the height over the bottom that was wanted: + still to dig.
func (s *CheckShot) Deviation() unit.Length { return s.Height().Above(s.Bottom) }
