package plan_test

import (
	"os"
	"slices"
	"strings"
	"testing"

	"spadework/engine/phrase"
	"spadework/engine/plan"
	"spadework/engine/unit"
)

// missingCases has for each thing that a job can leave out one job that does.
func missingCases() map[string][]words {
	shield := func(lines ...string) []words {
		return all(deep(8), soil("C"), with("support", `support = "shield"`), more(lines...))
	}
	ticket := "ticket = \"T-9\"\nmarked_on = 2026-05-01\nexpires = 2026-05-15"
	return map[string][]words{
		"soil": all(deep(4), with("soil", "")), "fissured": all(deep(4), with("fissured", "")), "vibration": all(deep(4), with("vibration", "")),
		"disturbed": all(deep(4), with("disturbed", "")), "water": all(deep(4), with("water", "")), "open_hours": all(deep(4), with("hours", "")),
		"surcharge": all(deep(4), with("surcharge", "")), "people": all(deep(4), with("people", "")), "support": all(deep(4), with("support", "")),
		"depth": all(with("ground", "")), "least_depth": all(with("ground", ""), padDeep(2)), "frost": all(padDeep(3), with("frost", "")),
		"shield_top": shield("below_support = 0"), "below_support": shield("vertical = 8"),
		"way_out": all(deep(4), with("way_out", "")), "air": all(deep(4.5), with("air", "")), "oxygen": all(deep(4.5), with("air", "air_hazard = true")),
		"hole_water": all(with("water", "water = true")), "edge_warning": all(with("edge", "")),
		"loose_fill":      all(padDeep(3), more("over_dug = 0.1")),
		"footing_bearing": all(deep(4), beside("[[structure]]\nid = \"N\"\noutline = [[0, 3], [40, 3], [40, 30], [0, 30]]")),
		"granular":        all(deep(4), beside(houseAt(2, 2, "adjoining = true"))),
		"ticket":          all(with("ticket", "")), "marked": all(with("marked", "")), "expires": all(with("expires", "")),
		"service_size":  all(beside(waterAt(60, ticket))),
		"service_depth": all(beside(waterAt(60, ticket, twoInch))),
		// Sides that lean out over ground nobody surveyed: the top edge is not known.
		"service_distance": all(with("ground", ""), sloped(1), beside(waterAt(60, ticket, twoInch))),
		"private_locate":   all(with("private", "")),
		"voltage":          all(beside(lineAt(60, ""))), "line_height": all(beside("[[overhead]]\nid = \"O\"\nline = [[0, 90], [40, 90]]\nvoltage = \"11 kV\"")),
		"reach_size":      all(with("machine", `type = "tracked"`), beside(lineAt(60, kV(11)))),
		"heap_edge":       all(with("ground", ""), sloped(1), beside(heapAt(4))),
		"stand_edge":      all(with("machine", `type = "tracked"`), beside(standAt(4))),
		"crossing_height": all(with("ground", ""), beside("[[crossing]]\nid = \"X\"\nexcavation = \"T1\"\nrails = true")),
		"crossing_rails":  all(beside("[[crossing]]\nid = \"X\"\nexcavation = \"T1\"\nheight = 6")),
		"laser_trained":   all(with("trained", "")), "laser_signs": all(with("signs", "")), "laser_unattended": all(with("attended", "")),
		"walked": all(with("walk", "")), "beam_height": all(with("ground", "")),
		"competent_person": all(with("competent", "")), "encumbrances": all(with("encumbrances", "")), "vests": all(with("vests", "")),
		"nobody_under": all(with("under", "")),
	}
}

// neverMissing is what a job cannot leave out: the reader asks for it, takes the
// worst (sides left out are vertical), or works it out from places. The safety
// room's own tests hold these.
var neverMissing = []string{"width", "sides", "bears", "bottom_slope", "footing_distance", "reach", "today"}

func TestEachMissingThingIsAFinding(t *testing.T) {
	told := slices.Clone(neverMissing)
	for kind, changes := range missingCases() {
		told = append(told, kind)
		p := planOf(t, fill(changes...))
		if !slices.ContainsFunc(p.Findings, func(f phrase.Finding) bool { return f.Rule == "missing_"+kind }) {
			t.Errorf("missing_%s is not told of %v; findings %v", kind, changes, graver(p))
		}
		if kept := planOf(t, fill()); slices.ContainsFunc(kept.Findings, func(f phrase.Finding) bool { return f.Rule == "missing_"+kind }) {
			t.Errorf("missing_%s is told of the kept job", kind)
		}
	}
	texts, err := os.ReadFile("../phrase/text/en/safety.txt")
	if err != nil {
		t.Fatal(err)
	}
	kinds := 0
	for line := range strings.Lines(string(texts)) {
		key, _, _ := strings.Cut(line, " = ")
		kind, ok := strings.CutPrefix(key, "safety.missing.")
		if !ok || strings.Contains(kind, ".") {
			continue
		}
		if kinds++; !slices.Contains(told, kind) {
			t.Errorf("no job leaves %s out", kind)
		}
	}
	if kinds < 40 {
		t.Errorf("read %d kinds of missing things, want all", kinds)
	}
}

