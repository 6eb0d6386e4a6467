package sheet

import (
	"spadework/engine/level"
	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// FourWay is what four turns of a laser's head show of it. allowed is the
// accuracy to hold it to, 0 for none.
func FourWay(v View, c level.LaserCheck, allowed unit.Grade) *Sheet {
	s := &Sheet{View: v}
	t := &Table{Columns: []Column{s.column("shown"), s.figures("slope"), s.figures("seconds")}}
	for _, row := range []struct {
		key phrase.Key
		g   unit.Grade
	}{{"sheet.tilt_along", c.A}, {"sheet.tilt_across", c.B}, {"sheet.tilt", c.Tilt}, {"sheet.twist", c.Twist}} {
		t.Add(s.Text(row.key), perMille(v, row.g), seconds(v, row.g))
	}
	if c.Coned {
		t.Add(s.Text("sheet.cone"), perMille(v, c.Cone), seconds(v, c.Cone))
	}
	s.table(t)
	s.hold(c.Tilt, allowed)
	s.paragraph(s.Text("sheet.level_spin"))
	return s
}

// PegTest is the tilt of a level's line of sight.
func PegTest(v View, c level.Collimation, allowed unit.Grade) *Sheet {
	v.Style.Places = 4
	s := &Sheet{View: v}
	t := &Table{Columns: []Column{s.column("shown"), s.figures("slope"), s.figures("seconds")}}
	t.Add(s.Text("sheet.collimation"), perMille(v, c.Tilt), seconds(v, c.Tilt))
	s.table(t)
	s.line(s.Text("sheet.peg_rise", phrase.With("rise", signed(v, c.Rise))))
	s.hold(max(c.Tilt, -c.Tilt), allowed)
	return s
}

// hold says whether a tilt keeps an accuracy.
func (s *Sheet) hold(tilt, allowed unit.Grade) {
	if allowed == 0 {
		return
	}
	key := phrase.Key("sheet.accuracy_out")
	if tilt <= allowed {
		key = "sheet.accuracy_in"
	}
	s.line(s.Text(key, phrase.With("allowed", perMille(s.View, allowed)), phrase.With("seconds", seconds(s.View, allowed))))
}

// perMille is a small slope in millimetres a metre.
func perMille(v View, g unit.Grade) string {
	return minus(v.Style.Fixed(float64(g)*1000, 3)) + " mm/m"
}

// seconds is a small slope as an angle in seconds of arc; for slopes this small
// the angle and its tangent are one (1′: 3e-8 of it).
func seconds(v View, g unit.Grade) string {
	return minus(v.Style.Fixed(float64(g)/float64(unit.ArcSecond), 1)) + "″"
}
