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
