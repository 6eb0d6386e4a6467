package sheet

import (
	"spadework/engine/phrase"
	"spadework/engine/plan"
	"spadework/engine/record"
	"spadework/engine/tell"
)

// Check is height, deviation and verdict of every shot.
func Check(p *plan.Plan, v View, results []record.AsBuilt) *Sheet {
	s := &Sheet{View: v}
	t := &Table{Columns: []Column{s.column("dig"), s.column("point"), s.column("tag"), s.figures("read"),
		s.figures("height"), s.figures("wanted"), s.figures("expanded"), s.figures("in"), s.column("proven"), s.words("verdict")}}
	proofs := record.Prove(p, results)
	for _, r := range proofs {
		set, _ := p.Setup(r.Setup)
		f := v.Face(set.Rod)
		t.Add(r.Excavation, checkedPoint(v, r), r.Setup, readText(f, r), v.Style.ElevationFigure(r.Height),
			v.Style.ElevationFigure(r.Point.Bottom), spread(v, r.Expanded()), chance(v, r.Chance), v.Say(r.Standing.Text()), verdict(f, r.AsBuilt))
	}
	s.table(t)
	digs, whole := record.Summarise(p, proofs)
	for _, d := range digs {
		if d.Shots > 1 {
			s.paragraph(s.Say(d.Text()) + ".")
		}
	}
	c := record.Count(results)
	s.line(s.Text("sheet.check_sum", phrase.With("count", len(results)), phrase.With("out", c.Out), phrase.With("unknown", c.Unknown)))
	s.line(s.Say(whole.Text()))
	return s
}

func checkedPoint(v View, r record.Proof) string {
	if r.Station != nil {
		return v.Style.Station(*r.Station)
	}
	return tell.KindText(tell.View(v), r.Point)
}

func readText(v View, r record.Proof) string {
	if r.Reading != nil {
		return v.Style.Reading(*r.Reading)
	}
	return v.Text(phrase.Key("sheet.call_"+string(r.Call)), phrase.With("amount", r.Amount))
}

// verdict says in words whether the bottom is in and what is left to do.
func verdict(v View, r record.AsBuilt) string {
	key := phrase.Key("sheet.verdict_out")
	switch {
	case !r.Known:
		key = "sheet.verdict_unknown"
	case r.Within:
		key = "sheet.verdict_in"
	}
	return v.Text(key, phrase.With("off", tell.OffText(tell.View(v), r.Deviation)))
}
