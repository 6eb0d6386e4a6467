package plan_test

import (
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"testing"

	"spadework/engine/beam"
	"spadework/engine/plan"
	"spadework/engine/trust"
	"spadework/engine/unit"
)

// trustHead is a job in metres with two benchmarks, a laser of 10″ and a receiver.
const trustHead = `[job]
name = "trust"
units = "m"
%s
[[benchmark]]
id = "BM1"
at = [0, 0]
elevation = 100
sigma = "2 mm"
[[benchmark]]
id = "BM2"
at = [60, 0]
elevation = 100
sigma = "2 mm"
[ground]
level = 100
[[laser]]
id = "L1"
accuracy = '10"'
range = 200
heights = [1, 2]
[[receiver]]
id = "R1"
dead_band = "6 mm"
[[rod]]
id = "R1"
face = "metric"
longest = 5
[practice]
cutting = "20 mm"
trimming = "5 mm"
refraction = 0
rod_plumb = 0
[[machine]]
id = "M1"
guidance = "%s"
%s
[[excavation]]
id = "F1"
kind = "footing"
at = [40, 30]
size = 1
bottom = { elevation = 99 }
tolerance = { above = 0, below = "25 mm" }
%s
`

const (
	readOne  = "[[setup]]\ntag = \"A1\"\nat = [20, 20]\nbacksights = [{ benchmark = \"BM1\", rod = 1.5 }]\n"
	readBoth = "[[setup]]\ntag = \"A1\"\nat = [20, 20]\nbacksights = [{ benchmark = \"BM1\", rod = 1.5 }, { benchmark = \"BM2\", rod = 1.5 }]\n"
	planned  = "[[setup]]\ntag = \"A2\"\nat = [20, 20]\n"
)

func trustJob(t *testing.T, head, guidance, machine, setups string) *plan.Plan {
	t.Helper()
	return makePlan(t, fmt.Sprintf(trustHead, head, guidance, machine, setups))
}

// numberFrom is the number of F1 from a set-up.
func numberFrom(t *testing.T, p *plan.Plan, setup string) plan.Number {
	t.Helper()
	i := slices.IndexFunc(p.Numbers, func(n plan.Number) bool { return n.Excavation == "F1" && n.Setup == setup })
	if i < 0 {
		t.Fatalf("F1 has no number from %s", setup)
	}
	return p.Numbers[i]
}

// TestSigmaByHand: one backsight on BM1, laser 10″, dead band 6 mm, rod to 1 mm,
// trimming ±5 mm (algebra).
func TestSigmaByHand(t *testing.T) {
	n := numberFrom(t, trustJob(t, "", "rod", "", readOne), "A1")
	tilt := 10 * math.Pi / 180 / 3600 / math.Sqrt(3) * 50 // BM1 to F1 is 50 m
	sight := 0.002*0.002 + 0.002*0.002
	own := 0.006*0.006/12 + 0.001*0.001/12
	for _, c := range []struct {
		what      string
		got, want float64
	}{
		{"sigma_beam", float64(n.Trust.Beam), math.Sqrt(sight + tilt*tilt)},
		{"sigma", float64(n.Trust.Final), math.Sqrt(sight + tilt*tilt + own + 0.005*0.005/3)},
		{"sigma of the first pass", float64(n.Trust.First), math.Sqrt(sight + tilt*tilt + own + 0.020*0.020/3)},
	} {
		if !(math.Abs(c.got-c.want) <= 1e-9) {
			t.Errorf("%s = %.9f m, want %.9f m (tol 1 nm)", c.what, c.got, c.want)
		}
	}
	if !(math.Abs(float64(n.Trust.Within)-0.5) < 0.01) { // the limit itself, one side 4 sigmas off
		t.Errorf("to grade under a one-sided tolerance the chance is %v, want about 0.5", n.Trust.Within)
	}
	if n.Trust.Judgement != trust.DoNotTrust {
		t.Errorf("its word is %s, want %s", n.Trust.Judgement, trust.DoNotTrust)
	}
}

