package plan_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"spadework/engine/beam"
	"spadework/engine/phrase"
	"spadework/engine/plan"
	"spadework/engine/reception"
	"spadework/engine/unit"
	"spadework/exchange"
)

// siteHead is a job in metres on level ground at 100.000 without any set-up.
const siteHead = `[job]
name = "site"
units = "m"
[[benchmark]]
id = "BM1"
at = [%[1]d, %[2]d]
elevation = 100.5
[ground]
level = 100
[[laser]]
id = "L1"
accuracy = "1.5 mm per 30 m"
range = 60
axes = 2
steepest = "10 %%"
steepest_cross = "10 %%"
step = "0.001 %%"
heights = [1.2, 2.0]
[[rod]]
id = "R1"
face = "metric"
shortest = 0.5
longest = 4
[[receiver]]
id = "rec"
dead_band = "2 mm"
`

// sitePad is a pad of 2 × 2 m.
func sitePad(id string, x, y, bottom float64) string {
	return fmt.Sprintf("[[excavation]]\nid = %q\nkind = \"pad\"\nat = [%.3f, %.3f]\nsize = [2, 2]\nbottom = { elevation = %.3f }\ntolerance = \"30 mm\"\n", id, x, y, bottom)
}

func sitePlan(t *testing.T, text string) *plan.Plan {
	t.Helper()
	j, _, err := exchange.ReadJob("job.toml", []byte(text), nil)
	if err != nil {
		t.Fatal(err)
	}
	p, fault := plan.Make(j)
	if fault != nil {
		t.Fatal(fault)
	}
	return p
}

// The window by hand: the tripod holds the beam from 101.2 to 102.0; the rod on
// the bottom at 99 reads 0.5 to 4 m from 99.5 to 103, on the benchmark at 100.5
// from 101.0 to 104.5. Over the eyes, 6 ft (1.829 m) over the ground, the wider
// part is left: its middle is (101.8288 + 102)/2 = 101.9144.
func TestAPlannedSetupKeepsTheWindowWorkedOutByHand(t *testing.T) {
	p := sitePlan(t, fmt.Sprintf(siteHead, 0, 0)+sitePad("P1", 20, 5, 99))
	if len(p.Setups) != 1 || p.Siting == nil || p.Siting.Count != 1 || p.Siting.Bound != 1 || !p.Siting.Proven {
		t.Fatalf("set-ups %d, siting %+v; want one, proven", len(p.Setups), p.Siting)
	}
	s := p.Setups[0]
	if s.ID != "S1" || s.State != beam.Planned || s.Window == nil {
		t.Fatalf("set-up %s is %v with window %v; want S1, planned, with one", s.ID, s.State, s.Window)
	}
	const tol = 1e-9 // m, float64 of sums of given figures; curvature in 60 m is 0.24 mm
	for _, c := range []struct {
		name      string
		got, want float64
		tol       float64
	}{
		{"low", float64(s.Window.Low), 101.2, tol}, {"high", float64(s.Window.High), 102, tol},
		{"target", float64(s.Plane.HI), 101.9144, 1e-6},
	} {
		if !(math.Abs(c.got-c.want) <= c.tol) {
			t.Errorf("%s = %.6f, want %.6f (%g)", c.name, c.got, c.want, c.tol)
		}
	}
	for _, n := range p.Numbers {
		if n.State != beam.Planned || n.Setup != "S1" {
			t.Errorf("number at %s is %v from %q, want planned from S1", n.Name, n.State, n.Setup)
		}
	}
	if e := p.Expected(s); len(e) != 1 || e[0].Benchmark != "BM1" {
		t.Errorf("expected rods %v, want one on BM1", e)
	}
}

// Pads 100 m apart share a laser of 60 m range, 130 m apart they cannot; the
// benchmark lies between them, in reach of every place that serves.
func TestDigsBeyondTwiceTheRangeTakeTwoSetups(t *testing.T) {
	for _, c := range []struct {
		apart float64
		want  int
	}{{100, 1}, {110, 1}, {125, 2}} {
		p := sitePlan(t, fmt.Sprintf(siteHead, 0, 10)+sitePad("P1", -c.apart/2, 0, 99)+sitePad("P2", c.apart/2, 0, 99))
		if p.Siting == nil || p.Siting.Count != c.want || !p.Siting.Proven || len(p.Unserved) != 0 {
			t.Errorf("%g m apart: %+v, unserved %v; want %d set-ups, proven", c.apart, p.Siting, p.Unserved, c.want)
		}
	}
}

