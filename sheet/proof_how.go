package sheet

import (
	"spadework/engine/phrase"
	"spadework/engine/record"
	"spadework/engine/safety"
	"spadework/engine/unit"
)

// control is where heights come from and what they were read with.
func (r *proof) control() {
	t := &Table{Columns: []Column{r.column("benchmark"), r.figures("height"), r.figures("size"), r.View.words("given_by"), r.View.words("checked_by")}}
	for _, b := range r.plan.Job.Benchmarks {
		t.Add(b.ID, r.Style.ElevationFigure(b.Elevation), spread(r.View, b.Sigma), r.told(b.GivenBy), r.told(b.CheckedBy))
	}
	r.listed("proven.control", t, "proven.no_control")
	in := &Table{Columns: []Column{r.column("instrument"), r.View.words("accuracy"), r.View.words("last_check")}}
	for _, l := range r.plan.Job.Lasers {
		in.Add(l.ID, seconds(r.View, l.Accuracy), r.told(l.Checked))
	}
	for _, v := range r.plan.Job.Receivers {
		in.Add(v.ID, r.Text("proven.dead_band", phrase.With("size", fine(r.View, v.DeadBand))), "–")
	}
	for _, v := range r.plan.Job.Rods {
		in.Add(v.ID, r.Text("proven.rod"), "–")
	}
	r.listed("proven.instruments", in, "")
}

// setups are the set-ups made and every close and proof under them.
func (r *proof) setups() {
	t := &Table{Columns: []Column{r.column("tag"), r.column("time"), r.column("laser"), r.figures("hi"), r.View.words("rests"), r.figures("shots"),
		r.figures("open_shots"), r.View.words("state")}}
	closes := &Table{Columns: []Column{r.column("tag"), r.column("time"), r.View.words("what"), r.View.words("told")}}
	for _, l := range r.state.Log {
		switch p := l.Payload.(type) {
		case *record.SetupMade:
			t.Rows = append(t.Rows, r.setupRow(l, p))
		case *record.Close:
			closes.Add(r.tagName(p.Setup), stampText(l.Time), r.Say(kindOf(l.Kind())), r.taken(l, recordText(r.plan, r.View, l.Record)))
		case *record.DialProof:
			closes.Add(r.tagName(p.Setup), stampText(l.Time), r.Say(kindOf(l.Kind())), r.taken(l, recordText(r.plan, r.View, l.Record)))
		}
	}
	r.listed("proven.setups", t, "proven.no_setups")
	r.listed("proven.closes", closes, "proven.no_closes")
}

func (r *proof) setupRow(l record.Line, p *record.SetupMade) []string {
	rests := ""
	for _, s := range p.Sights {
		if rests != "" {
			rests += "; "
		}
		rests += r.Text("proven.sight", phrase.With("benchmark", s.Benchmark), phrase.With("rod", s.Rod))
	}
	row := []string{p.Tag, stampText(l.Time), p.Laser, hiOf(r.View, p), orDash(rests), "–", "–", "–"}
	for _, t := range r.state.Tags {
		if t.Setup == l.ID {
			row[5], row[6] = r.Style.Number(float64(t.Shots)), r.Style.Number(float64(t.Open))
			row[7] = r.Text(phrase.Key("proven.tag_"+string(t.State)), phrase.With("why", t.Why))
		}
	}
	return row
}

// site is what happened besides: over-digs, directions, the ground met, weather,
// photos, entries and what is open.
func (r *proof) site() {
	for _, part := range []struct {
		head, none phrase.Key
		kinds      []record.Kind
	}{
		{"proven.over_digs", "proven.no_over_digs", []record.Kind{record.KindOverDig}},
		{"proven.directions", "", []record.Kind{record.KindDirection}},
		{"proven.met", "", []record.Kind{record.KindRock, record.KindWater, record.KindUnsuitable, record.KindExposed}},
		{"proven.entries", "proven.no_entries", []record.Kind{record.KindEntry}},
		{"proven.weather", "proven.no_weather", []record.Kind{record.KindWeather}},
		{"proven.photos", "proven.no_photos", []record.Kind{record.KindPhoto}},
		{"proven.sign_offs", "", []record.Kind{record.KindSignOff}},
	} {
		if t := r.recordsOf(part.kinds); len(t.Rows) > 0 || part.none != "" {
			r.listed(part.head, t, part.none)
		}
	}
	r.open()
}

// recordsOf is the records of some kinds in their order.
func (r *proof) recordsOf(kinds []record.Kind) *Table {
	t := &Table{Columns: []Column{r.column("time"), r.column("person"), r.View.words("what"), r.View.words("told")}}
	for _, l := range r.state.Log {
		for _, k := range kinds {
			if l.Kind() == k {
				t.Add(stampText(l.Time), l.Person, r.Say(kindOf(k)), r.taken(l, r.siteText(l)))
			}
		}
	}
	return t
}

// siteText is what a record tells, with what a proof must say besides.
func (r *proof) siteText(l record.Line) string {
	text := recordText(r.plan, r.View, l.Record)
	switch p := l.Payload.(type) {
	case *record.OverDig:
		key := phrase.Key("proven.remedy_open")
		if p.Done {
			key = "proven.remedy_in"
		}
		return joinWords(text, "("+r.Text(key)+")")
	case *record.Photo:
		return joinWords(text, "("+shortHash(p.Digest)+")")
	case *record.Direction:
		if p.Bottom != nil {
			return joinWords(text, "("+r.Text("proven.new_bottom", phrase.With("bottom", unit.Elevation(*p.Bottom)))+")")
		}
	}
	return text
}

// open are the findings that stop work and nobody released, and the log's own.
func (r *proof) open() {
	open := safety.Open(r.plan.Findings, r.state.StandingEntries(), safety.Watchman{Competent: r.plan.Job.Rules.CompetentPerson, Today: r.plan.Job.Today})
	s := &Sheet{View: r.View}
	s.heading("proven.open")
	for _, f := range append(r.state.Findings, open...) {
		s.Blocks = append(s.Blocks, Block{Kind: Finding, Text: s.finding(f), Severity: f.Severity})
	}
	if len(open)+len(r.state.Findings) == 0 {
		s.paragraph(s.Text("proven.none_open"))
	}
	s.asides(r.state)
	r.blocks(s)
}