// TestTheAimHelps: worked to, the aim is in the middle of the tolerance and the
// chances are told for it.
func TestTheAimHelps(t *testing.T) {
	p := trustJob(t, `work_to = "aim"`, "rod", "", readBoth)
	n := numberFrom(t, p, "A1")
	const curved = 1e-5 // curvature sets the backsights some micrometres apart
	if !(math.Abs(float64(n.Trust.Aim)+0.0125) <= curved) || p.WorkedTo(n) != n.Trust.Aim {
		t.Errorf("the aim is %v and %v is worked to, want −0.0125 m for both", n.Trust.Aim, p.WorkedTo(n))
	}
	if rod, ok := n.AimRod(); !ok || !(math.Abs(float64(rod-n.Rod)-0.0125) <= curved) {
		t.Errorf("the aim's rod is %v beside %v, want 12.5 mm more", rod, n.Rod)
	}
	if n.Trust.Within < 0.95 || hasFinding(p, "trust_chance") {
		t.Errorf("at the aim the chance is %v, want over 0.95 and no finding", n.Trust.Within)
	}
	grade := trustJob(t, "", "rod", "", readBoth)
	if !hasFinding(grade, "trust_chance") {
		t.Error("to grade there is no finding, want one")
	}
}

// TestAimsUnderHalfADeadBandAreNotShown: 20 mm below instead of 25, above 16: the
// middle lies 2 mm low, under half of 6 mm.
func TestAimsUnderHalfADeadBandAreNotShown(t *testing.T) {
	text := fmt.Sprintf(trustHead, `work_to = "aim"`, "rod", "", readBoth)
	p := makePlan(t, replaceOnce(t, text, `{ above = 0, below = "25 mm" }`, `{ above = "16 mm", below = "20 mm" }`))
	if n := numberFrom(t, p, "A1"); n.Trust.Aim != 0 {
		t.Errorf("the aim is %v, want none", n.Trust.Aim)
	}
}

func replaceOnce(t *testing.T, s, from, to string) string {
	t.Helper()
	for i := range s {
		if len(s)-i >= len(from) && s[i:i+len(from)] == from {
			return s[:i] + to + s[i+len(from):]
		}
	}
	t.Fatalf("%q is not there", from)
	return ""
}

// TestPlannedSetupsTeachLiveOnesNothing: what a planned set-up is taken to read
// changes no live figure; it has the figures its own readings would give.
func TestPlannedSetupsTeachLiveOnesNothing(t *testing.T) {
	alone := numberFrom(t, trustJob(t, "", "rod", "", readOne), "A1")
	both := trustJob(t, "", "rod", "", readOne+planned+"[closes]\nbenchmarks = 2\n")
	if n := numberFrom(t, both, "A1"); n.Trust != alone.Trust {
		t.Errorf("beside a planned set-up A1 has %+v, alone %+v", n.Trust, alone.Trust)
	}
	foreseen, read := numberFrom(t, both, "A2"), numberFrom(t, trustJob(t, "", "rod", "", readBoth), "A1")
	if foreseen.State != beam.Planned || !(math.Abs(float64(foreseen.Trust.Beam-read.Trust.Beam)) <= 1e-9) {
		t.Errorf("planned to read both the beam is ±%v, read on both ±%v", foreseen.Trust.Beam, read.Trust.Beam)
	}
}

// TestWhatIsNotToldIsNull: a height without its sigma, sensors without accuracy.
func TestWhatIsNotToldIsNull(t *testing.T) {
	hi := "[[setup]]\ntag = \"A1\"\nat = [20, 20]\nhi = 101.5\n"
	for _, c := range []struct {
		name, guidance, machine, setup string
		known                          bool
	}{
		{"height alone", "rod", "", hi, false},
		{"height with its sigma", "rod", "", hi + "hi_sigma = \"3 mm\"\n", true},
		{"sensors without accuracy", "sensors_beam", "", readBoth, false},
		{"sensors with accuracy", "sensors_beam", `depth_accuracy = "10 mm"`, readBoth, true},
	} {
		p := trustJob(t, "", c.guidance, c.machine, c.setup)
		if got := numberFrom(t, p, "A1").Trust.Known; got != c.known {
			t.Errorf("%s: known = %v, want %v", c.name, got, c.known)
		}
		if hasFinding(p, "trust_open") == c.known {
			t.Errorf("%s: a finding that it is open is %v", c.name, !c.known)
		}
		var out struct {
			Numbers []struct {
				Sigma, PWithin *float64
				Judgement      string
			}
		}
		if err := json.Unmarshal(p.AppendJSON(nil), &out); err != nil {
			t.Fatal(err)
		}
		if got := out.Numbers[0].Sigma != nil; got != c.known {
			t.Errorf("%s: JSON has a sigma: %v, want %v", c.name, got, c.known)
		}
		if word := out.Numbers[0].Judgement; !c.known && word != string(trust.DoNotTrust) {
			t.Errorf("%s: the word is %q, want do not trust", c.name, word)
		}
	}
}