// A bottom at 96.5 wants the beam at or under 100.5, with the tripod at 101.2 or
// over: 0.7 m too high at every place, but for curvature, and an inch more to
// leave room to set it.
func TestADigThatNoPlaceServesIsNamedWithTheReason(t *testing.T) {
	p := sitePlan(t, fmt.Sprintf(siteHead, 0, 0)+sitePad("P1", 20, 5, 99)+sitePad("P2", 40, 5, 96.5))
	if len(p.Unserved) != 1 || p.Unserved[0].Excavation != "P2" {
		t.Fatalf("unserved %v, want P2", p.Unserved)
	}
	why := p.Unserved[0].Reason.Render(phrase.English, unit.Style{})
	if !strings.Contains(why, "hold the beam 0.725") {
		t.Errorf("reason %q, want the beam 0.725 m too high", why)
	}
}

// A live set-up that reaches a dig is kept; the other dig gets one of its own.
func TestLiveSetupsAreKept(t *testing.T) {
	live := "[[setup]]\ntag = \"A1\"\nat = [-50, 10]\nhi = 101.5\n"
	p := sitePlan(t, fmt.Sprintf(siteHead, 0, 10)+live+sitePad("P1", -60, 0, 99)+sitePad("P2", 60, 0, 99))
	if len(p.Setups) != 2 || p.Setups[0].ID != "A1" || p.Setups[1].ID != "S1" {
		t.Fatalf("set-ups %v, want A1 and S1", len(p.Setups))
	}
	for _, n := range p.Numbers {
		if want := map[string]string{"P1": "A1", "P2": "S1"}[n.Excavation]; n.Setup != want {
			t.Errorf("%s has a number from %s, want %s", n.Excavation, n.Setup, want)
		}
	}
}

// A trench that wants one rod gets a dial of its own; the pad a level beam.
func TestATrenchForOneRodGetsItsDial(t *testing.T) {
	trench := "[[excavation]]\nid = \"T1\"\nkind = \"trench\"\nline = [[0, 20], [30, 20]]\nwidth = 0.6\ninverts = [{ station = 0, invert = 99 }]\nfall = \"2 %\"\none_rod = true\ntolerance = \"30 mm\"\n"
	p := sitePlan(t, fmt.Sprintf(siteHead, 0, 10)+trench+sitePad("P1", 20, 0, 99))
	if len(p.Setups) != 2 || len(p.Unserved) != 0 {
		t.Fatalf("%d set-ups, unserved %v; want two, a level one and a dialled one", len(p.Setups), p.Unserved)
	}
	rods := map[unit.Reading]bool{}
	for _, n := range p.Numbers {
		s, _ := p.Setup(n.Setup)
		if s.Level() == (n.Excavation == "T1") {
			t.Errorf("%s has its number from %s, level %v", n.Excavation, n.Setup, s.Level())
		}
		if n.Excavation == "T1" {
			rods[unit.Reading(math.Round(float64(n.Rod)*1000))] = true
		}
	}
	if len(rods) != 1 {
		t.Errorf("rods along T1 in mm: %v, want one", rods)
	}
}

// received checks every number of planned set-ups at the ends and the target of
// their windows against the reception room.
func received(t *testing.T, p *plan.Plan) {
	t.Helper()
	field, err := reception.New(reception.Site{Ground: p.Job.Existing.Surface, Range: p.Job.Lasers[0].Range, Curvature: p.Job.Curvature})
	if err != nil {
		t.Fatal(err)
	}
	for _, n := range p.Numbers {
		s, _ := p.Setup(n.Setup)
		if s.State != beam.Planned {
			continue
		}
		target := reception.Target{At: n.At, Bottom: n.Bottom, Lowest: unit.Length(s.Rod.Shortest), Highest: unit.Length(s.Rod.Longest)}
		laser := reception.Laser{At: s.Plane.At, Gradient: s.Plane.Gradient}
		for _, h := range []unit.Elevation{s.Window.Low, s.Plane.HI, s.Window.High} {
			if why := field.Why(laser, h, target); why.Kind != reception.Served {
				t.Errorf("%s %s from %s at %.4f: %+v", n.Excavation, n.Name, s.ID, float64(h), why)
			}
		}
	}
}

