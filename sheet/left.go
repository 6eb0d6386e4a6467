package sheet

import (
	"spadework/engine/draw"
	"spadework/engine/phrase"
)

// Left is how a job was left at the end of a day or a shift: what the next crew
// must know before it digs. Its texts are the record's.
type Left struct {
	At, By   string // when and by whom, "" not told
	Weather  string
	Setups   []LeftSetup
	Digs     []LeftDig
	Services []LeftItem // exposed, marked, to be waited for
	Warnings []phrase.Finding
	Notes    []string
}

// LeftSetup is a set-up as it was left. Standing says that the laser still
// stands; its numbers need a close all the same.
type LeftSetup struct {
	Tag       string
	Standing  bool
	LastClose string // when and on what, "" none
}

// LeftDig is how far a dig has come.
type LeftDig struct {
	Excavation string
	Stage      phrase.Message
	Shots, Out int
	Open       bool // stands open, with its edge to be guarded
	Protected  phrase.Message
	Holds      []string // hold points still closed
}

// LeftItem is a thing and what is to be known of it.
type LeftItem struct{ ID, Text string }

// left lays out how the job was left; without a record it is a form to fill in.
func (b *book) left() {
	b.begin(b.Text("sheet.left_title"), "")
	b.words(draw.Strong, sizeBody, 0, b.Text("sheet.left_numbers"))
	b.col.gap(1)
	l := b.Left
	if l == nil {
		b.leftForm()
		return
	}
	b.words(draw.Strong, sizeHead, 0, b.Text("sheet.left_by", phrase.With("at", orDash(l.At)), phrase.With("by", orDash(l.By)), phrase.With("weather", orDash(l.Weather))))
	b.col.gap(1.5)
	s := &Sheet{View: b.View}
	for _, f := range l.Warnings {
		b.finding(Block{Text: s.finding(f), Severity: f.Severity})
	}
	b.leftSetups(l.Setups)
	b.leftDigs(l.Digs)
	for _, k := range l.Services {
		b.words(draw.Body, sizeBody, 0, k.ID+": "+k.Text)
	}
	for _, n := range l.Notes {
		b.words(draw.Body, sizeBody, 0, n)
	}
}

func (b *book) leftSetups(setups []LeftSetup) {
	if len(setups) == 0 {
		return
	}
	t := &Table{Columns: []Column{b.column("tag"), b.View.words("laser"), b.View.words("last_close")}}
	for _, s := range setups {
		key := phrase.Key("sheet.left_gone")
		if s.Standing {
			key = "sheet.left_standing"
		}
		t.Add(s.Tag, b.Text(key), orDash(s.LastClose))
	}
	b.table(t, 0)
}

func (b *book) leftDigs(digs []LeftDig) {
	if len(digs) == 0 {
		return
	}
	t := &Table{Columns: []Column{b.column("dig"), b.View.words("stage"), b.figures("shots"), b.figures("out"), b.View.words("open"), b.View.words("holds")}}
	for _, d := range digs {
		open := b.Text("sheet.left_closed")
		if d.Open {
			open = b.Text("sheet.left_open")
			if !d.Protected.IsZero() {
				open += "; " + b.Say(d.Protected)
			}
		}
		holds := "–"
		if len(d.Holds) > 0 {
			holds = ""
			for i, h := range d.Holds {
				if i > 0 {
					holds += ", "
				}
				holds += h
			}
		}
		t.Add(d.Excavation, b.Say(d.Stage), b.Style.Number(float64(d.Shots)), b.Style.Number(float64(d.Out)), open, holds)
	}
	b.table(t, 0)
}

// leftForm is the same with room to write, for a job without a record.
func (b *book) leftForm() {
	b.words(draw.Body, sizeBody, 0, b.Text("sheet.left_form"))
	b.col.gap(2)
	t := &Table{}
	for _, key := range []string{"dig", "stage", "shots", "open", "holds"} {
		col := b.column(key)
		col.Write = key != "dig"
		t.Columns = append(t.Columns, col)
	}
	for _, d := range b.plan.Digs {
		t.Add(d.Excavation.ID, "", "", "", "")
	}
	b.table(t, 7)
	f := &Table{}
	for _, key := range []string{"tag", "laser", "last_close", "by_time"} {
		col := b.column(key)
		col.Write = key != "tag"
		f.Columns = append(f.Columns, col)
	}
	for _, s := range b.plan.Setups {
		f.Add(s.ID, "", "", "")
	}
	if len(f.Rows) > 0 {
		b.table(f, writeRow)
	}
}
