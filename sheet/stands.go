package sheet

import (
	"strings"

	"spadework/engine/beam"
	"spadework/engine/phrase"
	"spadework/engine/plan"
	"spadework/engine/stands"
	"spadework/engine/tell"
	"spadework/engine/unit"
)

// stands tells where the machine stands, in its order: what it digs there, by
// which number, and where the spoil goes.
func (s *Sheet) stands(p *plan.Plan) {
	if p.Stands == nil {
		if !p.StandNeeds.IsZero() {
			s.heading("sheet.stands")
			s.paragraph(s.Text("sheet.stands_none", phrase.With("why", p.StandNeeds)))
		}
		return
	}
	s.heading("sheet.stands")
	s.paragraph(s.standsCount(p.Stands))
	s.paragraph(s.entryText(p))
	t := &Table{Columns: []Column{s.column("stand"), s.figures("east"), s.figures("north"), s.column("faces"), s.column("from"), s.words("piece"), s.figures("number"), s.words("spoil")}}
	for _, row := range p.Stands.Rows {
		s.standRows(t, p, row)
	}
	s.table(t)
	if text := s.handAfter(p.Stands); text != "" {
		s.paragraph(text)
	}
	s.paragraph(s.Text("sheet.stands_legend"))
	if key := tieKey(p); key != "" {
		s.paragraph(s.Text(key))
	}
}

// tieKey is what a crew with a machine's own sensors must not forget, "" for
// others.
func tieKey(p *plan.Plan) phrase.Key {
	for _, m := range p.Job.Machines {
		if m.ID == p.Stands.Machine && (m.Guidance == beam.SensorsBeam || m.Guidance == beam.SensorsTouch) {
			return "sheet.stands_tie"
		}
	}
	return ""
}

// standsCount tells how many stands there are and how far that is proven.
func (s *Sheet) standsCount(st *plan.Stands) string {
	key := phrase.Key("sheet.stands_gap")
	if st.Proven {
		key = "sheet.stands_proven"
	}
	return s.Text(key, phrase.With("count", st.Count), phrase.With("bound", st.Bound), phrase.With("machine", st.Machine),
		phrase.With("travel", tell.Paces(tell.View(s.View), st.Travel)))
}

func (s *Sheet) entryText(p *plan.Plan) string {
	key := phrase.Key("sheet.stands_entry")
	if !p.Stands.Told {
		key = "sheet.stands_entry_taken"
	}
	return s.Text(key, phrase.With("at", p.PlaceText(p.Stands.Entry)))
}

// standRows are the lines of one stand, one a piece.
func (s *Sheet) standRows(t *Table, p *plan.Plan, row plan.Stand) {
	pieces := append(tell.Pieces(tell.View(s.View), row.Opened), tell.Pieces(tell.View(s.View), row.Work)...)
	spoil := s.spoilText(row)
	for i, piece := range pieces {
		number, planned := s.pieceNumber(p, row.ID, piece)
		add := t.Add
		if planned {
			add = t.addPlanned
		}
		if i > 0 {
			add("", "", "", "", piece.Setup, piece.Text, number, "")
			continue
		}
		at, base := p.Job.Origin.Job(row.Place.At), coordinateUnit(p)
		add(row.ID, s.Style.Fixed(at.X/base, 1), s.Style.Fixed(at.Y/base, 1), tell.Facing(tell.View(s.View), row.Place.Bearing), piece.Setup, piece.Text, number, spoil)
	}
}

// pieceNumber is the number that a piece is dug by, a span where it changes; a
// dash where no point with a number lies in it.
func (s *Sheet) pieceNumber(p *plan.Plan, stand string, piece tell.Piece) (text string, planned bool) {
	var first, last string
	for _, n := range p.Numbers {
		if n.Stand != stand || n.Excavation != piece.Excavation || n.Setup != piece.Setup {
			continue
		}
		set, _ := p.Setup(n.Setup)
		last = numberText(p, s.Face(set.Rod), n)
		if first == "" {
			first = last
		}
		planned = planned || n.From == plan.FromBeam && n.State == beam.Planned
	}
	if first == "" {
		return "–", false
	}
	return between(first, last), planned
}

// spoilText is where the spoil of a stand goes.
func (s *Sheet) spoilText(row plan.Stand) string {
	var out []string
	for _, h := range row.Heaps {
		out = append(out, s.Text("sheet.stand_heap", phrase.With("volume", h.Volume),
			phrase.With("distance", tell.Paces(tell.View(s.View), unit.Length(h.At.Distance(row.Place.At)))), phrase.With("way", tell.Facing(tell.View(s.View), beam.Bearing(row.Place.At, h.At)))))
	}
	if row.Loaded > 0 {
		out = append(out, s.Text("sheet.stand_loaded", phrase.With("volume", row.Loaded)))
	}
	if row.Carted > 0 {
		out = append(out, s.Text("sheet.stand_carted", phrase.With("volume", row.Carted)))
	}
	return strings.Join(out, "; ")
}

