package beam

import (
	"math"

	"spadework/engine/geom"
	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// Corner is a point to be set out.
type Corner struct {
	ID string
	At geom.Point
}

// Side is where a corner lies, looking from the first control point to the
// second.
type Side uint8

// The sides.
const (
	OnLine Side = iota
	LeftOf
	RightOf
)

// Text is the side in words.
func (s Side) Text() phrase.Message {
	switch s {
	case LeftOf:
		return phrase.New("beam.side_left")
	case RightOf:
		return phrase.New("beam.side_right")
	}
	return phrase.New("beam.side_on")
}

// onLine is how near the line of the control points a corner counts as on it:
// less than a tape is read to.
const onLine = 1 * unit.Millimetre

// The angle at which two tapes cross must lie between these for a firm corner
// (common practice for intersections).
const (
	flattest = 30 * unit.Degree
	openest  = 150 * unit.Degree
)

// Taped is one corner from two control points.
type Taped struct {
	ID           string
	FromA, FromB unit.Length
	Side         Side
	Weak         bool // on the line, or the tapes cross flatter than 30° or wider than 150°
}

// Measured is the distance between two corners, for checking.
type Measured struct {
	From, To string
	Distance unit.Length
}

// TapeOut is a figure set out by tape. All lengths are horizontal: the tape is
// held level.
type TapeOut struct {
	Base      unit.Length // from A to B: tape it first; it must show this
	Corners   []Taped     // in the order given
	Sides     []Measured  // each corner to the next, the last to the first
	Diagonals []Measured  // every pair of corners that are not neighbours
}

// TapeFrom is the tape-out of a figure, corners in order around it, from the
// control points a and b.
func TapeFrom(a, b Corner, figure []Corner) (TapeOut, *phrase.Fault) {
	if f := checkTape(a, b, figure); f != nil {
		return TapeOut{}, f
	}
	out := TapeOut{Base: unit.Length(a.At.Distance(b.At))}
	n := len(figure)
	for i, c := range figure {
		out.Corners = append(out.Corners, tape(a.At, b.At, c))
		if n > 2 || i+1 < n { // two corners have one side, one corner none
			out.Sides = append(out.Sides, measure(c, figure[(i+1)%n]))
		}
		for j := i + 2; j < n; j++ {
			if j-i < n-1 { // the first and the last are neighbours
				out.Diagonals = append(out.Diagonals, measure(c, figure[j]))
			}
		}
	}
	return out, nil
}

// checkTape refuses places that are not finite and one control point twice.
func checkTape(a, b Corner, figure []Corner) *phrase.Fault {
	for _, c := range append([]Corner{a, b}, figure...) {
		if f := finite(named{"at", c.At.X}, named{"at", c.At.Y}); f != nil {
			return f
		}
	}
	if a.At.Distance(b.At) <= float64(onLine) {
		return phrase.NewFault(phrase.New("beam.one_control", phrase.With("a", a.ID), phrase.With("b", b.ID)),
			phrase.New("beam.one_control_remedy"))
	}
	return nil
}

// measure is the distance between two corners.
func measure(p, q Corner) Measured {
	return Measured{From: p.ID, To: q.ID, Distance: unit.Length(p.At.Distance(q.At))}
}

// tape is one corner by its two distances.
func tape(a, b geom.Point, c Corner) Taped {
	t := Taped{ID: c.ID, FromA: unit.Length(c.At.Distance(a)), FromB: unit.Length(c.At.Distance(b))}
	ab := b.Sub(a)
	aside := ab.Cross(c.At.Sub(a)) / ab.Length()
	switch {
	case aside > float64(onLine):
		t.Side = LeftOf
	case aside < -float64(onLine):
		t.Side = RightOf
	}
	u, v := a.Sub(c.At), b.Sub(c.At)
	angle := unit.Angle(math.Atan2(math.Abs(u.Cross(v)), u.Dot(v)))
	t.Weak = t.Side == OnLine || !(angle >= flattest && angle <= openest)
	return t
}
