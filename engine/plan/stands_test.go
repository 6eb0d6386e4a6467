package plan_test

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"spadework/engine/beam"
	"spadework/engine/plan"
	"spadework/exchange"
)

// planFolder plans a job in a folder.
func planFolder(t testing.TB, folder string) *plan.Plan {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(folder, "job.toml"))
	if err != nil {
		t.Fatal(err)
	}
	j, _, err := exchange.ReadJob("job.toml", data, func(name string) ([]byte, error) { return os.ReadFile(filepath.Join(folder, name)) })
	if err != nil {
		t.Fatal(err)
	}
	p, f := plan.Make(j)
	if f != nil {
		t.Fatal(f)
	}
	return p
}

// TestStandsOfTheExamplesPlay: a checker with its own geometry moves the machine
// through the stands of every example with a machine, and every number of a dig
// that is dug whole tells the stand it is dug from.
func TestStandsOfTheExamplesPlay(t *testing.T) {
	planned := 0
	for _, folder := range examples {
		p := planFolder(t, folder)
		if p.Stands == nil {
			continue
		}
		planned++
		holdStands(t, folder, p)
		if p.Stands.Count < p.Stands.Bound && len(p.Stands.Missed) == 0 {
			t.Errorf("%s: %d stands, under the bound %d", folder, p.Stands.Count, p.Stands.Bound)
		}
	}
	if planned < 2 {
		t.Errorf("%d examples have stands, want 2 or more", planned)
	}
}

// holdStands plays a plan and looks whether its numbers, set-ups and safety
// findings know of the stands.
func holdStands(t *testing.T, name string, p *plan.Plan) {
	t.Helper()
	if v := p.Stands.Played(); v != nil {
		t.Errorf("%s: stand %d breaks %s at %v", name, v.Visit+1, v.Rule, v.At)
	}
	missed := map[string]bool{}
	for _, u := range p.Stands.Missed {
		missed[u.Excavation] = true
	}
	for _, n := range p.Numbers {
		if n.Stand == "" && !missed[n.Excavation] && n.Cut != nil && *n.Cut > 0 && !handOnly(p, n.Excavation) {
			t.Errorf("%s: the number at %s %s tells no stand", name, n.Excavation, n.Name)
		}
	}
	for _, row := range p.Stands.Rows {
		for _, w := range row.Work {
			if w.Setup == "" && slices.ContainsFunc(p.Numbers, func(n plan.Number) bool { return n.Excavation == w.Excavation && n.Setup != "" }) {
				t.Errorf("%s: stand %s digs %s without a set-up", name, row.ID, w.Excavation)
			}
		}
	}
	for _, f := range p.Findings {
		if f.Rule == "plant_setback" && f.Where.Stand != "" {
			t.Errorf("%s: planned stand %s is told to be too near the edge", name, f.Where.Stand)
		}
	}
}

// handOnly says that no machine digs any of a dig.
func handOnly(p *plan.Plan, id string) bool {
	for _, c := range p.Cells(id) {
		if !c.Hand {
			return false
		}
	}
	return true
}

// standJob is a random job of pads, strips and drains on a falling ground.
func standJob(seed uint64) string {
	r := rand.New(rand.NewPCG(seed, 88))
	var b strings.Builder
	guidance := []string{"rod", "stick_receiver", "sensors_beam"}[r.IntN(3)]
	fmt.Fprintf(&b, `[job]
name = "Stands"
units = "m"
curvature = "none"
[[benchmark]]
id = "BM1"
at = [-6, -6]
elevation = 100
hard = true
[ground]
level = %.2f
[[laser]]
id = "L1"
accuracy = '10"'
range = 200
heights = [1.2, 3.0]
[[receiver]]
id = "V1"
dead_band = "2 mm"
[[rod]]
id = "R1"
face = "metric"
shortest = 0.3
longest = 5
[[machine]]
id = "M1"
type = "%s"
guidance = "%s"
receiver = "V1"
clamp = [0.5, 4.5]
footprint = [2.0, 2.8]
tail_swing = 1.5
max_reach = 6.5
max_depth = 4
level_depth = 3.6
dump_height = 4.5
dump_reach = 5
[[setup]]
tag = "A1"
at = [-4, %.2f]
backsights = [{ benchmark = "BM1", rod = 1.4 }]
`, 99.9+0.2*r.Float64(), []string{"tracked", "wheeled"}[r.IntN(2)], guidance, 8+5*r.Float64())
	kinds := 2 + r.IntN(5)
	for i := range kinds {
		x, y := 6+11*float64(i%3)+2*r.Float64(), 4+13*float64(i/3)+2*r.Float64()
		depth := 0.6 + 1.2*r.Float64()
		switch r.IntN(3) {
		case 0:
			fmt.Fprintf(&b, "[[excavation]]\nid = \"P%d\"\nkind = \"pad\"\nat = [%.2f, %.2f]\nsize = [%.1f, %.1f]\nbottom = { elevation = %.2f }\n", i, x, y, 1+2*r.Float64(), 1+2*r.Float64(), 100-depth)
		case 1:
			fmt.Fprintf(&b, "[[excavation]]\nid = \"S%d\"\nkind = \"strip\"\nline = [[%.2f, %.2f], [%.2f, %.2f]]\nwidth = 0.6\nbottom = { elevation = %.2f }\n", i, x, y, x+8*r.Float64(), y+6*r.Float64()+1, 100-depth)
		default:
			fmt.Fprintf(&b, "[[excavation]]\nid = \"D%d\"\nkind = \"trench\"\nline = [[%.2f, %.2f], [%.2f, %.2f]]\nwidth = 0.7\ncarries = { purpose = \"storm\" }\ninverts = [{ station = 0, invert = %.2f }]\nfall = %.3f\n", i, x, y, x+7*r.Float64(), y+5*r.Float64()+2, 100-depth, 0.02*(r.Float64()-0.5))
		}
		b.WriteString("tolerance = 0.02\n")
		if i > 0 && r.IntN(4) == 0 {
			b.WriteString("finish_on_pour_day = true\n")
		}
	}
	if r.IntN(2) == 0 {
		fmt.Fprintf(&b, "[[utility]]\nid = \"W\"\nkind = \"water\"\nsize = 0.1\nline = [[%.1f, -2], [%.1f, 30]]\n", 8+20*r.Float64(), 8+20*r.Float64())
	}
	if r.IntN(3) == 0 {
		fmt.Fprintf(&b, "[[obstacle]]\nid = \"O\"\noutline = [[%[1]f, 9.5], [%[2]f, 9.5], [%[2]f, 10], [%[1]f, 10]]\nheight = 2\n", 10+10*r.Float64(), 24+6*r.Float64())
	}
	return b.String()
}

