package guard

import (
	"slices"
	"testing"

	"spadework/engine/phrase"
	"spadework/engine/unit"
	"spadework/engine/watch"
)

// TestCloseDay: at twelve digs in eight hours and a bump a day the limit of half a dig
// lets three digs go (by hand: Σ 1 − e^(−i/12), i = 1 … 3, is 0.455, a fourth makes
// 0.739); a laser that can lean goes round its points, one that cannot takes the
// nearest.
func TestCloseDay(t *testing.T) {
	day, ok := CloseDay(yardPlan(t, levelLaser, ""))
	if !ok || !day.Enough || day.Every != 3 || len(day.Closes) != 4 || !(day.AtRisk > 0.4545 && day.AtRisk < 0.4555) {
		t.Fatalf("a day of %+v", day)
	}
	for i, c := range day.Closes {
		if c.After != 3*(i+1) || c.Point != "BM3" || !(c.Clock-watch.Hours(7+2*(i+1)) < 1e-9) {
			t.Errorf("close %d: %+v, want after %d digs at %d:00 on the nearest point, BM3", i, c, 3*(i+1), 7+2*(i+1))
		}
	}
	lean, _ := CloseDay(yardPlan(t, tiltingLaser, "[closes]\nstart = \"06:30\"\nbreaks = [\"08:15\"]\n"))
	var points []string
	for _, c := range lean.Closes {
		points = append(points, c.Point)
	}
	if first := lean.Closes[0]; !first.Break || first.After != 2 || clock(first.Clock) != "08:15" {
		t.Errorf("no close at the break: %+v", first)
	}
	if slices.Sort(points[:3]); !slices.Equal(points[:3], []string{"BM1", "BM2", "BM3"}) {
		t.Errorf("a laser that leans is closed on %v, want all three in turn", points)
	}
	for lang, word := range map[phrase.Language]string{phrase.English: "at the break of 08:15", phrase.Spanish: "en el descanso de las 08:15"} {
		found := false
		for _, m := range lean.Text() {
			found = found || len(m.Render(lang, unit.Style{})) >= len(word) && m.Render(lang, unit.Style{})[:len(word)] == word
		}
		if !found {
			t.Errorf("%q is not said", word)
		}
	}
	strict, _ := CloseDay(yardPlan(t, levelLaser, "[closes]\nat_risk = 0.01\n"))
	if strict.Enough || len(strict.Closes) != 12 {
		t.Errorf("a limit that no schedule keeps: %d closes, enough %v", len(strict.Closes), strict.Enough)
	}
	two, _ := CloseDay(yardPlan(t, levelLaser, "[closes]\nevery_digs = 2\n"))
	if two.Every != 2 || len(two.Closes) != 6 {
		t.Errorf("every two digs: %+v", two)
	}
}
