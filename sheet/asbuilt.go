package sheet

import (
	"slices"

	"spadework/engine/phrase"
	"spadework/engine/plan"
	"spadework/engine/record"
	"spadework/engine/tell"
)

// asBuilt is the table of the points shot: estimate, expanded uncertainty, chance
// of conformity, what the three rules say of it, and the log's verdict.
func (s *Sheet) asBuilt(p *plan.Plan, st *record.State, proofs []record.DigProof) {
	f := View(tell.LogFace(p, tell.View(s.View)))
	t := &Table{Columns: []Column{s.column("dig"), s.column("tag"), s.column("deviation"), s.figures("expanded"), s.figures("in"),
		s.column("simple"), s.column("proven"), s.words("verdict")}}
	ordered := s.proofsInJobOrder(p, st, proofs)
	rejudged := false
	for _, d := range ordered {
		for _, pt := range d.Proofs {
			mark := ""
			if pt.Rejudged {
				mark, rejudged = "*", true
			}
			t.Add(placeOf(s.View, d.Excavation, pt.Part, pt.Point, pt.Station), orDash(pt.Tag), s.Say(tell.OffText(tell.View(f), pt.Value))+mark,
				spread(s.View, pt.Expanded()), chance(s.View, pt.Chance), s.simple(pt), s.Say(pt.Standing().Text()), s.pointVerdict(p, d.DigState, pt.PointState))
		}
	}
	s.table(t)
	if rejudged {
		s.paragraph(s.Text("sheet.rejudged"))
	}
	s.paragraph(s.Text("sheet.rules_of_acceptance"))
	each, whole := record.SummariseLog(p, ordered)
	for _, d := range each {
		if d.Shots > 1 {
			s.paragraph(s.Say(d.Text()) + ".")
		}
	}
	s.line(s.Say(whole.Text()))
}

// simple is the word of simple acceptance.
func (s *Sheet) simple(pt record.PointProof) string {
	key := phrase.Key("sheet.simple_out")
	switch {
	case !pt.Known:
		return "–"
	case pt.In():
		key = "sheet.simple_in"
	}
	return s.Text(key)
}

func (s *Sheet) proofsInJobOrder(p *plan.Plan, st *record.State, proofs []record.DigProof) []record.DigProof {
	var out []record.DigProof
	for _, d := range inJobOrder(p, st) {
		if i := slices.IndexFunc(proofs, func(x record.DigProof) bool { return x.Excavation == d.Excavation }); i >= 0 {
			out = append(out, proofs[i])
		}
	}
	return out
}