// TestASecondBacksightHelps: the assessment names BM2, and reading it gives the
// figure promised.
func TestASecondBacksightHelps(t *testing.T) {
	one, both := trustJob(t, "", "rod", "", readOne), trustJob(t, "", "rod", "", readBoth)
	a := one.Assess("F1")
	if len(a) != 1 || len(a[0].Budget) == 0 {
		t.Fatalf("Assess gives %+v, want one budget", a)
	}
	i := slices.IndexFunc(a[0].Improvements, func(h plan.Help) bool { return h.Change == trust.SecondBacksight })
	if i < 0 {
		t.Fatalf("no second backsight among %+v", a[0].Improvements)
	}
	h, want := a[0].Improvements[i], numberFrom(t, both, "A1").Trust.Final
	if h.Of != "BM2" || !(math.Abs(float64(h.Sigma-want)) <= 1e-9) {
		t.Errorf("reading %s promises ±%v, read it is ±%v", h.Of, h.Sigma, want)
	}
}

// TestConditions: falls and levels are judged as differences (algebra: the tilt
// over the length, two readings and two trimmings), outlets of a box together.
func TestConditions(t *testing.T) {
	p := trustJob(t, "", "rod", "", readBoth+`
[[excavation]]
id = "T1"
kind = "trench"
line = [[30, 10], [60, 50]]
width = 1
inverts = [{ station = 0, invert = 99 }]
fall = "1 %"
tolerance = { above = "10 mm", below = "10 mm", fall = "0.05 %", level_over = "1 mm per 10 m", no_reverse = true }
`)
	want := []plan.ConditionKind{plan.KeepsFall, plan.KeepsLevel, plan.NoReverse}
	if len(p.Conditions) != len(want) {
		t.Fatalf("conditions %+v, want %v", p.Conditions, want)
	}
	own := 2 * (0.006*0.006/12 + 0.001*0.001/12 + 0.005*0.005/3)
	for i, c := range p.Conditions {
		if c.Kind != want[i] || c.Setup != "A1" {
			t.Errorf("condition %d is %s from %s, want %s from A1", i, c.Kind, c.Setup, want[i])
		}
		length := c.From.Distance(c.To)
		tilt := 10 * math.Pi / 180 / 3600 / math.Sqrt(3) * length
		// Two backsights know a little of the tilt, so the prior's is the most.
		if got := float64(c.Outlook.Final * c.Outlook.Final); !(got > own && got <= own+tilt*tilt+1e-15) {
			t.Errorf("%s over %g m: variance %g, want from %g to %g", c.Kind, length, got, own, own+tilt*tilt)
		}
	}
	if c := p.Conditions[0]; !(math.Abs(float64(c.Limit)-0.025) <= 1e-9) {
		t.Errorf("the fall may depart by %v over 50 m, want 25 mm", c.Limit)
	}
	if p.Conditions[1].Limit >= unit.Length(0.0051) || !hasFinding(p, "trust_level_over") {
		t.Errorf("level within %v: want 5 mm and a finding", p.Conditions[1].Limit)
	}
}

// TestATurningPointCarriesItsError: BM1, a turning point, the next set-up: three
// readings of 2 mm and the benchmark (level run, algebra; the plane's tilt is
// bounded by 10″ over the ways).
func TestATurningPointCarriesItsError(t *testing.T) {
	first := readOne + "foresights = [{ point = \"TP1\", at = [40, 30], rod = 1.2 }]\n"
	p := trustJob(t, "", "rod", "", first+"[[setup]]\ntag = \"A9\"\nat = [40, 30]\nbacksights = [{ benchmark = \"TP1\", rod = 1.4 }]\n")
	if len(p.Turns) != 1 {
		t.Fatalf("turning points %+v, want one", p.Turns)
	}
	tilt := math.Pow(10*math.Pi/180/3600/math.Sqrt(3)*50, 2)
	a9, _ := p.Setup("A9")
	// 101.5 at A1 by BM1, less 1.2, and 1.4 over it; curvature is counted.
	if !(math.Abs(float64(a9.Plane.HI)-101.7) <= 1e-4) {
		t.Errorf("the beam of A9 stands at %v, want 101.7", a9.Plane.HI)
	}
	if got, want := float64(p.TurnError(p.Turns[0]).Sigma), math.Sqrt(3*0.002*0.002+tilt); !(math.Abs(got-want) <= 1e-9) {
		t.Errorf("the turning point is ±%g, want ±%g", got, want)
	}
	n := numberFrom(t, p, "A9")
	if want := math.Sqrt(4*0.002*0.002 + tilt); !(math.Abs(float64(n.Trust.Beam)-want) <= 1e-9) {
		t.Errorf("the beam from A9 is ±%v, want ±%g", n.Trust.Beam, want)
	}
}
