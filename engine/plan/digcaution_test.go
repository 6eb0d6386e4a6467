package plan_test

import (
	"fmt"
	"strings"
	"testing"

	"spadework/engine/phrase"
	"spadework/engine/plan"
	"spadework/engine/unit"
	"spadework/exchange"
)

// nearJob is one footing, 2 m square, whose east side lies a distance from a
// service along the north.
func nearJob(metres float64) string {
	return strings.Replace(strings.Replace(head, `units = "ft"`, `units = "m"`, 1), "range = 9000", "range = 900", 1) + fmt.Sprintf(`
[[utility]]
id = "G"
kind = "gas"
line = [[%g, -500], [%g, 500]]
size = 0.1
[[excavation]]
id = "F1"
kind = "footing"
at = [20, 0]
size = [2, 2]
bottom = { below = 3, datum = "FFL" }
tolerance = "10 mm"
[[excavation]]
id = "F2"
kind = "footing"
at = [20, 30]
size = [2, 2]
bottom = { below = 3, datum = "FFL" }
`, 21+metres, 21+metres)
}

// about says that a finding speaks of an id.
func about(fs []phrase.Finding, id string) bool {
	for _, f := range fs {
		if strings.Contains(f.What.Render(phrase.English, unit.Style{}), id) {
			return true
		}
	}
	return false
}

func TestADigsCautionsAreItsOwnAndThoseNearIt(t *testing.T) {
	for _, c := range []struct {
		metres float64
		near   bool
	}{{0.5, true}, {9.9, true}, {10.1, false}, {200, false}} { // nearDig is 10 m
		j, _, err := exchange.ReadJob("job.toml", []byte(nearJob(c.metres)), nil)
		if err != nil {
			t.Fatal(err)
		}
		p, fault := plan.Make(j)
		if fault != nil {
			t.Fatal(fault)
		}
		d := p.DigCautions()
		found := d.Of("F1", "A1")
		if got := about(found, "G (gas)"); got != c.near {
			t.Errorf("gas %g m from F1: told %v, want %v", c.metres, got, c.near)
		}
		if about(found, "F2") || !about(found, "F1") || !about(found, "A1 rests on one backsight") {
			t.Errorf("the cautions of F1 under A1 are not its own: %+v", found)
		}
		if about(d.Of("F1", ""), "A1") || !about(d.Of("F2", ""), "F2 has no tolerance") && !noTolerance(p) {
			t.Error("cautions without a set-up tell one, or a missing tolerance is not told")
		}
		for _, f := range found {
			if !held(p.Findings, f) {
				t.Errorf("the card tells %s (%s), which the job's findings do not", f.Rule, f.Severity)
			}
			if f.Severity == phrase.Note {
				t.Errorf("the card tells the note %s", f.Rule)
			}
		}
		if zones := p.Bounds.Zones; len(zones) != 1 || !(zones[0].Stop > 0) {
			t.Errorf("bounds have %d zones, want that of the gas", len(zones))
		}
	}
}

// noTolerance says that the finding of a missing tolerance is only a note.
func noTolerance(p *plan.Plan) bool {
	for _, f := range p.Findings {
		if f.Rule == "no_tolerance" {
			return f.Severity == phrase.Note
		}
	}
	return false
}

func held(fs []phrase.Finding, want phrase.Finding) bool {
	for _, f := range fs {
		if f.Rule == want.Rule && f.Severity == want.Severity {
			return true
		}
	}
	return false
}
