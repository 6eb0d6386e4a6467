package safety

import (
	"errors"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"spadework/engine/phrase"
	"spadework/engine/unit"
)

func TestRulesData(t *testing.T) {
	marks := []Mark{Read, SecondHand, Memory, Practice, Assumed}
	severities := []phrase.Severity{phrase.Note, phrase.Caution, phrase.Stop}
	en, es := texts(t, phrase.English), texts(t, phrase.Spanish)
	seen := map[string]bool{}
	for _, r := range data() {
		key := r.Set + " " + r.ID
		if seen[key] {
			t.Errorf("%s stands twice", key)
		}
		seen[key] = true
		if !slices.Contains(Sets(), r.Set) || !slices.Contains(marks, r.Mark) || !slices.Contains(severities, r.Severity) ||
			!slices.Contains([]Breaks{AtOrOver, Over, Under, None}, r.Breaks) {
			t.Errorf("%s: set, mark, severity or comparison is none: %+v", key, r)
		}
		if r.Source == "" || r.Title == "" || r.Clause == "" && r.Mark == Read {
			t.Errorf("%s has no source, title or clause", key)
		}
		if r.On != (r.Mark != Memory) {
			t.Errorf("%s: on = %v with mark %s", key, r.On, r.Mark)
		}
		for _, k := range []phrase.Key{r.About().Key, r.Mark.Words().Key, r.decides().Key} {
			if en[string(k)] == "" || es[string(k)] == "" {
				t.Errorf("%s: no text for %s in both languages", key, k)
			}
		}
	}
	if len(seen) < 70 {
		t.Errorf("%d rules, want all of them", len(seen))
	}
}

// Each rule that a function of this room names is in the data.
func TestEveryRuleNamedInTheCodeIsInTheData(t *testing.T) {
	files, _ := filepath.Glob("*.go")
	call := regexp.MustCompile(`(?:\brule|\bdeep|\bat|\bduty|setback|unseen)\("([a-z_0-9]+)"|rule: +"([a-z_0-9]+)"|\.rule(?:, [a-z.]+)* = "([a-z_0-9]+)"`)
	count := 0
	for _, file := range files {
		if strings.HasSuffix(file, "_test.go") {
			continue
		}
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range call.FindAllStringSubmatch(string(text), -1) {
			id := m[1] + m[2] + m[3]
			count++
			if _, ok := base().Rule(id); !ok && !strings.HasPrefix(id, "ask_") {
				t.Errorf("%s names the rule %q, which the data does not have", file, id)
			}
		}
	}
	if count < 60 {
		t.Errorf("found %d calls, want all", count)
	}
}

func TestListHasEveryRuleWithItsMark(t *testing.T) {
	rows := List(book(t, ""))
	if len(rows) != len(base().rules) {
		t.Fatalf("List has %d rows, want %d", len(rows), len(base().rules))
	}
	find := func(rows []Row, id string) Row {
		return rows[slices.IndexFunc(rows, func(r Row) bool { return r.ID == id })]
	}
	for id, want := range map[string]struct {
		limit string
		mark  Mark
		on    bool
	}{
		"protection_depth":  {"5 ft", Read, true},
		"spoil_setback":     {"2 ft", SecondHand, true},
		"line_plant_rate":   {"0.4 in/kV", Memory, false},
		"slope_default":     {"1.5:1", Read, true},
		"footing_slope":     {"1:10", Read, true},
		"influence_footing": {"30 deg", Read, true},
		"hand_dig":          {"", Read, true},
		"service_width":     {"4 ft", Assumed, true},
	} {
		if r := find(rows, id); r.Limit != want.limit || r.Mark != want.mark || r.On != want.on {
			t.Errorf("List: %s is %q %s on=%v, want %q %s on=%v", id, r.Limit, r.Mark, r.On, want.limit, want.mark, want.on)
		}
	}
	known := find(rows, "spoil_setback").Known.Render(phrase.English, unit.Style{})
	if known != "not checked against the current text" {
		t.Errorf("a second-hand rule reads %q", known)
	}
	ontario := List(book(t, Ontario))
	last := ontario[len(ontario)-1]
	if last.ID != "protection_depth" || last.Limit != "1.2 m" || last.On {
		t.Errorf("List(Ontario) ends in %+v, want its own figure, off", last)
	}
	if r := find(ontario, "protection_depth"); !r.Borrowed || r.Limit != "5 ft" {
		t.Errorf("List(Ontario) borrows %+v, want 5 ft", r)
	}
	if r := find(List(book(t, Australia)), "protection_depth"); r.Borrowed || r.Limit != "1.5 m" {
		t.Errorf("List(Australia) has %+v, want its own 1.5 m", r)
	}
	for _, r := range List(book(t, NoSet, Override{"loose_rock", "", "x"})) {
		if r.On {
			t.Errorf("List(no set): %s is on", r.ID)
		}
	}
	if !strings.Contains(Advice().Render(phrase.English, unit.Style{}), "Advice for planning only") {
		t.Errorf("Advice = %q", Advice().Render(phrase.English, unit.Style{}))
	}
}