// TestUnknownVoltageKeepsTheMost: 45 ft of table A, for any line whose voltage
// nobody told (29 CFR 1926.1408 table A, read).
func TestUnknownVoltageKeepsTheMost(t *testing.T) {
	if p := planOf(t, fill(beside(lineAt(44.99, "")))); !speaks(p, "line_1000") {
		t.Errorf("a line of no told voltage 44.99 ft away is clear: %v", graver(p))
	}
	if p := planOf(t, fill(beside(lineAt(45, "")))); speaks(p, "line_1000") {
		t.Errorf("a line of no told voltage 45 ft away is not clear: %v", graver(p))
	}
}

// TestTallThingsCountNearLines: a long rod, a mast and a raised truck body each
// come too near a line that the machine stands clear of.
func TestTallThingsCountNearLines(t *testing.T) {
	far := "[[stand]]\nid = \"1\"\nat = [20, 300]\nexcavations = [\"T1\"]\n"
	line := func(y float64, height string) string {
		return far + strings.Replace(lineAt(y-35.25, kV(11)), "[[stand]]\nid = \"1\"\nat = [20, 9]\n", "", 1) + height
	}
	what := func(p *plan.Plan) []string {
		var out []string
		for _, f := range p.Findings {
			if f.Rule == "line_50" {
				out = append(out, f.What.Render(phrase.English, unit.Style{System: unit.Imperial}))
			}
		}
		return out
	}
	for _, c := range []struct{ name, near, clear, word string }{
		// The rod of 16 ft at the trench's edge, y = 1, tips to y = 17; the line hangs 2 ft higher: 10 ft at y = 26.798.
		{"rod", line(26.79, ""), line(26.80, ""), "rod"},
		// The laser's mast at (-100, -60), 10 ft: the line 8 ft over it runs 6 ft off in plan, 10 ft away.
		{"mast", line(-54.01, ""), line(-53.99, ""), "mast"},
		// A truck body raised to 18 ft, 9 ft about its place.
		{"truck_body", line(200, "\n[trucks]\nat = [20, 181.1]\nraised = 18\nradius = 9"),
			line(200, "\n[trucks]\nat = [20, 180.9]\nraised = 18\nradius = 9"), "truck"},
	} {
		near, clear := what(planOf(t, fill(beside(c.near)))), what(planOf(t, fill(beside(c.clear))))
		if !slices.ContainsFunc(near, func(s string) bool { return strings.Contains(s, c.word) }) {
			t.Errorf("%s: near a line, findings %v", c.name, near)
		}
		if slices.ContainsFunc(clear, func(s string) bool { return strings.Contains(s, c.word) }) {
			t.Errorf("%s: clear of a line, findings %v", c.name, clear)
		}
	}
}

// TestAPersonReleases: a severe finding stops the plan until the named competent
// person releases it, today, at its place, with what was seen; shots from inside
// come no sooner.
func TestAPersonReleases(t *testing.T) {
	entry := func(who, at, rule string) words {
		return with("entry", keptWords["entry"]+"\n[[entry]]\nwho = \""+who+"\"\nat = \""+at+"\"\nrule = \""+rule+
			"\"\nexcavation = \"T1\"\nsaw = \"trench box set to the bottom\"")
	}
	open := func(changes ...words) bool {
		p := planOf(t, fill(append(changes, deep(5))...))
		stops := slices.ContainsFunc(p.Open(), func(f phrase.Finding) bool { return f.Rule == "protection_depth" })
		if inHole, _ := p.InHole("T1"); inHole == stops {
			t.Errorf("open %v and shots from inside offered %v with %v", stops, inHole, changes)
		}
		return stops
	}
	for _, c := range []struct {
		name  string
		words words
		open  bool
	}{
		{"no entry", words{}, true},
		{"the named person", entry("A. Digger", "2026-05-04T07:20", "protection_depth"), false},
		{"another person", entry("B. Other", "2026-05-04T07:20", "protection_depth"), true},
		{"yesterday", entry("A. Digger", "2026-05-03T07:20", "protection_depth"), true},
		{"another finding", entry("A. Digger", "2026-05-04T07:20", "spoil_setback"), true},
	} {
		if got := open(c.words); got != c.open {
			t.Errorf("%s: open %v, want %v", c.name, got, c.open)
		}
	}
	if ok, why := planOf(t, fill(with("entry", ""))).InHole("T1"); ok || why.IsZero() {
		t.Errorf("shots from inside are offered without an entry")
	}
}