// handAfter is what hands dig once the machine has left, "" for nothing.
func (s *Sheet) handAfter(st *plan.Stands) string {
	var out []string
	for _, piece := range tell.Pieces(tell.View(s.View), st.Hand) {
		out = append(out, piece.Text)
	}
	if len(out) == 0 {
		return ""
	}
	return s.Text("sheet.stands_hand", phrase.With("pieces", out))
}

// explainStands is how the stands were chosen and what could not be done.
func (s *Sheet) explainStands(p *plan.Plan) {
	st := p.Stands
	if st == nil {
		return
	}
	s.paragraph(s.standsCount(st))
	s.detail(s.Text("sheet.stands_explain", phrase.With("cells", st.Cells), phrase.With("candidates", st.Candidates)))
	for _, u := range st.Turned {
		s.detail(s.Text("sheet.stands_turned", phrase.With("id", u.Excavation), phrase.With("why", u.Reason)))
	}
	for _, u := range st.Missed {
		s.detail(s.Text("sheet.stands_missed", phrase.With("id", u.Excavation), phrase.With("why", u.Reason)))
	}
}

// Play steps through the stands of a plan, move by move, and says whether a
// checker of its own found a rule that they break.
func Play(p *plan.Plan, v View, only string) (sheet *Sheet, broken bool) {
	s := &Sheet{View: v}
	s.head(p)
	if p.Stands == nil {
		why := p.StandNeeds
		if why.IsZero() {
			why = phrase.New("sheet.play_no_machine")
		}
		s.paragraph(s.Text("sheet.stands_none", phrase.With("why", why)))
		return s, false
	}
	s.paragraph(s.entryText(p))
	for i, row := range p.Stands.Rows {
		if only == "" || only == row.ID {
			s.playStand(p, i, row)
		}
	}
	if only == "" {
		s.paragraph(s.Text("sheet.play_out", phrase.With("length", tell.Paces(tell.View(v), stands.Path(p.Stands.Out).Length()))))
		if text := s.handAfter(p.Stands); text != "" {
			s.paragraph(text)
		}
	}
	return s, s.playVerdict(p)
}

// playStand is one stand: the way there, what is opened, dug and heaped.
func (s *Sheet) playStand(p *plan.Plan, i int, row plan.Stand) {
	v := tell.View(s.View)
	s.line(s.Text("sheet.play_stand", phrase.With("stand", row.ID), phrase.With("count", len(p.Stands.Rows)),
		phrase.With("at", p.PlaceText(row.Place.At)), phrase.With("faces", tell.Facing(v, row.Place.Bearing)),
		phrase.With("way", tell.Paces(v, stands.Path(row.Path).Length()))))
	for _, piece := range tell.Pieces(v, row.Opened) {
		s.detail(s.Text("sheet.play_hand", phrase.With("piece", piece.Text)))
	}
	if row.Turned {
		s.detail(s.Text("sheet.play_setup", phrase.With("setup", lastSetup(row))))
	}
	if key := tieKey(p); key != "" {
		s.detail(s.Text("sheet.play_tie"))
	}
	for _, piece := range tell.Pieces(v, row.Work) {
		number, _ := s.pieceNumber(p, row.ID, piece)
		text := s.Text("sheet.play_dig", phrase.With("piece", piece.Text), phrase.With("number", number), phrase.With("setup", piece.Setup))
		if piece.Setup == "" {
			text = s.Text("sheet.play_dig_alone", phrase.With("piece", piece.Text))
		}
		if stages := tell.StagesText(v, piece.Stages); stages != "" {
			text += " " + stages
		}
		s.detail(text)
	}
	if text := s.spoilText(row); text != "" {
		s.detail(s.Text("sheet.play_spoil", phrase.With("where", text)))
	}
}

func lastSetup(row plan.Stand) string {
	out := ""
	for _, w := range row.Work {
		if w.Setup != "" {
			out = w.Setup
		}
	}
	return out
}

// playVerdict says what the checker found.
func (s *Sheet) playVerdict(p *plan.Plan) (broken bool) {
	v := p.Stands.Played()
	if v == nil {
		s.paragraph(s.Text("sheet.play_good", phrase.With("count", p.Stands.Count)))
		return false
	}
	s.paragraph(s.Text("sheet.play_broken", phrase.With("stand", v.Visit+1), phrase.With("rule", phrase.New(phrase.Key("sheet.play_rule_"+string(v.Rule)))),
		phrase.With("at", p.PlaceText(v.At))))
	return true
}
