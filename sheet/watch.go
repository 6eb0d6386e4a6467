package sheet

import (
	"math"
	"strconv"
	"strings"

	"spadework/engine/guard"
	"spadework/engine/phrase"
	"spadework/engine/plan"
	"spadework/engine/record"
	"spadework/engine/tell"
	"spadework/engine/unit"
)

// Watch is the verdict on every beam of a log: what to do now, the close that is
// due, what may have happened, and the digs that hang on it. Tags that have ended
// come last, and only what speaks against them is told.
func Watch(p *plan.Plan, v View, beams []guard.Beam) *Sheet {
	s := &Sheet{View: v}
	s.head(p)
	if len(beams) == 0 {
		s.line(s.Text("sheet.watch_none"))
	}
	for _, ended := range []bool{false, true} {
		for _, b := range beams {
			if (b.Tag.State == record.TagEnded) == ended {
				s.beam(p, b)
			}
		}
	}
	s.closeDay(p)
	s.paragraph(s.Text("sheet.watch_limits"))
	return s
}

// closeDay is when to close over a day.
func (s *Sheet) closeDay(p *plan.Plan) {
	day, ok := guard.CloseDay(p)
	if !ok {
		return
	}
	var said []string
	for _, m := range day.Text() {
		said = append(said, s.Say(m))
	}
	s.paragraph(s.Text("sheet.watch_day", phrase.With("said", strings.Join(said, "; "))))
}

func (s *Sheet) beam(p *plan.Plan, b guard.Beam) {
	s.add(Heading, s.Say(b.Head()))
	for i, m := range b.Do {
		s.line(strconv.Itoa(i+1) + ". " + s.Say(m) + ".")
	}
	if n := b.Next; n != nil {
		s.paragraph(s.nextClose(p, b.Tag.Tag, *n))
	}
	if !b.Judged {
		return
	}
	if b.Tag.State != record.TagEnded {
		var said []string
		for _, m := range b.Laser() {
			said = append(said, s.Say(m))
		}
		s.paragraph(strings.Join(said, "; ") + ".")
	}
	if odds := b.Odds(); len(odds) > 0 {
		var said []string
		for _, h := range odds {
			said = append(said, s.Say(h.Text()))
		}
		s.paragraph(s.Text("sheet.watch_odds", phrase.With("odds", strings.Join(said, "; "))))
	}
	s.watchedDigs(b)
}

// nextClose is the next close in one paragraph.
func (s *Sheet) nextClose(p *plan.Plan, tag string, n guard.Next) string {
	var said []string
	for _, m := range n.Text(tag, p.Job.Risk.Currency) {
		said = append(said, s.Say(m))
	}
	return s.Text("sheet.watch_next", phrase.With("said", strings.Join(said, "; ")))
}

// watchedDigs is the table of the digs under a beam.
func (s *Sheet) watchedDigs(b guard.Beam) {
	if len(b.Digs) == 0 {
		return
	}
	t := &Table{Columns: []Column{s.column("dig"), s.figures("by_beam"), s.figures("out_by_beam"), s.words("verdict")}}
	for i, d := range b.Digs {
		told := s.Say(d.Text())
		if b.Log.Digs[i].Concrete {
			told = s.Text("sheet.watch_concrete") + " " + told
		}
		t.Add(placeOf(s.View, d.Excavation, d.Point.Part, d.Point.Point, d.Point.Station), s.byBeam(d), s.Style.Chance(d.Out), told)
	}
	s.table(t)
}

// byBeam is how far a dig lies off where the beam had moved, a dash where nothing
// tells.
func (s *Sheet) byBeam(d guard.DigRisk) string {
	if math.IsNaN(float64(d.By)) || d.Moved == 0 {
		return "–"
	}
	return s.Say(tell.OffText(tell.View(s.View), unit.Length(float64(d.By))))
}
