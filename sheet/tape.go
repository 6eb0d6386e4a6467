package sheet

import (
	"spadework/engine/beam"
	"spadework/engine/phrase"
	"spadework/engine/tell"
)

// Taped is one part of a dig taped from two points.
type Taped struct {
	Excavation, Part string
	From, To         string
	Out              beam.TapeOut
}

// Tape is how to tape each corner, and the sides and diagonals that prove it.
func Tape(v View, taped []Taped) *Sheet {
	s := &Sheet{View: v}
	for _, part := range taped {
		s.tape(part)
	}
	return s
}

func (s *Sheet) tape(part Taped) {
	s.line(s.Text("sheet.tape_head", phrase.With("id", part.Excavation), phrase.With("part", tell.PartText(tell.View(s.View), part.Part)),
		phrase.With("from", part.From), phrase.With("to", part.To), phrase.With("base", part.Out.Base)))
	t := &Table{Columns: []Column{s.column("corner"), {Head: part.From, Right: true}, {Head: part.To, Right: true}, s.words("side")}}
	for _, c := range part.Out.Corners {
		side := s.Say(c.Side.Text())
		if c.Weak {
			side += "; " + s.Text("sheet.tape_weak")
		}
		t.Add(c.ID, s.Style.Length(c.FromA), s.Style.Length(c.FromB), side)
	}
	s.table(t)
	for _, m := range append(part.Out.Sides, part.Out.Diagonals...) {
		s.paragraph(s.Text("sheet.tape_check", phrase.With("from", m.From), phrase.With("to", m.To), phrase.With("distance", m.Distance)))
	}
}