func TestOverrideIsTaken(t *testing.T) {
	for _, c := range []struct {
		override Override
		limit    unit.Length
	}{
		{Override{"tolerance_zone", "30 in", "state law"}, 30 * unit.Inch},
		{Override{"tolerance_zone", "2'-6\"", "state law"}, 30 * unit.Inch},
		{Override{"protection_depth", "1.2 m", "city code"}, 1.2},
		{Override{"loose_rock", "", "29 CFR read on the day"}, 0},
	} {
		b := book(t, "", c.override)
		r, _ := b.Rule(c.override.Rule)
		if d := r.Limit.Length() - c.limit; !(d < 1e-12 && d > -1e-12) {
			t.Errorf("Rules(%v): limit %v m, want %v m (1e-12 m: rounding)", c.override, r.Limit.Length(), c.limit)
		}
		if r.Mark != Stated || !r.On || r.Source != c.override.Source {
			t.Errorf("Rules(%v): %+v, want on, stated by the job, its source", c.override, r)
		}
	}
	b := book(t, "", Override{"slope_c", "2:1", "soils report"}, Override{"short_hours", "12 h", "x"}, Override{"oxygen", "20 %", "x"},
		Override{"influence_trench", "30°", "x"}, Override{"footing_slope", "1:12", "x"}, Override{"strength_a", "2 tsf", "x"},
		Override{"line_plant_rate", "0.5 in/kV", "x"})
	for id, want := range map[string]float64{"slope_c": 2, "short_hours": 12, "oxygen": 20, "influence_trench": 30,
		"footing_slope": 1.0 / 12, "strength_a": 2, "line_plant_rate": 0.5} {
		if r, _ := b.Rule(id); !(r.Limit.Number-want < 1e-12 && want-r.Limit.Number < 1e-12) {
			t.Errorf("%s = %v, want %v (1e-12: rounding)", id, r.Limit.Number, want)
		}
	}
}

