package sheet

import (
	"spadework/engine/beam"
	"spadework/engine/phrase"
	"spadework/engine/plan"
	"spadework/engine/tell"
	"spadework/engine/unit"
)

// Plan is what stops work, the set-ups, the numbers and the cautions. Notes are
// counted, or told where notes is true.
func Plan(p *plan.Plan, v View, notes bool) *Sheet {
	s := &Sheet{View: v}
	s.head(p)
	s.findings(p, "sheet.stops", func(f phrase.Finding) bool { return f.Severity == phrase.Stop })
	s.handDig(p)
	s.setups(p)
	s.numbers(p)
	s.stands(p)
	s.earthLine(p)
	s.pipes(p)
	s.findings(p, "sheet.cautions", func(f phrase.Finding) bool { return f.Severity == phrase.Caution })
	if notes {
		s.findings(p, "sheet.notes", func(f phrase.Finding) bool { return f.Severity == phrase.Note })
	} else if n := countNotes(p); n > 0 {
		s.paragraph(s.Text("sheet.more_notes", phrase.With("count", n)))
	}
	s.line(s.Text("safety.advice"))
	return s
}

func countNotes(p *plan.Plan) int {
	n := 0
	for _, f := range p.Findings {
		if f.Severity == phrase.Note {
			n++
		}
	}
	return n
}

// setups tells each set-up with its height, dial and what proves it.
func (s *Sheet) setups(p *plan.Plan) {
	if len(p.Setups) == 0 {
		return
	}
	s.heading("sheet.setups")
	t := &Table{Columns: []Column{s.column("tag"), s.column("state"), s.figures("hi"), s.words("rests")}}
	for _, set := range p.Setups {
		f := s.Face(set.Rod)
		add := t.Add
		if set.State == beam.Planned {
			add = t.addPlanned
		}
		add(set.ID, s.Text(phrase.Key("sheet.state_"+set.State.String())), hiText(f, set), tell.RestsOn(p, tell.View(f), set))
	}
	s.table(t)
	s.sited(p)
	for _, turn := range p.Turns {
		sigma := "–"
		if d := p.TurnError(turn); d.Known {
			sigma = spread(s.View, d.Sigma)
		}
		s.paragraph(s.Text("sheet.turn", phrase.With("id", turn.ID), phrase.With("elevation", turn.Elevation),
			phrase.With("sigma", sigma), phrase.With("setup", turn.Setup)))
	}
	for _, set := range p.Setups {
		s.dial(s.Face(set.Rod), set)
	}
}

// hiText is the height of the beam; a planned one is left open.
func hiText(v View, s plan.Setup) string {
	if s.State == beam.Live {
		return v.Style.Elevation(s.Plane.HI)
	}
	return "____"
}

// dial tells how a sloped set-up is dialled and proven.
func (s *Sheet) dial(v View, set plan.Setup) {
	if set.Plan == nil {
		return
	}
	s.paragraph(set.ID + ": " + v.Say(set.Plan.Text) + ".")
	if set.Proof != nil {
		s.detail(v.Say(proofText(set)) + ".")
	}
	for i, e := range set.Plan.Rounding {
		s.effect(v, "sheet.rounding", e)
		if i < len(set.Plan.OneDegree) {
			s.effect(v, "sheet.one_degree", set.Plan.OneDegree[i])
		}
	}
}

// proofText is the two rods that prove a dial; of a planned set-up, whose height
// is not known, only how they differ.
func proofText(set plan.Setup) phrase.Message {
	d := set.Proof
	if set.State == beam.Live {
		return d.Text
	}
	key, size := phrase.Key("sheet.proof_planned_more"), d.Difference
	if size < 0 {
		key, size = "sheet.proof_planned_less", -size
	}
	return phrase.New(key, phrase.With("a", d.A), phrase.With("b", d.B), phrase.With("difference", size), phrase.With("within", d.Within))
}

func (s *Sheet) effect(v View, key phrase.Key, e beam.RunEffect) {
	s.detail(v.Text(key, phrase.With("run", e.Run), phrase.With("start", drift(v, e.Start)), phrase.With("end", drift(v, e.End))))
}

// drift says how far the beam lies over or under, small as it may be.
func drift(v View, d unit.Length) phrase.Message {
	size := fine(v, max(d, -d))
	switch {
	case size == fine(v, 0):
		return phrase.New("sheet.drift_none")
	case d > 0:
		return phrase.New("sheet.drift_high", phrase.With("size", size))
	}
	return phrase.New("sheet.drift_low", phrase.With("size", size))
}

// fine is a length too small for the crew's fraction, in thousandths of a foot
// or tenths of a millimetre.
func fine(v View, d unit.Length) string {
	if v.Style.System == unit.Imperial {
		return v.Style.Fixed(float64(d/unit.Foot), 3) + " ft"
	}
	return v.Style.Fixed(float64(d/unit.Millimetre), 1) + " mm"
}

// numbers tells the number at every point of every dig.
func (s *Sheet) numbers(p *plan.Plan) {
	if len(p.Numbers) == 0 {
		return
	}
	s.heading("sheet.numbers")
	t := &Table{Columns: []Column{s.column("dig"), s.column("point"), s.column("from"), s.main("number"),
		s.figures("aim"), s.figures("bottom"), s.spans("cut"), s.column("tolerance"), s.column("trust")}}
	last := ""
	for _, g := range numberGroups(p, s.View) {
		name := g.first.Excavation
		if name == last {
			name = ""
		}
		last = g.first.Excavation
		add := t.Add
		if g.first.From == plan.FromBeam && g.first.State == beam.Planned {
			add = t.addPlanned
		}
		add(g.cells(p, s.View, name)...)
	}
	aims := t.dropEmpty(4)
	s.table(t)
	if aims {
		s.paragraph(s.Text("sheet.aim_legend"))
	}
	s.paragraph(s.Text("sheet.word_legend"))
	s.legend(p)
}

// legend says what a number is for every guidance in the table.
func (s *Sheet) legend(p *plan.Plan) {
	told := map[beam.Guidance]bool{}
	for _, n := range p.Numbers {
		if !told[n.Guidance] {
			told[n.Guidance] = true
			s.paragraph(s.Text("sheet.legend", phrase.With("text", n.Guidance.Number())))
		}
	}
	if p.Planned() {
		s.paragraph(s.Text("sheet.planned_legend"))
	}
}

// findings tells the findings that pick takes.
func (s *Sheet) findings(p *plan.Plan, head phrase.Key, pick func(phrase.Finding) bool) {
	first := true
	for _, f := range p.Findings {
		if !pick(f) {
			continue
		}
		if first {
			s.heading(head)
			first = false
		}
		s.Blocks = append(s.Blocks, Block{Kind: Finding, Text: s.finding(f), Severity: f.Severity})
	}
}

// finding is what is so, by which clause, what to do and who decides.
func (s *Sheet) finding(f phrase.Finding) string { return tell.Finding(tell.View(s.View), f) }
