package job

import (
	"strconv"
	"strings"

	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// Risk is the table [risk]. A zero is not told.
type Risk struct {
	Chance             unit.Chance // wanted least chance that a bottom is in
	OverDig            unit.Chance // chosen chance of over-dig at the first pass
	BumpsPerDay        float64     // of a laser
	Jump               unit.Length // of a bump, a standard deviation
	Tilt               unit.Grade  // likewise, an axis
	Twist              unit.Angle  // likewise, about the plumb line
	SettlingsPerDay    float64     // slow ones, which no alarm tells
	Misread            unit.Chance // of a reading
	BeamAlarm          unit.Chance // of a dig out because of the beam, from which numbers go
	CostOver, CostTrim float64     // per cubic metre of over-dig; per trimming
	Currency           string
}

// Closes is the table [closes]: when the rod is read back. A zero is not told.
type Closes struct {
	EveryDigs    int     // at most between two closes
	EveryMinutes float64 // likewise
	On           []string
	Benchmarks   int         // that a set-up must see
	Limit        unit.Length // within which a close is good
	AtRisk       float64     // digs expected at risk between two closes, at most
	DigsPerHour  float64
	Hours        float64   // of a day
	Start        float64   // of a day, hours after midnight
	Breaks       []float64 // likewise, rising
	Walk, Redo   float64   // price of one close, and of one dig done again
}

// Bounds of what a job may tell, so that a slip does not hide all else.
const (
	mostADay  = 1000
	mostTwist = 45 * unit.Degree
	mostLimit = unit.Metre
)

func (d *decoder) risk(t *table) Risk {
	out := Risk{
		Chance: t.chance("chance"), OverDig: t.chance("over_dig"), BumpsPerDay: t.upTo("bumps_per_day", mostADay),
		Jump: t.notNegative("jump"), Tilt: t.accuracy("tilt"), SettlingsPerDay: t.upTo("settlings_per_day", mostADay),
		Misread: t.chance("misread"), BeamAlarm: t.chance("beam_alarm"),
		CostOver: t.cost("cost_over"), CostTrim: t.cost("cost_trim"), Currency: t.text("currency"),
	}
	if s, ok := t.scalar("twist", "job.kind_bearing"); ok {
		v, err := t.units().Angle(s)
		t.parseFault("twist", err)
		t.within("twist", float64(v/unit.Degree), 0, float64(mostTwist/unit.Degree))
		out.Twist = v
	}
	t.done()
	return out
}

func (d *decoder) closes(t *table) Closes {
	out := Closes{
		EveryDigs: t.count("every_digs", 0), EveryMinutes: t.upTo("every_minutes", 24*60),
		On: t.names("on"), Benchmarks: t.count("benchmarks", 1), Limit: t.notNegative("limit"),
		AtRisk: t.upTo("at_risk", mostADay), DigsPerHour: t.upTo("digs_per_hour", mostADay), Hours: t.upTo("hours", 24),
		Walk: t.cost("walk"), Redo: t.cost("redo"),
	}
	t.within("limit", float64(out.Limit), 0, float64(mostLimit))
	if text := t.text("start"); text != "" {
		out.Start = t.timeOfDay("start", text)
	}
	for _, text := range t.names("breaks") {
		out.Breaks = append(out.Breaks, t.timeOfDay("breaks", text))
		if n := len(out.Breaks); n > 1 && out.Breaks[n-1] <= out.Breaks[n-2] && t.r.fault == nil {
			t.fail("breaks", phrase.New("job.breaks_order", phrase.With("value", text)), phrase.New("job.breaks_order.remedy"))
		}
	}
	t.done()
	return out
}

// upTo reads a figure from 0 to most; absent is 0.
func (t *table) upTo(key string, most float64) float64 {
	v := t.number(key, 0)
	t.within(key, v, 0, most)
	return v
}

// timeOfDay reads 09:30 as hours after midnight.
func (t *table) timeOfDay(key, text string) float64 {
	hour, minute, ok := strings.Cut(text, ":")
	h, err := strconv.Atoi(hour)
	m, err2 := strconv.Atoi(minute)
	if !ok || len(hour) != 2 || len(minute) != 2 || err != nil || err2 != nil || h < 0 || h > 23 || m < 0 || m > 59 {
		if t.r.fault == nil {
			t.fail(key, phrase.New("job.time_of_day", phrase.With("value", text)), phrase.New("job.time_of_day.remedy"))
		}
		return 0
	}
	return float64(h) + float64(m)/60
}