// siteJob is a few digs of different depths in a row, seeded, at an offset.
func siteJob(seed, east, north int) string {
	var b strings.Builder
	fmt.Fprintf(&b, siteHead, east, north)
	x := uint32(seed)*2654435761 + 12345
	next := func(n float64) float64 {
		x = x*1664525 + 1013904223
		return n * float64(x>>8) / (1 << 24)
	}
	for i := range 8 {
		b.WriteString(sitePad(fmt.Sprintf("P%d", i+1), float64(east)+math.Round(next(160))-80, float64(north)+math.Round(next(100))-50, 97.5+math.Round(next(2)*100)/100))
	}
	fmt.Fprintf(&b, "[[excavation]]\nid = \"T1\"\nkind = \"trench\"\nline = [[%d, %d], [%d, %d]]\nwidth = 0.6\ninverts = [{ station = 0, invert = 99 }]\nfall = \"1 %%\"\ntolerance = \"30 mm\"\n",
		east-70, north+60, east+70, north+60)
	return b.String()
}

func TestPlannedNumbersAreReceivedAtEveryHeightOfTheirWindow(t *testing.T) {
	for seed := range 8 {
		p := sitePlan(t, siteJob(seed, 0, 0))
		if len(p.Setups) == 0 {
			t.Errorf("seed %d: no set-up planned", seed)
		}
		received(t, p)
	}
}

// Coordinates as large as a country's grid must not move a place.
func TestPlacesDoNotDependOnTheOrigin(t *testing.T) {
	for seed := range 4 {
		a, b := sitePlan(t, siteJob(seed, 0, 0)), sitePlan(t, siteJob(seed, 500_000, 4_900_000))
		if len(a.Setups) != len(b.Setups) {
			t.Fatalf("seed %d: %d set-ups, shifted %d", seed, len(a.Setups), len(b.Setups))
		}
		for i := range a.Setups {
			at, shifted := a.Job.Origin.Job(a.Setups[i].Plane.At), b.Job.Origin.Job(b.Setups[i].Plane.At)
			if a.Setups[i].ID != b.Setups[i].ID || !(math.Abs(shifted.X-500_000-at.X) <= 1e-4) || !(math.Abs(shifted.Y-4_900_000-at.Y) <= 1e-4) {
				t.Errorf("seed %d: %s at %v, shifted %s at %v; want the same place to 0.1 mm", seed, a.Setups[i].ID, at, b.Setups[i].ID, shifted)
			}
		}
	}
}

// Ended early or worked in small steps, a plan is whole.
func TestAMakerCanBeEndedAndStepped(t *testing.T) {
	j, _, err := exchange.ReadJob("job.toml", []byte(siteJob(1, 0, 0)), nil)
	if err != nil {
		t.Fatal(err)
	}
	ended, fault := plan.NewMaker(j)
	if fault != nil {
		t.Fatal(fault)
	}
	ended.Step(1)
	if _, done, total := ended.Stage(); !(done > 0 && done < total) {
		t.Errorf("after one step %d of %d places, want some", done, total)
	}
	early, fault := ended.Plan()
	if fault != nil || len(early.Setups) != 0 || len(early.Unserved) != 9 {
		t.Errorf("ended while places are surveyed: fault %v, %d set-ups; want none", fault, len(early.Setups))
	}
	stepped, _ := plan.NewMaker(j)
	for !stepped.Step(1_000_000) {
	}
	slow, _ := stepped.Plan()
	whole, _ := plan.Make(j)
	if string(slow.AppendJSON(nil)) != string(whole.AppendJSON(nil)) {
		t.Error("a plan in small steps differs from one in large steps")
	}
}
