package cli

import (
	"math"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"spadework/engine/job"
	"spadework/engine/plan"
	"spadework/engine/unit"
	"spadework/exchange"
)

// published are the worked examples of testdata/published, each planned by the
// program from its job file. tolerance is what the source's digits allow, in
// feet; a NaN is never within it.
var published = []struct {
	folder    string
	tolerance float64
	rows      int
}{
	{"pipeline", 0.005, 7},   // Ghilani & Wolf, Elementary Surveying, problem 23.11: two decimals
	{"stakeout", 0.0005, 10}, // NAVEDTRA 14070 fig. 10-19 with the chain of a pipe and bedding: three decimals
	{"drain", 0.005, 8},      // Waring, Draining for Profit, 1867: two decimals
}

func planPublished(t *testing.T, folder string) *plan.Plan {
	t.Helper()
	j, err := readJob(filepath.Join("..", "testdata", "published", folder, "job.toml"))
	if err != nil {
		t.Fatal(err)
	}
	p, fault := plan.Make(j)
	if fault != nil {
		t.Fatal(fault)
	}
	return p
}

func readPublished(t *testing.T, names ...string) *job.Rows {
	t.Helper()
	path := filepath.Join(append([]string{"..", "testdata", "published"}, names...)...)
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	rows, fault := exchange.ReadTable(path, data)
	if fault != nil {
		t.Fatal(fault)
	}
	return rows
}

func feet(t *testing.T, text string) float64 {
	t.Helper()
	f, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// numberAt finds the number of a dig from a set-up at a station in feet.
func numberAt(t *testing.T, p *plan.Plan, dig, setup string, station float64) plan.Number {
	t.Helper()
	for _, n := range p.Numbers {
		if n.Excavation == dig && n.Setup == setup && math.Abs(float64(n.Station)/float64(unit.Foot)-station) < 1e-6 {
			return n
		}
	}
	t.Fatalf("%s has no number from %s at %v ft", dig, setup, station)
	return plan.Number{}
}

func compareFeet(t *testing.T, what string, got unit.Length, want string, tolerance float64) {
	t.Helper()
	if want == "" {
		return
	}
	if g, w := float64(got)/float64(unit.Foot), feet(t, want); !(math.Abs(g-w) <= tolerance) {
		t.Errorf("%s = %.5f ft, want %s ft (tol %v ft: digits of the source)", what, g, want, tolerance)
	}
}

func TestPublishedJobsLineByLine(t *testing.T) {
	for _, c := range published {
		t.Run(c.folder, func(t *testing.T) {
			p := planPublished(t, c.folder)
			rows := readPublished(t, c.folder, "expected.csv")
			if len(rows.Rows) != c.rows {
				t.Fatalf("%d rows expected, want %d", len(rows.Rows), c.rows)
			}
			for _, row := range rows.Rows {
				n := numberAt(t, p, row[0].Text, row[1].Text, feet(t, row[2].Text))
				what := row[0].Text + " at " + row[2].Text + " from " + row[1].Text
				compareFeet(t, "grade rod of "+what, unit.Length(n.Rod), row[4].Text, c.tolerance)
				if row[3].Text != "" {
					compareFeet(t, "ground rod of "+what, unit.Length(*n.GroundRod()), row[3].Text, 1e-9)
					compareFeet(t, "cut of "+what, *n.Cut, row[5].Text, c.tolerance)
				}
			}
		})
	}
}

// TestStakeOutAsPublished: NAVEDTRA 14070 fig. 10-19, inverts at eight stations,
// cuts at two hubs and the board for a string 10 ft over the invert.
func TestStakeOutAsPublished(t *testing.T) {
	p := planPublished(t, "stakeout")
	d, _ := p.Dig("INV")
	for _, row := range readPublished(t, "stakeout", "inverts.csv").Rows {
		pt, ok := d.StationPoint(unit.Station(feet(t, row[0].Text)) * unit.Station(unit.Foot))
		if !ok {
			t.Fatalf("no station %s", row[0].Text)
		}
		compareFeet(t, "invert at "+row[0].Text, unit.Length(pt.Bottom), row[1].Text, 1e-9)
	}
	want := map[string]struct{ cut, board string }{"9+00": {"4.07", "5.93"}, "8+50": {"5.55", "4.45"}}
	if len(p.Stakes) != len(want) {
		t.Fatalf("%d stakes, want %d", len(p.Stakes), len(want))
	}
	for _, s := range p.Stakes {
		compareFeet(t, "cut at hub "+s.Hub, s.Cut(), want[s.Hub].cut, 1e-9)
		compareFeet(t, "board over hub "+s.Hub, *s.Board, want[s.Hub].board, 1e-9)
	}
}
