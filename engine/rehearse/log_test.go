package rehearse

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"spadework/engine/guard"
	"spadework/engine/plan"
	"spadework/engine/record"
	"spadework/engine/unit"
	"spadework/engine/watch"
	"spadework/exchange"
)

// logPlan is a job on the site of a day of bumps: its closing points as benchmarks,
// a laser that stays as it is knocked, the day's own figures in [risk].
func logPlan(t *testing.T, s BumpDay) *plan.Plan {
	t.Helper()
	text := fmt.Sprintf(`[job]
name = "a day"
units = "m"
curvature = "none"
[ground]
level = 100
[risk]
bumps_per_day = 1
jump = "%g mm"
tilt = '40"'
[[laser]]
id = "L1"
accuracy = "0.1 mm/m"
range = 200
self_levels = false
[[rod]]
id = "R"
face = "metric"
longest = 5
[[excavation]]
id = "F"
kind = "footing"
at = [5, 5]
size = 1
bottom = { elevation = 99 }
`, 1000*s.Height)
	for i := range s.Points {
		at := s.corner(i)
		text += fmt.Sprintf("[[benchmark]]\nid = \"%c\"\nat = [%g, %g]\nelevation = 100\nsigma = \"%g mm\"\n", 'A'+i, at.X, at.Y, 1000*s.Known)
	}
	b, err := exchange.BundleOf("job.toml", func(string) ([]byte, error) { return []byte(text), nil })
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

// scribe writes a day as one phone's records.
type scribe struct {
	t    *testing.T
	head record.Head
	made []record.Record
}

func (s *scribe) write(at watch.Hours, p record.Payload) record.Record {
	const morning = 1_777_881_600_000
	now := morning + int64(math.Round(float64(at)*3_600_000))
	r, head, f := s.head.Next(record.Draft{Job: "day", Device: "a", Person: "A", Payload: p, Time: record.Stamp{Millis: now}}, now, [10]byte{byte(len(s.made))})
	if f != nil {
		s.t.Fatal(f)
	}
	s.head = head
	s.made = append(s.made, r)
	return r
}

func told[T any](v T) *T { return &v }

// recordsOf is a day as its log: the set-up with its backsights, each dig shot On as
// it is dug, a close on every point. The first n readings are those of the set-up.
func recordsOf(t *testing.T, s BumpDay, l watch.Log) []record.Record {
	const beam, bottom, known = 101.5, 99.0, 100.0
	pen := &scribe{t: t}
	made := &record.SetupMade{Tag: "A1", Laser: "L1", Rod: "R", At: &[2]unit.Length{unit.Length(l.Setup.At.X), unit.Length(l.Setup.At.Y)}, HI: told(unit.Elevation(beam))}
	for _, r := range l.Readings[:s.Points] {
		made.Sights = append(made.Sights, record.BacksightReading{Benchmark: r.Point, Elevation: known, Rod: unit.Reading(beam-known) + unit.Reading(r.Off)})
	}
	setup := pen.write(0, made)
	reads, digs := l.Readings[s.Points:], l.Digs
	for len(reads) > 0 || len(digs) > 0 {
		if len(digs) > 0 && (len(reads) == 0 || digs[0].Dug < reads[0].At) {
			d := digs[0]
			digs = digs[1:]
			pen.write(d.Dug, &record.CheckShot{Setup: setup.ID, Excavation: d.ID, From: record.FromEdge, Bottom: bottom, Call: record.On,
				At: &[2]unit.Length{unit.Length(d.At.X), unit.Length(d.At.Y)}, Above: told(d.Band.Above), Below: told(d.Band.Below)})
			continue
		}
		r := reads[0]
		reads = reads[1:]
		pen.write(r.At, &record.Close{Setup: setup.ID, On: record.OnBenchmark, Point: r.Point,
			ProofReading: record.ProofReading{Reading: unit.Reading(beam-known) + unit.Reading(r.Off), Expected: beam - known, Limit: 0.1}})
	}
	return pen.made
}

// TestTheLogSaysWhatHappened: a simulated day handed over as log records alone comes
// back as the readings and digs that it was, but for the minute between two records;
// judged with the same habits it has the same verdict.
func TestTheLogSaysWhatHappened(t *testing.T) {
	tooSlowInThePhone(t)
	s := ReferenceBumps()
	p := logPlan(t, s)
	r := NewRand(3)
	for day := range 6 {
		l, _ := s.Day(r, day%2 == 0)
		beams, f := guard.Beams(p, record.Replay(record.Input{Records: recordsOf(t, s, l)}), "")
		if f != nil || len(beams) != 1 || !beams[0].Judged {
			t.Fatalf("day %d: %d beams, %v", day, len(beams), f)
		}
		got := beams[0].Log
		if len(got.Readings) != len(l.Readings) || len(got.Digs) != len(l.Digs) || !(math.Abs(float64(got.Setup.Tilt-l.Setup.Tilt)) <= 1e-12) {
			t.Fatalf("day %d: %d readings and %d digs, want %d and %d; tilt %g, want %g", day, len(got.Readings), len(got.Digs), len(l.Readings), len(l.Digs), got.Setup.Tilt, l.Setup.Tilt)
		}
		for i, want := range l.Readings {
			if g := got.Readings[i]; g.Point != want.Point || g.Sigma != want.Sigma || !(math.Abs(float64(g.Off-want.Off)) <= 1e-12) || !(math.Abs(float64(g.At-want.At)) <= 0.06) {
				t.Errorf("day %d, reading %d: %+v, want %+v (tol 1e-12 m, 0.06 h)", day, i, g, want)
			}
		}
		for _, want := range l.Digs {
			i := slices.IndexFunc(got.Digs, func(d watch.Dig) bool { return d.ID == want.ID })
			if g := got.Digs[i]; g.Band != want.Band || !(g.At.Distance(want.At.Add(got.Setup.At.Sub(l.Setup.At))) <= 2e-6) || !(math.Abs(float64(g.Dug-want.Dug)) <= 0.06) {
				t.Errorf("day %d, dig %s: %+v, want %+v (from the laser; tol 2 µm, 0.06 h)", day, want.ID, g, want)
			}
		}
		got.Habits = l.Habits
		a, f := watch.Judge(got, watch.DefaultLimit)
		b, f2 := watch.Judge(l, watch.DefaultLimit)
		if f != nil || f2 != nil || a.State.Numbers() != b.State.Numbers() || !(math.Abs(float64(a.Out-b.Out)) <= 0.05) {
			t.Errorf("day %d: by the log %s, out %.3f; by the day %s, out %.3f (tol 0.05: draws, a minute between records)", day, a.State, a.Out, b.State, b.Out)
		}
	}
}

// throughLog says whether the numbers went at some close of a day, as the watch on
// the log's records has it.
func throughLog(t *testing.T, p *plan.Plan, s BumpDay, l watch.Log) bool {
	records := recordsOf(t, s, l)
	for i, r := range records {
		next := i+1 == len(records) || records[i+1].Kind() != record.KindClose
		if r.Kind() != record.KindClose || !next {
			continue
		}
		beams, f := guard.Beams(p, record.Replay(record.Input{Records: records[:i+1]}), "")
		if f != nil {
			t.Fatal(f)
		}
		if !beams[0].Numbers {
			return true
		}
	}
	return false
}

// TestTheWatchOnALog: the reference scenario by the log's records and what the watch
// takes of a job that tells nothing but its bumps: settling, misreads and moved or
// wrong benchmarks are in its odds although none of them happens. At most 1 % of the
// bad bottoms escape.
func TestTheWatchOnALog(t *testing.T) {
	tooSlowInThePhone(t)
	s := ReferenceBumps()
	p := logPlan(t, s)
	days := bumpDays(1000, 15)
	bad, missed, missedDays, falseDays := 0, 0, 0, 0
	r := NewRand(seed + 2)
	for range days {
		l, out := s.Day(r, true)
		count := 0
		for _, is := range out {
			if is {
				count++
			}
		}
		bad += count
		if count > 0 && !throughLog(t, p, s, l) {
			missed, missedDays = missed+count, missedDays+1
		}
	}
	r = NewRand(seed + 1)
	for range days {
		if l, _ := s.Day(r, false); throughLog(t, p, s, l) {
			falseDays++
		}
	}
	t.Logf("the watch on a log: %.1f · %.2f %% · %.2f %% (%d days of each sort, %d bad bottoms)", 1000*float64(missedDays)/float64(days),
		100*float64(missed)/float64(bad), 100*float64(falseDays)/float64(days), days, bad)
	if bad == 0 || !(float64(missed) <= 0.01*float64(bad)) {
		t.Errorf("%d of %d bad bottoms escape, want 1 %% at most", missed, bad)
	}
	if !(float64(falseDays) <= 0.1*float64(days)) {
		t.Errorf("%d of %d unbumped days lose their numbers", falseDays, days)
	}
}
