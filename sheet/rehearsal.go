package sheet

import (
	"strconv"
	"strings"

	"spadework/engine/phrase"
	"spadework/engine/rehearse"
	"spadework/engine/unit"
)

// Rehearsed is what came of days rehearsed with one kind of bump and one way of
// closing.
type Rehearsed struct {
	Day     rehearse.BumpDay
	Escapes rehearse.Escapes // of the watch
	Alarm   float64          // chance of a dig out that one unbumped day in a hundred passes
}

// Rehearsal tells days that were rehearsed: what was taken for true, then what the
// watch let through.
func Rehearsal(v View, rows []Rehearsed, days int, seed uint64) *Sheet {
	s := &Sheet{View: v}
	if len(rows) == 0 {
		return s
	}
	d := rows[0].Day
	s.paragraph(s.Text("sheet.rehearse_days", phrase.With("days", days), phrase.With("seed", strconv.FormatUint(seed, 10)), phrase.With("digs", d.Digs),
		phrase.With("east", unit.Length(d.Size[0])), phrase.With("north", unit.Length(d.Size[1])), phrase.With("points", d.Points),
		phrase.With("height", unit.Length(d.Height)), phrase.With("tolerance", unit.Length(d.Tolerance))))
	t := &Table{Columns: []Column{s.figures("per_close"), s.column("bump"), s.figures("bad"), s.figures("escape"), s.figures("false_alarms")}}
	for _, r := range rows {
		t.Add(strconv.Itoa(r.Day.PerClose), s.Text(phrase.Key("sheet.bump_"+kindWord(r.Day.Kind))), strconv.Itoa(r.Escapes.Bad),
			s.Style.Chance(unit.Chance(r.Escapes.Bottoms)), s.Style.Chance(unit.Chance(r.Escapes.False)))
	}
	s.table(t)
	s.paragraph(s.Text("sheet.rehearse_limits"))
	alarm := 0.0
	for _, r := range rows {
		alarm = max(alarm, r.Alarm)
	}
	s.paragraph(s.Text("sheet.rehearse_alarm", phrase.With("alarm", strconv.FormatFloat(alarm, 'g', 2, 64)), phrase.With("days", days)))
	return s
}

// Budget adds days drawn from the job's own budget without a bump: what was told of
// their bottoms and what came of them.
func (s *Sheet) Budget(b rehearse.Verdict) {
	gap, z := b.Worst()
	s.paragraph(s.Text("sheet.rehearse_budget", phrase.With("days", b.Days), phrase.With("bottoms", b.Digs), phrase.With("told", unit.Chance(b.Told)),
		phrase.With("happened", unit.Chance(1-b.Out)), phrase.With("over", unit.Chance(b.Over)), phrase.With("gap", unit.Chance(gap)),
		phrase.With("z", s.Style.Fixed(z, 1))))
}

// kindWord is a kind of bump as its text's key has it.
func kindWord(k rehearse.Bumped) string {
	word, _, _ := strings.Cut(strings.TrimPrefix(string(k), "height and "), ",")
	return strings.ReplaceAll(word, " ", "_")
}
