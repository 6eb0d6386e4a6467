package plan_test

import (
	"strings"
	"testing"

	"spadework/engine/phrase"
	"spadework/engine/plan"
	"spadework/engine/unit"
)

// serveJob has a sloped trench, a square pad and set-ups to be added.
const serveJob = `[job]
name = "serve"
units = "m"
curvature = "none"
[[benchmark]]
id = "BM"
at = [0, 0]
elevation = 10
[ground]
level = 10
[[laser]]
id = "L"
accuracy = '10"'
range = 60
axes = 2
steepest = "10 %"
steepest_cross = "10 %"
[[rod]]
id = "R"
face = "metric"
longest = 4
[[excavation]]
id = "P"
kind = "pad"
at = [10, 10]
size = 2
bottom = { elevation = 9 }
tolerance = "10 mm"
[[excavation]]
id = "T"
kind = "trench"
line = [[0, 5], [40, 5]]
width = 1
inverts = [{ station = 0, invert = 9 }]
fall = "2 %"
pipe = { outside = 0.2, wall = 0.01 }
tolerance = "10 mm"
`

const (
	levelSetup   = "[[setup]]\ntag = \"A\"\nat = [20, 0]\nbacksights = [{ benchmark = \"BM\", rod = 1.5 }]\n"
	dialledSetup = "[[setup]]\ntag = \"B\"\nat = [20, 0]\ndial = { for = \"T\" }\nbacksights = [{ benchmark = \"BM\", rod = 1.5 }]\n"
	farSetup     = "[[setup]]\ntag = \"C\"\nat = [90, 5]\nbacksights = [{ benchmark = \"BM\", rod = 1.5 }]\n"
	plannedSetup = "[[setup]]\ntag = \"D\"\nat = [20, 0]\n"
)

// served are the set-ups that number a dig, in order, each once.
func served(p *plan.Plan, dig string) string {
	var out []string
	for _, n := range p.Numbers {
		if n.Excavation == dig && !strings.Contains(strings.Join(out, " "), n.Setup) {
			out = append(out, n.Setup)
		}
	}
	return strings.Join(out, " ")
}

func hasFinding(p *plan.Plan, rule string) bool {
	for _, f := range p.Findings {
		if f.Rule == rule {
			return true
		}
	}
	return false
}

func TestWhichSetupsNumberADig(t *testing.T) {
	for _, c := range []struct {
		name, setups, pad, trench string
		unserved                  int
		needs                     bool
	}{
		{"level numbers all", levelSetup, "A", "A", 0, false},
		{"a dialled one leaves level digs to the level one", levelSetup + dialledSetup, "A", "A B", 0, false},
		{"alone it numbers the pad at its corners", dialledSetup, "B", "B", 0, true},
		{"too far for the pad, near for part of the trench", farSetup, "", "C", 2, false},
		{"no set-up", "", "", "", 2, false},
	} {
		p := makePlan(t, serveJob+c.setups)
		if got := served(p, "P"); got != c.pad {
			t.Errorf("%s: the pad has %q, want %q", c.name, got, c.pad)
		}
		if got := served(p, "T"); got != c.trench {
			t.Errorf("%s: the trench has %q, want %q", c.name, got, c.trench)
		}
		if len(p.Unserved) != c.unserved {
			t.Errorf("%s: %d unserved, want %d: %v", c.name, len(p.Unserved), c.unserved, p.Unserved)
		}
		if got := hasFinding(p, "needs_setup"); got != c.needs {
			t.Errorf("%s: needs another set-up %v, want %v", c.name, got, c.needs)
		}
	}
}

