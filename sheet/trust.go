package sheet

import (
	"math"

	"spadework/engine/phrase"
	"spadework/engine/plan"
	"spadework/engine/tell"
	"spadework/engine/trust"
	"spadework/engine/unit"
)

// Trust is how far each number can be trusted: standard errors, chances and a
// word, then what falls, levels and outlets are likely to keep.
func Trust(p *plan.Plan, v View) *Sheet {
	s := &Sheet{View: v}
	s.head(p)
	s.line(s.Text("sheet.trust_limit", phrase.With("limit", p.Limit())))
	t := &Table{Columns: []Column{s.column("dig"), s.column("point"), s.column("from"), s.figures("sigma_beam"), s.figures("sigma"),
		s.figures("in"), s.figures("over"), s.figures("aim_height"), s.words("trust")}}
	last := ""
	for _, n := range p.Numbers {
		name := n.Excavation
		if name == last {
			name = ""
		}
		last = n.Excavation
		t.Add(trustCells(p, v, n, name)...)
	}
	s.table(t)
	s.paragraph(s.Text("sheet.trust_legend"))
	s.conditions(p.Conditions)
	return s
}

// trustCells is the line of one number.
func trustCells(p *plan.Plan, v View, n plan.Number, name string) []string {
	set, _ := p.Setup(n.Setup)
	tr := n.Trust
	row := []string{name, tell.PointText(tell.View(v), n), fromText(n), spread(v, tr.Beam), spread(v, tr.Final), "–", "–", "–", judgementText(v, tr.Judgement)}
	if tr.Rated {
		row[5], row[6] = chance(v, tr.Within), chance(v, tr.Over)
		row[7] = aimHeight(v.Face(set.Rod), tr.Aim)
	}
	return row
}

// aimHeight is how far over or under the bottom to aim, a dash for at it.
func aimHeight(v View, aim unit.Length) string {
	if aim == 0 {
		return "–"
	}
	key := phrase.Key("sheet.aim_high")
	if aim < 0 {
		key = "sheet.aim_low"
	}
	return v.Text(key, phrase.With("size", v.Style.Reading(unit.Reading(max(aim, -aim)))))
}

// spread is a standard error, a dash where it is not known.
func spread(v View, l unit.Length) string {
	if math.IsNaN(float64(l)) {
		return "–"
	}
	return fine(v, l)
}

// chance is a probability, a dash where it is not known.
func chance(v View, c unit.Chance) string {
	if math.IsNaN(float64(c)) {
		return "–"
	}
	return v.Style.Chance(c)
}

// conditions tells what two places of a dig keep between them.
func (s *Sheet) conditions(list []plan.Condition) {
	if len(list) == 0 {
		return
	}
	s.heading("sheet.between")
	t := &Table{Columns: []Column{s.column("dig"), s.column("from"), s.words("asked"), s.figures("sigma"), s.figures("in")}}
	for _, c := range list {
		name := c.Excavation
		if c.Part != "" && c.Part != "1" {
			name += " " + tell.PartText(tell.View(s.View), c.Part)
		}
		t.Add(name, c.Setup, s.Say(c.Text()), spread(s.View, c.Outlook.Final), chance(s.View, c.Chance))
	}
	s.table(t)
}

// TrustOf takes the least trusted number of a dig from every set-up apart.
func TrustOf(p *plan.Plan, v View, id string) *Sheet {
	s := &Sheet{View: v}
	s.head(p)
	list := p.Assess(id)
	for _, a := range list {
		s.assessment(a)
	}
	if len(list) == 0 {
		s.line(s.Text("sheet.trust_none", phrase.With("id", id)))
	}
	s.conditions(p.ConditionsOf([]string{id}))
	return s
}

func (s *Sheet) assessment(a plan.Assessment) {
	args := []phrase.Arg{
		phrase.With("id", a.Excavation), phrase.With("point", tell.PointText(tell.View(s.View), a.Number)), phrase.With("setup", a.Setup),
		phrase.With("sigma", spread(s.View, a.Trust.Final)), phrase.With("beam", spread(s.View, a.Trust.Beam)),
	}
	if !a.Trust.Known {
		s.line(s.Text("sheet.trust_open", args...))
		return
	}
	s.line(s.Text("sheet.trust_head", args...))
	if a.Trust.Rated {
		s.paragraph(s.Text("sheet.trust_chances", phrase.With("in", a.Trust.Within), phrase.With("over", a.Trust.Over),
			phrase.With("word", a.Trust.Judgement.Text())))
	}
	s.budget(a.Budget)
	s.helps(a)
}

func (s *Sheet) budget(rows []trust.Contribution) {
	t := &Table{Columns: []Column{s.words("cause"), s.figures("size"), s.figures("share")}}
	for _, r := range rows {
		t.Add(s.Text(phrase.Key("trust.cause_"+string(r.Cause)), phrase.With("of", r.Of)), fine(s.View, r.Sigma), s.Style.Chance(unit.Chance(r.Share)))
	}
	s.table(t)
}

func (s *Sheet) helps(a plan.Assessment) {
	if len(a.Improvements) == 0 {
		return
	}
	t := &Table{Columns: []Column{s.words("helps"), s.figures("sigma"), s.figures("in")}}
	for _, h := range a.Improvements {
		in := "–"
		if a.Trust.Rated {
			in = chance(s.View, h.Within)
		}
		t.Add(s.Say(h.Text()), fine(s.View, h.Sigma), in)
	}
	s.table(t)
}
