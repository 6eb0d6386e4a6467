package pipe

import (
	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// Section is the cross-section of a round pipe barrel: its outside diameter and
// its wall, both > 0, the wall less than half the diameter.
type Section struct {
	Outside unit.Length
	Wall    unit.Length
}

// Inside is the inside diameter, outside less two walls.
func (s Section) Inside() unit.Length { return s.Outside - 2*s.Wall }

// Check is a fault if s is no pipe; NaN is one. nil means good.
func (s Section) Check() *phrase.Fault {
	switch {
	case !(s.Outside > 0) || s.Outside > maxOutside:
		return fault("pipe.outside", "outside", s.Outside)
	case !(s.Wall > 0):
		return fault("pipe.wall", "wall", s.Wall)
	case !(s.Wall < s.Outside/2):
		f := fault("pipe.wall_thick", "wall", s.Wall)
		f.What.Args = append(f.What.Args, phrase.With("outside", s.Outside))
		return f
	}
	return nil
}

// maxOutside catches a diameter in the wrong unit: no pipe laid in an open
// trench is wider (common practice).
const maxOutside = 10 * unit.Metre

// TopOfPipe is the outside of the crown of a pipe whose flow line lies at
// invert: invert + inside diameter + wall.
func (s Section) TopOfPipe(invert unit.Elevation) unit.Elevation {
	return invert.Plus(s.Inside()).Plus(s.Wall)
}

// TrenchBottom is invert − wall − bedding: the flow line, not the barrel, goes
// to the drawn grade.
func TrenchBottom(invert unit.Elevation, wall, bedding unit.Length) unit.Elevation {
	return invert.Plus(-wall).Plus(-bedding)
}

// Cover is how far the ground lies over the top of the pipe, negative where the
// pipe stands out of it.
func Cover(ground, top unit.Elevation) unit.Length { return ground.Above(top) }

// fault is a fault at a field of the section, with its value and remedy.
func fault(key phrase.Key, path string, v unit.Length) *phrase.Fault {
	f := phrase.NewFault(phrase.New(key, phrase.With("value", v)), phrase.New(key+"_remedy"))
	return f.At(phrase.Place{Path: path})
}
