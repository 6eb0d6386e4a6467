package sheet

import (
	"math"
	"strings"

	"spadework/engine/level"
	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// LevelBook is a reduced level book with its page check and, where it closes,
// its misclosure. rule is nil where none was asked for.
func LevelBook(v View, run level.Run, r *level.Reduction, rule *level.Verdict) *Sheet {
	v.Style.Places = 3
	s := &Sheet{View: v}
	t := &Table{Columns: []Column{s.column("point"), s.figures("bs"), s.figures("is"), s.figures("fs"), s.figures("hi"), s.figures("height")}}
	if r.Closes {
		t.Columns = append(t.Columns, s.figures("correction"), s.figures("adjusted"))
	}
	for i, row := range r.Rows {
		line := run.Lines[i]
		hi := ""
		if row.Opens {
			hi = v.Style.ElevationFigure(row.HI)
		}
		cells := []string{row.Point, sightText(v, line.Back), sightText(v, line.Intermediate), sightText(v, line.Fore), hi, v.Style.ElevationFigure(row.Elevation)}
		if r.Closes {
			cells = append(cells, signed(v, row.Correction), v.Style.ElevationFigure(row.Adjusted))
		}
		t.Add(cells...)
	}
	s.table(t)
	s.line(s.Text("sheet.page_check", phrase.With("back", figure(v, r.SumBack)), phrase.With("fore", figure(v, r.SumFore)),
		phrase.With("difference", signed(v, r.SumBack-r.SumFore)), phrase.With("rise", signed(v, r.Last.Above(r.First)))))
	s.misclosure(r, rule)
	return s
}

// misclosure tells by how much the run misses and whether its rule lets it.
func (s *Sheet) misclosure(r *level.Reduction, rule *level.Verdict) {
	if !r.Closes {
		s.line(s.Text("sheet.open_run"))
		return
	}
	s.line(s.Text("sheet.misclosure", phrase.With("size", signed(s.View, r.Misclosure)), phrase.With("count", r.Setups)))
	if rule != nil {
		s.line(s.verdict(*rule))
	}
}

// sightText is a reading in three places, "" where none was taken.
func sightText(v View, s level.Sight) string {
	if !s.Taken {
		return ""
	}
	return figure(v, unit.Length(s.Reading))
}

// figure is a length in the unit of the book without its name.
func figure(v View, l unit.Length) string { return v.Style.ElevationFigure(unit.Elevation(l)) }

// minus writes the sign of a figure as signed does.
func minus(text string) string {
	if rest, negative := strings.CutPrefix(text, "-"); negative {
		return "−" + rest
	}
	return text
}

// signed is a figure of the book with its sign, as a book of levels has it.
func signed(v View, l unit.Length) string {
	text := figure(v, unit.Length(math.Abs(float64(l))))
	switch {
	case text == figure(v, 0):
		return text
	case l < 0:
		return "−" + text
	}
	return "+" + text
}

// JudgedLoop is a loop of a network beside its rule.
type JudgedLoop struct {
	Loop    level.Loop
	Verdict level.Verdict
}

// LevelNetwork is an adjusted network: heights with standard errors, every
// difference with its residual and flag, and the loops where a rule was asked
// for.
func LevelNetwork(v View, n level.Network, a *level.Adjusted, loops []JudgedLoop) *Sheet {
	v.Style.Places = 4
	s := &Sheet{View: v}
	t := &Table{Columns: []Column{s.column("point"), s.figures("height"), s.figures("error")}}
	for _, h := range a.Heights {
		e := figure(v, h.StandardError)
		if h.Fixed {
			e = s.Text("sheet.fixed")
		}
		t.Add(h.Point, v.Style.ElevationFigure(h.Elevation), e)
	}
	s.table(t)
	s.line(s.Text("sheet.network", phrase.With("redundancy", a.Redundancy), phrase.With("s0", figure(v, unit.Length(a.S0)))))
	d := &Table{Columns: []Column{s.column("difference"), s.figures("rise"), s.figures("residual"), s.figures("normalized"), s.words("verdict")}}
	for i, r := range a.Residuals {
		flag := ""
		if r.Blunder {
			flag = s.Text("sheet.blunder", phrase.With("limit", v.Style.Fixed(a.Critical, 2)))
		}
		o := n.Differences[i]
		d.Add(o.From+" – "+o.To, signed(v, o.Rise), signed(v, r.Residual), minus(v.Style.Fixed(r.Normalized, 2)), flag)
	}
	s.table(d)
	if len(loops) > 0 {
		s.heading("sheet.loops")
		s.table(s.loops(loops))
	}
	return s
}

// loops tells each loop with its misclosure before the adjustment.
func (s *Sheet) loops(loops []JudgedLoop) *Table {
	t := &Table{Columns: []Column{s.words("loop"), s.figures("misclosure"), s.words("verdict")}}
	for _, l := range loops {
		t.Add(strings.Join(l.Loop.Points, " – "), signed(s.View, l.Verdict.Misclosure), s.verdict(l.Verdict))
	}
	return t
}

// verdict tells a misclosure's limit and whether it keeps it.
func (s *Sheet) verdict(v level.Verdict) string {
	key := phrase.Key("sheet.rule_out")
	if v.Within {
		key = "sheet.rule_in"
	}
	return s.Text(key, phrase.With("limit", fine(s.View, v.Limit)))
}