// TestAPlannedSetupIsAWindow: its target lies in the window, every rod of its
// digs is on the rod at both ends, and its numbers are planned.
func TestAPlannedSetupIsAWindow(t *testing.T) {
	p := makePlan(t, serveJob+plannedSetup)
	s, _ := p.Setup("D")
	if s.Window == nil || !(s.Window.Low <= s.Plane.HI && s.Plane.HI <= s.Window.High) {
		t.Fatalf("window %v, target %v", s.Window, s.Plane.HI)
	}
	if !p.Planned() || len(p.Numbers) == 0 {
		t.Fatal("a planned set-up gives planned numbers")
	}
	for _, n := range p.Numbers {
		for _, hi := range []unit.Elevation{s.Window.Low, s.Window.High} {
			if rod := hi.Above(n.Less()); !(rod >= -1e-9 && rod <= 4+1e-9) {
				t.Errorf("%s %s: HI %v gives rod %v, want 0 to 4 m", n.Excavation, n.Name, hi, rod)
			}
		}
	}
}

// TestReasonsAreTold: a dig without a number says why in both languages.
func TestReasonsAreTold(t *testing.T) {
	p := makePlan(t, serveJob+farSetup)
	for _, lang := range []phrase.Language{phrase.English, phrase.Spanish} {
		text := p.Unserved[0].Reason.Render(lang, unit.Style{})
		if !strings.Contains(text, "C") || !strings.Contains(text, "60") {
			t.Errorf("reason = %q, want the set-up and its range", text)
		}
	}
}

// TestADialAimedAtAPlace: a stake given by its place is aimed at, also where it
// lies at the local origin.
func TestADialAimedAtAPlace(t *testing.T) {
	for _, dial := range []string{`{ towards = [0, 0], grade = "1 %" }`, `{ for = "T", towards = [0, 0] }`} {
		p := makePlan(t, serveJob+"[[setup]]\ntag = \"E\"\nat = [30, 0]\ndial = "+dial+"\nbacksights = [{ benchmark = \"BM\", rod = 1.5 }]\n")
		s, _ := p.Setup("E")
		if got := s.Dial.Bearing / unit.Degree; !(got > 269.999999 && got < 270.000001) {
			t.Errorf("dial %s aims on %v°, want 270° (exact: due west)", dial, float64(got))
		}
		if text := s.Plan.Text.Render(phrase.English, unit.Style{}); !strings.Contains(text, "[0, 0]") {
			t.Errorf("dial %s says %q, want the place of the stake", dial, text)
		}
	}
}

// TestWhatANumberIsGoesByItsSource: a crew that zeroes on points or tapes from
// hubs reads a rod where it reads a beam, and its own number beside it.
func TestWhatANumberIsGoesByItsSource(t *testing.T) {
	machine := func(guidance string) string { return "[[machine]]\nid = \"M\"\nguidance = \"" + guidance + "\"\n" }
	hub := "[[hub]]\nid = \"H\"\nexcavation = \"T\"\nstation = 10\nelevation = 10.2\n"
	hard := strings.Replace(serveJob, "elevation = 10\n", "elevation = 10\nhard = true\n", 1)
	for _, c := range []struct {
		guidance, more string
		want           map[plan.Source]string
	}{
		{"rod", "", map[plan.Source]string{plan.FromBeam: "rod"}},
		{"stick_receiver", "", map[plan.Source]string{plan.FromBeam: "stick_receiver"}},
		{"sensors_beam", "", map[plan.Source]string{plan.FromBeam: "sensors_beam"}},
		{"sensors_touch", "", map[plan.Source]string{plan.FromBeam: "rod", plan.FromTouch: "sensors_touch"}},
		{"none", hub, map[plan.Source]string{plan.FromBeam: "rod", plan.FromHub: "none"}},
	} {
		p := makePlan(t, hard+levelSetup+machine(c.guidance)+c.more)
		got := map[plan.Source]string{}
		for _, n := range p.Numbers {
			got[n.From] = n.Guidance.String()
			if n.From == plan.FromTouch && !(n.Rod-unit.Reading(n.ReferenceElevation.Above(n.Bottom)) == 0) {
				t.Errorf("depth under %s at %s = %v", n.Reference, n.Name, n.Rod)
			}
		}
		if len(got) != len(c.want) {
			t.Errorf("%s: sources %v, want %v", c.guidance, got, c.want)
		}
		for source, guidance := range c.want {
			if got[source] != guidance {
				t.Errorf("%s: numbers from %s are for %q, want %q", c.guidance, source, got[source], guidance)
			}
		}
	}
}
