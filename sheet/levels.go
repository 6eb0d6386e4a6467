package sheet

import (
	"math"

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
	if rule == nil {
		return
	}
	key := phrase.Key("sheet.rule_out")
	if rule.Within {
		key = "sheet.rule_in"
	}
	s.line(s.Text(key, phrase.With("limit", fine(s.View, rule.Limit))))
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

// LevelNetwork is an adjusted network: heights with standard errors, and every
// difference with its residual and flag.
func LevelNetwork(v View, n level.Network, a *level.Adjusted) *Sheet {
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
	s.line(s.Text("sheet.network", phrase.With("redundancy", a.Redundancy), phrase.With("s0", v.Style.Fixed(a.S0, 4))))
	d := &Table{Columns: []Column{s.column("difference"), s.figures("rise"), s.figures("residual"), s.figures("normalized"), s.words("verdict")}}
	for i, r := range a.Residuals {
		flag := ""
		if r.Blunder {
			flag = s.Text("sheet.blunder", phrase.With("limit", v.Style.Fixed(a.Critical, 2)))
		}
		o := n.Differences[i]
		d.Add(o.From+" – "+o.To, signed(v, o.Rise), signed(v, r.Residual), v.Style.Fixed(r.Normalized, 2), flag)
	}
	s.table(d)
	return s
}