// TestStandsOfRandomJobsPlay: 50 random jobs, 500 with SPADEWORK_LONG.
func TestStandsOfRandomJobsPlay(t *testing.T) {
	count := uint64(50)
	if os.Getenv("SPADEWORK_LONG") == "1" {
		count = 500
	}
	served, missed, stands, guidances := 0, 0, 0, map[beam.Guidance]int{}
	for seed := range count {
		p := planOf(t, standJob(seed))
		if p.Stands == nil {
			t.Fatalf("seed %d: no stands", seed)
		}
		holdStands(t, fmt.Sprint("seed ", seed), p)
		served, missed, stands = served+len(p.Digs), missed+len(p.Stands.Missed), stands+p.Stands.Count
		guidances[p.Setups[0].Guidance]++
	}
	t.Logf("%d digs, %d pieces missed, %d stands, by guidance %v", served, missed, stands, guidances)
	if missed*10 > served || len(guidances) < 3 {
		t.Errorf("%d pieces of %d digs missed, %d guidances: the jobs say little", missed, served, len(guidances))
	}
}

// standField is a job of n pads and drains at a fixed density.
func standField(n int) string {
	text := standJob(0)
	text = text[:strings.Index(text, "[[excavation]]")]
	text = strings.Replace(text, `guidance = "`, `guidance = "rod" # "`, 1)
	text = strings.Replace(text, "range = 200", "range = 2000", 1)
	var b strings.Builder
	b.WriteString(text)
	wide := 1
	for wide*wide < n {
		wide++
	}
	r := rand.New(rand.NewPCG(1, 500))
	for i := range n {
		x, y := 6+10*float64(i%wide), 4+10*float64(i/wide)
		depth := 0.6 + 1.2*r.Float64()
		if i%4 == 0 {
			fmt.Fprintf(&b, "[[excavation]]\nid = \"D%d\"\nkind = \"trench\"\nline = [[%.2f, %.2f], [%.2f, %.2f]]\nwidth = 0.7\ncarries = { purpose = \"storm\" }\ninverts = [{ station = 0, invert = %.2f }]\nfall = -0.01\ntolerance = 0.02\n", i, x, y, x+6, y+3, 100-depth)
			continue
		}
		fmt.Fprintf(&b, "[[excavation]]\nid = \"P%d\"\nkind = \"pad\"\nat = [%.2f, %.2f]\nsize = [1.6, 1.6]\nbottom = { elevation = %.2f }\ntolerance = 0.02\n", i, x, y, 100-depth)
	}
	return b.String()
}

// BenchmarkStandsOfAJob plans a job with one set-up and stands for its machine,
// 500 digs and four times as many.
func BenchmarkStandsOfAJob(b *testing.B) {
	for _, n := range []int{125, 500, 2000} {
		b.Run(fmt.Sprintf("digs=%d", n), func(b *testing.B) {
			data := []byte(standField(n))
			for b.Loop() {
				j, _, err := exchange.ReadJob("job.toml", data, nil)
				if err != nil {
					b.Fatal(err)
				}
				p, f := plan.Make(j)
				if f != nil {
					b.Fatal(f)
				}
				b.ReportMetric(float64(p.Stands.Count), "stands")
				b.ReportMetric(float64(p.Stands.Bound), "bound")
				b.ReportMetric(float64(len(p.Stands.Missed)), "missed")
			}
		})
	}
}