func TestOverrideIsStrict(t *testing.T) {
	twice := []Override{{"slope_a", "1:1", "x"}, {"slope_a", "2:1", "x"}}
	for _, c := range []struct {
		name      string
		set       string
		overrides []Override
		key       phrase.Key
		path      string
	}{
		{"unknown set", "mars", nil, "safety.set_unknown", "set"},
		{"unknown rule", "", []Override{{"ladder", "25 ft", "x"}}, "safety.override_unknown", "override.0.rule"},
		{"twice", "", twice, "safety.override_twice", "override.1.rule"},
		{"no source", "", []Override{{"slope_a", "1:1", " "}}, "safety.override_source", "override.0.source"},
		{"no value", "", []Override{{"slope_a", "", "x"}}, "safety.override_empty", "override.0.value"},
		{"a duty", "", []Override{{"vests", "3 ft", "x"}}, "safety.override_duty", "override.0.value"},
		{"another unit", "", []Override{{"spoil_setback", "3 h", "x"}}, "safety.override_value", "override.0.value"},
		{"a slope for a length", "", []Override{{"spoil_setback", "3:1", "x"}}, "safety.override_value", "override.0.value"},
		{"a bare number", "", []Override{{"spoil_setback", "3", "x"}}, "safety.override_value", "override.0.value"},
		{"a bare nought", "", []Override{{"spoil_setback", "0", "x"}}, "safety.override_value", "override.0.value"},
		{"below zero", "", []Override{{"spoil_setback", "-3 ft", "x"}}, "safety.override_value", "override.0.value"},
		{"no unit", "", []Override{{"oxygen", "19.5", "x"}}, "safety.override_value", "override.0.value"},
		{"not a number", "", []Override{{"short_hours", "NaN h", "x"}}, "safety.override_value", "override.0.value"},
		{"infinite", "", []Override{{"short_hours", "Inf h", "x"}}, "safety.override_value", "override.0.value"},
		{"level", "", []Override{{"influence_trench", "0°", "x"}}, "safety.override_value", "override.0.value"},
	} {
		_, err := Rules(c.set, c.overrides...)
		var f *phrase.Fault
		if !errors.As(err, &f) || f.What.Key != c.key || f.Place.Path != c.path {
			t.Errorf("%s: Rules = %v, want %s at %s", c.name, err, c.key, c.path)
			continue
		}
		for _, lang := range []phrase.Language{phrase.English, phrase.Spanish} {
			checkMessage(t, texts(t, lang), f.What)
			checkMessage(t, texts(t, lang), f.Remedy)
		}
	}
}

func TestAWeakerOverrideIsTold(t *testing.T) {
	for _, c := range []struct {
		override Override
		weaker   bool
	}{
		{Override{"protection_depth", "6 ft", "x"}, true},
		{Override{"protection_depth", "4 ft", "x"}, false},
		{Override{"spoil_setback", "1 ft", "x"}, true},
		{Override{"spoil_setback", "1 m", "x"}, false},
		{Override{"slope_b", "0.75:1", "x"}, true},
		{Override{"slope_b", "1.5:1", "x"}, false},
		{Override{"influence_trench", "60°", "x"}, true},
		{Override{"influence_trench", "30°", "x"}, false},
	} {
		got := false
		for _, f := range Findings(book(t, "", c.override), Facts{}) {
			got = got || f.What.Key == "safety.weaker"
		}
		if got != c.weaker {
			t.Errorf("%v: told as weaker = %v, want %v", c.override, got, c.weaker)
		}
	}
}

func TestAFindingOfTheJobsFigureNamesItsSource(t *testing.T) {
	facts := complete()
	facts.Heaps[0].Edge = ft(3)
	got := serious(Findings(book(t, "", Override{"spoil_setback", "4 ft", "city code 12"}), facts))
	if len(got) != 1 || !strings.HasSuffix(got[0].What.Render(phrase.English, unit.Style{}), "[figure of this job: city code 12]") {
		t.Errorf("Findings = %v, want the heap by the job's figure", got)
	}
}

func TestBorrowedRulesAreTold(t *testing.T) {
	got := Findings(book(t, UK), complete())
	i := slices.IndexFunc(got, func(f phrase.Finding) bool { return f.Rule == "borrowed" })
	if i < 0 {
		t.Fatalf("Findings(UK) = %v, want borrowed", names(got))
	}
	checkTexts(t, got)
}

func FuzzOverrideValue(f *testing.F) {
	for _, s := range []string{"30 in", "1.5:1", "2'-6\"", "19.5 %", "24 h", "45°", "1:10", "1.5 tsf", "0.4 in/kV", "3", "NaN h", "-1 m", ""} {
		f.Add(s)
	}
	units := []Unit{Feet, Ratio, Grade, Degrees, Hours, Percent, TSF, InchPerKV}
	f.Fuzz(func(t *testing.T, s string) {
		for _, u := range units {
			if l, ok := readValue(s, u); ok && !(l.Number >= 0 && l.Number < 1e308) {
				t.Errorf("readValue(%q, %s) = %v", s, u, l.Number)
			}
		}
	})
}
