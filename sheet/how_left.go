package sheet

import (
	"slices"

	"spadework/engine/phrase"
	"spadework/engine/plan"
	"spadework/engine/record"
	"spadework/engine/safety"
)

// HowLeft is how the work was left: who handed over, what is dug and what that is
// worth, what stops work, the holds, the tags, and what is due.
func HowLeft(p *plan.Plan, v View, st *record.State, today string) *Sheet {
	s := &Sheet{View: v}
	s.head(p)
	s.howLeft(p, st, today)
	s.line(s.Text("safety.advice"))
	return s
}

// howLeft is the same under a head of another's.
func (s *Sheet) howLeft(p *plan.Plan, st *record.State, today string) {
	s.handover(st)
	s.heading("sheet.how_left_dug")
	s.shots(p, st)
	s.notDug(p, st)
	s.leftTags(st)
	s.leftHolds(p, st)
	s.leftOpen(p, st, today)
	s.heading("sheet.how_left_due")
	for _, d := range st.Due {
		s.paragraph(s.Say(d.What) + ".")
	}
	s.paragraph(s.Text("sheet.how_left_entry", phrase.With("who", orDash(p.Job.Rules.CompetentPerson))))
	s.asides(st)
}

func (s *Sheet) handover(st *record.State) {
	if st.Left == nil {
		s.line(s.Text("sheet.how_left_nobody"))
		return
	}
	l := st.Left
	s.line(s.Text("sheet.how_left_by", phrase.With("person", l.Person), phrase.With("to", orDash(l.To)),
		phrase.With("day", l.Time.Date()), phrase.With("time", l.Time.Minute())))
	if l.Words != "" {
		s.paragraph(l.Words)
	}
}

// notDug lists the digs of the job of which the log has no shot.
func (s *Sheet) notDug(p *plan.Plan, st *record.State) {
	var ids []string
	for _, d := range p.Digs {
		if state, ok := st.Dig(d.Excavation.ID); !ok || len(state.Points) == 0 {
			ids = append(ids, d.Excavation.ID)
		}
	}
	if len(ids) > 0 {
		s.paragraph(s.Text("sheet.how_left_no_shot", phrase.With("count", len(ids)), phrase.With("ids", ids)))
	}
}

func (s *Sheet) leftTags(st *record.State) {
	if len(st.Tags) == 0 {
		return
	}
	s.heading("sheet.how_left_tags")
	for _, t := range st.Tags {
		key := phrase.Key("sheet.tag_" + string(t.State))
		s.paragraph(s.Text(key, phrase.With("tag", t.Tag), phrase.With("why", t.Why), phrase.With("count", t.Open)))
	}
	for _, t := range st.Ties {
		if !t.Live {
			s.paragraph(s.Text("sheet.tie_void", phrase.With("machine", t.Machine), phrase.With("why", t.Why)))
		}
	}
}

// leftHolds tells every hold point of the job that is not passed.
func (s *Sheet) leftHolds(p *plan.Plan, st *record.State) {
	var open []phrase.Message
	for _, d := range p.Digs {
		for _, hold := range d.Excavation.Holds {
			passed := slices.ContainsFunc(st.Holds, func(h record.HoldState) bool {
				return h.Passed && h.Excavation == d.Excavation.ID && h.Hold == hold
			})
			if !passed {
				open = append(open, phrase.New("record.due_hold", phrase.With("id", d.Excavation.ID), phrase.With("hold", hold)))
			}
		}
	}
	if len(open) == 0 {
		return
	}
	s.heading("sheet.how_left_holds")
	for _, m := range open {
		s.paragraph(s.Say(m) + ".")
	}
}

// leftOpen tells what stops work and no entry of today releases, and what the
// log itself found.
func (s *Sheet) leftOpen(p *plan.Plan, st *record.State, today string) {
	open := safety.Open(p.Findings, st.StandingEntries(), safety.Watchman{Competent: p.Job.Rules.CompetentPerson, Today: today})
	open = append(slices.Clone(st.Findings), open...)
	if len(open) == 0 {
		return
	}
	s.heading("sheet.how_left_open")
	for _, f := range open {
		s.Blocks = append(s.Blocks, Block{Kind: Finding, Text: s.finding(f), Severity: f.Severity})
	}
}
