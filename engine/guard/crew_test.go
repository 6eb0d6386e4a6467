package guard

import (
	"fmt"
	"strings"
	"testing"

	"spadework/engine/phrase"
	"spadework/engine/plan"
	"spadework/engine/record"
	"spadework/engine/unit"
	"spadework/exchange"
)

// yardHead is an invented yard of twelve footings, three benchmarks around and a
// laser whose line is filled in.
const yardHead = `[job]
name = "yard"
units = "m"
curvature = "none"
[ground]
level = 100
[[benchmark]]
id = "BM1"
at = [0, 0]
elevation = 100
sigma = "1 mm"
[[benchmark]]
id = "BM2"
at = [60, 0]
elevation = 100.2
sigma = "1 mm"
[[benchmark]]
id = "BM3"
at = [30, 50]
elevation = 99.9
sigma = "1 mm"
[[receiver]]
id = "R1"
dead_band = "3 mm"
[[rod]]
id = "R"
face = "metric"
longest = 5
[[setup]]
tag = "A1"
at = [30, 20]
backsights = [{ benchmark = "BM1", rod = 1.5 }, { benchmark = "BM2", rod = 1.3 }, { benchmark = "BM3", rod = 1.6 }]
`

const levelLaser = `[[laser]]
id = "L1"
accuracy = '10"'
range = 200
`

// tiltingLaser stays as it is knocked.
const tiltingLaser = levelLaser + "self_levels = false\n"

// yardPlan is the plan of the yard with a laser and more tables.
func yardPlan(t testing.TB, laser, more string) *plan.Plan {
	t.Helper()
	text := yardHead + laser
	for i := range 12 {
		text += fmt.Sprintf("[[excavation]]\nid = \"F%d\"\nkind = \"footing\"\nat = [%d, %d]\nsize = 1\nbottom = { elevation = 99 }\ntolerance = \"12 mm\"\n", i+1, 5+5*i, 10+(i%3)*10)
	}
	b, err := exchange.BundleOf("job.toml", func(string) ([]byte, error) { return []byte(text + more), nil })
	if err != nil {
		t.Fatal(err)
	}
	j, _, err := b.Job()
	if err != nil {
		t.Fatal(err)
	}
	p, f := plan.Make(j)
	if f != nil {
		t.Fatal(f)
	}
	return p
}

// phone is a device that writes records; crew keeps the true time.
type phone struct {
	name string
	off  int64 // of its clock, milliseconds
	head record.Head
	seen map[string]record.ID
	made []record.Record
}

type crew struct {
	t      testing.TB
	p      *plan.Plan
	now    int64
	phones []*phone
}

const morning = 1_777_881_600_000 // 2026-05-04T08:00:00Z

func newCrew(t testing.TB, p *plan.Plan, names ...string) *crew {
	c := &crew{t: t, p: p, now: morning}
	for _, n := range names {
		c.phones = append(c.phones, &phone{name: n, seen: map[string]record.ID{}})
	}
	return c
}

// wait lets minutes pass.
func (c *crew) wait(minutes int64) *crew { c.now += minutes * 60_000; return c }

// add writes a record on a phone five minutes later.
func (c *crew) add(ph *phone, payload record.Payload) record.Record {
	c.t.Helper()
	c.now += 300_000
	d := record.Draft{Job: "yard", Device: ph.name, Person: "P-" + ph.name, Payload: payload, Time: record.Stamp{Millis: c.now + ph.off}}
	for _, id := range ph.seen {
		d.Seen = append(d.Seen, id)
	}
	ph.seen = map[string]record.ID{}
	random := [10]byte{byte(len(ph.made)), byte(len(ph.made) >> 8), ph.name[0]}
	r, head, f := ph.head.Next(d, c.now+ph.off, random)
	if f != nil {
		c.t.Fatalf("%s cannot write %s: %v", ph.name, payload.Kind(), f)
	}
	ph.head = head
	ph.made = append(ph.made, r)
	return r
}

// sync tells every phone what the others made.
func (c *crew) sync() {
	for _, ph := range c.phones {
		for _, o := range c.phones {
			if o != ph && len(o.made) > 0 {
				last := o.made[len(o.made)-1]
				ph.seen[o.name] = last.ID
				ph.head = ph.head.Saw(last)
			}
		}
	}
}

func (c *crew) records() []record.Record {
	var out []record.Record
	for _, ph := range c.phones {
		out = append(out, ph.made...)
	}
	return out
}

func (c *crew) state() *record.State { return record.Replay(record.Input{Records: c.records()}) }

// beams is the watch over what was written so far.
func (c *crew) beams() []Beam {
	c.t.Helper()
	out, f := Beams(c.p, c.state(), "")
	if f != nil {
		c.t.Fatal(f)
	}
	return out
}

// beam is the watch over the first tag.
func (c *crew) beam() Beam { c.t.Helper(); return c.beams()[0] }

func ptr[T any](v T) *T { return &v }

// setup is a set-up in the middle of the yard with sights on all benchmarks.
func setup(tag string) *record.SetupMade {
	return &record.SetupMade{Tag: tag, Laser: "L1", Rod: "R", At: &[2]unit.Length{30, 20}, HI: ptr(unit.Elevation(101.5)),
		Sights: []record.BacksightReading{{Benchmark: "BM1", Elevation: 100, Rod: 1.5}, {Benchmark: "BM2", Elevation: 100.2, Rod: 1.3}, {Benchmark: "BM3", Elevation: 99.9, Rod: 1.6}}}
}

// rods are what the nominal beam reads on the benchmarks.
var rods = map[string]unit.Reading{"BM1": 1.5, "BM2": 1.3, "BM3": 1.6}

func closeOn(s record.Record, point string, off unit.Length) *record.Close {
	return &record.Close{Setup: s.ID, On: record.OnBenchmark, Point: point,
		ProofReading: record.ProofReading{Reading: rods[point] + unit.Reading(off), Expected: rods[point], Limit: 0.005}}
}

// shot is a rod on a footing's middle, off metres over its bottom.
func shot(s record.Record, n int, off unit.Length) *record.CheckShot {
	return &record.CheckShot{Setup: s.ID, Excavation: fmt.Sprintf("F%d", n), From: record.FromEdge, Bottom: 99, At: placeOf(n),
		Above: ptr(unit.Length(0.012)), Below: ptr(unit.Length(0.012)), Beam: ptr(unit.Elevation(101.5)), Reading: ptr(unit.Reading(2.5 - off))}
}

func placeOf(n int) *[2]unit.Length {
	i := n - 1
	return &[2]unit.Length{unit.Length(5 + 5*i), unit.Length(10 + (i%3)*10)}
}

func event(k record.Kind) *record.LaserEvent { return &record.LaserEvent{What: k, Laser: "L1"} }

// said is all that a beam says to do, in a language.
func spoken(b Beam, lang phrase.Language) string {
	lines := []string{b.Head().Render(lang, unit.Style{})}
	for _, m := range b.Do {
		lines = append(lines, m.Render(lang, unit.Style{}))
	}
	return strings.Join(lines, "\n")
}
