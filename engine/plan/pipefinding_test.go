package plan_test

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"spadework/engine/phrase"
	"spadework/engine/plan"
	"spadework/engine/unit"
)

// reported says that a rule is in the plan's findings, in its JSON and, in both
// languages, in words that are no keys; all or none.
func reported(t *testing.T, name string, p *plan.Plan, rule string) bool {
	t.Helper()
	found := false
	for _, f := range p.Findings {
		if f.Rule != rule {
			continue
		}
		found = true
		for _, lang := range []phrase.Language{phrase.English, phrase.Spanish} {
			for _, m := range []phrase.Message{f.What, f.Remedy} {
				if text := m.Render(lang, unit.Style{}); text == string(m.Key) || text == "" {
					t.Errorf("%s: %s has no text in %s", name, m.Key, lang)
				}
			}
		}
		if f.Rule != "pipe_drop_reverse" && f.Rule != "pipe_reverse" && f.Clause == "" {
			t.Errorf("%s: %s has no clause", name, rule)
		}
	}
	if inJSON := bytes.Contains(p.AppendJSON(nil), []byte("\""+rule+"\"")); inJSON != found {
		t.Errorf("%s: %s in the findings %v, in the JSON %v", name, rule, found, inJSON)
	}
	return found
}

// Every limit of a pipe that a job can break is reported just beyond it and not
// just within it; the sources stand in engine/pipe/limits.csv and are read by the tests there.
func TestPipeLimitsThroughAJob(t *testing.T) {
	long := "[[0, 0], [50, 0]]"
	steep := func(percent float64) string {
		return trench("T", "[[0, 0], [10, 0]]", fmt.Sprintf("carries = { purpose = \"sanitary\" }\ninverts = [{ station = 0, invert = 8 }]\nfall = \"%g %%\"", percent))
	}
	dropped := func(out float64) string {
		return trench("T", long, fmt.Sprintf("carries = { purpose = \"sanitary\" }\ninverts = [{ station = 0, invert = 8 }, { station = 20, in = 7.8, out = %g }, { station = 50, invert = 7.2 }]", out))
	}
	field := func(key string, value float64) string {
		figures := map[string]float64{"length": 30.48, "width": 0.9144, "apart": 1.8288, "fall": 0}
		figures[key] = value
		return fmt.Sprintf("[[excavation]]\nid = \"AF\"\nkind = \"field\"\nline = [[0, 0], [%.4f, 0]]\ncount = 2\nspacing = %.4f\nhand = \"left\"\nwidth = %.4f\nbottom = { elevation = 9 }\nfall = \"%g in/100 ft\"\ntolerance = \"10 mm\"\n",
			figures["length"], figures["apart"]+figures["width"], figures["width"], figures["fall"])
	}
	// A water pipe crosses at 25 m. Within 10 ft and both half widths (3.258 m) of it the sewer's top is
	// 8.205 − 0.01 × 21.742 high; its underside is to lie 18 in over that: 8.44478.
	crossed := func(bottom float64) string {
		return trench("T", long, "carries = { purpose = \"sanitary\" }\ninverts = [{ station = 0, invert = 8 }]\nfall = \"1 %\"") +
			trench("W", "[[25, -20], [25, 20]]", fmt.Sprintf("carries = { purpose = \"water\" }\nbottom = { elevation = %.4f }", bottom))
	}
	beside := func(y float64) string {
		return trench("T", long, "carries = { purpose = \"sanitary\" }\ninverts = [{ station = 0, invert = 8 }]\nfall = \"1 %\"") +
			trench("W", fmt.Sprintf("[[0, %[1]f], [50, %[1]f]]", y), "carries = { purpose = \"water\" }\nbottom = { elevation = 7 }")
	}
	cable := func(bottom float64) string {
		return trench("T", long, fmt.Sprintf("carries = { purpose = \"cable\", method = \"direct_burial\" }\nbottom = { elevation = %.4f }", bottom))
	}
	for _, c := range []struct {
		rule         string
		within, over string
	}{
		{"pipe_anchors", steep(19.99), steep(20)}, // Ten States: from 20 % on
		{"pipe_drop_reverse", dropped(7.8), dropped(7.801)},
		{"pipe_absorption_length", field("length", 30.48), field("length", 30.49)}, // Rapid City: 100 ft
		{"pipe_absorption_width", field("width", 0.9144), field("width", 0.92)},    // 3 ft
		{"pipe_absorption_apart", field("apart", 1.8288), field("apart", 1.82)},    // 6 ft
		{"pipe_absorption_fall", field("fall", 2), field("fall", 2.01)},            // 25 Pa. Code 73.52: 2 in per 100 ft
		{"pipe_water_near", crossed(8.4449), crossed(8.4447)},
		{"pipe_water_near", beside(3.048 + 0.21 + 0.001), beside(3.048 + 0.21 - 0.001)}, // 10 ft between the sides
		{"pipe_cable_cover", cable(10 - 0.6096 - 0.21), cable(10 - 0.6096 - 0.21 + 0.0001)},
		{"pipe_least_slope", steep(0.40), steep(0.39)}, // 35 Ill. Adm. Code 370.320(c): 8 in
	} {
		if reported(t, c.rule+" within", planText(t, pipeJob(c.within)), c.rule) {
			t.Errorf("%s is found within the limit, in %s", c.rule, strings.TrimSpace(c.within))
		}
		if !reported(t, c.rule+" over", planText(t, pipeJob(c.over)), c.rule) {
			t.Errorf("%s is not found beyond the limit, in %s", c.rule, strings.TrimSpace(c.over))
		}
	}
}

// The distance of anchors is told with the slope: 36, 24 and 16 ft (Ten States,
// second-hand, which the words say).
func TestAnchorsAreTold(t *testing.T) {
	for _, c := range []struct {
		percent float64
		feet    float64
	}{{20, 36}, {34.9, 36}, {35, 24}, {49.9, 24}, {50, 16}} {
		p := planText(t, pipeJob(trench("T", "[[0, 0], [4, 0]]", fmt.Sprintf("carries = { purpose = \"sanitary\" }\ninverts = [{ station = 0, invert = 8 }]\nfall = \"%g %%\"", c.percent))))
		for _, f := range p.Findings {
			if f.Rule != "pipe_anchors" {
				continue
			}
			if got, _ := f.Limit.(unit.Length); !(got-unit.Length(c.feet)*unit.Foot < 1e-9 && unit.Length(c.feet)*unit.Foot-got < 1e-9) {
				t.Errorf("%g %%: anchors every %v, want %g ft", c.percent, f.Limit, c.feet)
			}
			if text := f.What.Render(phrase.English, unit.Style{}); !strings.Contains(text, "not checked against the current text") {
				t.Errorf("%g %%: %q does not say that the figure is second-hand", c.percent, text)
			}
		}
		if !strings.Contains(pipeRules(p), "pipe_anchors") {
			t.Errorf("%g %%: no anchors in %q", c.percent, pipeRules(p))
		}
	}
}
