package plan_test

import (
	"fmt"
	"testing"

	"spadework/engine/phrase"
)

// Beside an own footing the limit is the drop times √3 (IBC 1809.6: 30° from the
// lower edge): 1 m deeper keeps 1.7321 m. A trench along it keeps the drop
// itself (UPC 314.1: 45°). The distance is from
// the concrete, however wide it is dug.
func TestOwnFootingsAreKept(t *testing.T) {
	deeper := func(kind, at, size string) string {
		return "[[excavation]]\nid = \"F2\"\nkind = \"" + kind + "\"\n" + at + "\n" + size + "\nbottom = { elevation = -3 }\n"
	}
	pit := func(gap float64) string {
		return deeper("footing", fmt.Sprintf("at = [%.4f, 0]", 2+gap+1), "size = [2, 2]")
	}
	trench := func(gap float64) string {
		return deeper("trench", fmt.Sprintf("line = [[%.4f, -9], [%.4f, 9]]", 2+gap+0.5, 2+gap+0.5), "width = 1")
	}
	for _, c := range []struct {
		name, text, rule string
		want             bool
	}{
		{"pit at 1.731 m", footingAt("F1", "[0, 0]", "") + pit(1.731), "influence_footing", true},
		{"pit at 1.733 m", footingAt("F1", "[0, 0]", "") + pit(1.733), "influence_footing", false},
		{"pit at 1.731 m, dug wide", footingAt("F1", "[0, 0]", "sides_at = { working = 0.3 }\n") + pit(1.731), "influence_footing", true},
		{"pit at 1.733 m, dug wide", footingAt("F1", "[0, 0]", "sides_at = { working = 0.3 }\n") + pit(1.733), "influence_footing", false},
		{"trench at 0.999 m", footingAt("F1", "[0, 0]", "") + trench(0.999), "influence_trench", true},
		{"trench at 1.001 m", footingAt("F1", "[0, 0]", "") + trench(1.001), "influence_trench", false},
		{"shallower beside deeper", footingAt("F3", "[0, 0]", "") + pit(1), "footing_below", false},
	} {
		got := false
		for _, f := range measured(t, yard+c.text).Findings {
			if f.Rule == c.rule {
				got = true
				if f.Where.Excavation != "F2" || f.Where.Part != "F1" || f.Severity != phrase.Caution {
					t.Errorf("%s: %s at %+v, %s; want a caution at F2/F1", c.name, f.Rule, f.Where, f.Severity)
				}
			}
		}
		if got != c.want {
			t.Errorf("%s: %s told %v, want %v", c.name, c.rule, got, c.want)
		}
	}
}
