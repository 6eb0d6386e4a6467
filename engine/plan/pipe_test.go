package plan_test

import (
	"math"
	"strings"
	"testing"

	"spadework/engine/phrase"
	"spadework/engine/plan"
	"spadework/engine/unit"
	"spadework/exchange"
)

// planText plans a job of a text without files beside it.
func planText(t *testing.T, text string) *plan.Plan {
	t.Helper()
	j, _, err := exchange.ReadJob("job.toml", []byte(text), nil)
	if err != nil {
		t.Fatal(err)
	}
	p, f := plan.Make(j)
	if f != nil {
		t.Fatal(f)
	}
	return p
}

// pipeJob is a job with these digs on level ground at 10 m.
func pipeJob(digs string) string {
	return "[job]\nname = \"Pipes\"\nunits = \"m\"\n[ground]\nlevel = 10\n" + digs
}

// trench is a trench from x0 to x1 at y, with more keys.
func trench(id, line, more string) string {
	return "[[excavation]]\nid = \"" + id + "\"\nkind = \"trench\"\nline = " + line +
		"\nwidth = 0.8\nbedding = 0.1\ntolerance = \"10 mm\"\npipe = { outside = \"210 mm\", wall = \"5 mm\", nominal = \"200 mm\" }\n" + more + "\n"
}

// pipeRules are the pipe rules that found something, one by one.
func pipeRules(p *plan.Plan) string {
	var out []string
	for _, f := range p.Findings {
		if strings.HasPrefix(f.Rule, "pipe_") {
			out = append(out, f.Rule)
		}
	}
	return strings.Join(out, " ")
}

func TestPipesAreJudged(t *testing.T) {
	const sewer = `carries = { purpose = "sanitary" }` + "\n"
	good := sewer + "inverts = [{ station = 0, invert = 8 }]\nfall = \"1 %\""
	for _, c := range []struct{ name, digs, want string }{
		{"good", trench("T", "[[0, 0], [50, 0]]", good), ""},
		{"drawn the other way round", trench("T", "[[50, 0], [0, 0]]", sewer+"inverts = [{ station = 0, invert = 7.5 }]\nfall = \"-1 %\""), ""},
		{"flat", trench("T", "[[0, 0], [50, 0]]", sewer+"inverts = [{ station = 0, invert = 8 }]\nfall = \"0.39 %\""), "pipe_least_slope"},
		{"rises on the way", trench("T", "[[0, 0], [50, 0]]", sewer+"inverts = [{ station = 0, invert = 8 }, { station = 20, invert = 7.8 }, { station = 30, invert = 7.85 }, { station = 50, invert = 7.5 }]"), "pipe_reverse"},
		{"a drop", trench("T", "[[0, 0], [50, 0]]", sewer+"inverts = [{ station = 0, invert = 8 }, { station = 20, in = 7.8, out = 7.7 }, { station = 50, invert = 7.4 }]"), ""},
		{"a drop the wrong way", trench("T", "[[0, 0], [50, 0]]", sewer+"inverts = [{ station = 0, invert = 8 }, { station = 20, in = 7.8, out = 7.85 }, { station = 50, invert = 7.4 }]"), "pipe_drop_reverse"},
		{"water over it", trench("T", "[[0, 0], [50, 0]]", good) + trench("W", "[[25, -20], [25, 20]]", "carries = { purpose = \"water\" }\nbottom = { elevation = 8.6 }"), ""},
		// Top of the sewer within 3.258 m of the crossing at 25: 8 − 0.22 + 0.205; 18 in more is 8.442.
		{"water too low", trench("T", "[[0, 0], [50, 0]]", good) + trench("W", "[[25, -20], [25, 20]]", "carries = { purpose = \"water\" }\nbottom = { elevation = 8.3 }"), "pipe_water_near"},
		{"water not seen", trench("T", "[[0, 0], [50, 0]]", good) + "[[utility]]\nid = \"W\"\nkind = \"water\"\nline = [[0, 2], [50, 2]]\n", "pipe_water_unknown"},
		{"water far", trench("T", "[[0, 0], [50, 0]]", good) + "[[utility]]\nid = \"W\"\nkind = \"water\"\nline = [[0, 4], [50, 4]]\n", ""},
		{"shallow cable", trench("T", "[[0, 0], [50, 0]]", "carries = { purpose = \"cable\", method = \"direct_burial\" }\nbottom = { elevation = 9.181 }"), "pipe_cable_cover"},
		{"absorption, steep", trench("T", "[[0, 0], [20, 0]]", "carries = { purpose = \"absorption\" }\nbottom = { elevation = 9 }\nfall = \"2.1 in/100 ft\""), "pipe_absorption_fall"},
		{"absorption", trench("T", "[[0, 0], [20, 0]]", "carries = { purpose = \"absorption\" }\nbottom = { elevation = 9 }\nfall = \"2 in/100 ft\""), ""},
		{"cable", trench("T", "[[0, 0], [50, 0]]", "carries = { purpose = \"cable\", method = \"direct_burial\" }\nbottom = { elevation = 9.18 }"), ""},
	} {
		if got := pipeRules(planText(t, pipeJob(c.digs))); got != c.want {
			t.Errorf("%s: found %q, want %q", c.name, got, c.want)
		}
	}
}

func TestFiguresOfAPipe(t *testing.T) {
	// Maurer's figures (open textbook): D 0.2, n 0.013, S 0.001, Q 0.01 → y 0.158, V 0.376.
	p := planText(t, pipeJob(trench("T", "[[0, 0], [50, 0]]", "carries = { purpose = \"storm\", flow = \"10 l/s\" }\ninverts = [{ station = 0, invert = 8 }]\nfall = \"0.1 %\"")))
	if len(p.Pipes) != 1 || len(p.Pipes[0].Reaches) != 1 {
		t.Fatalf("pipes: %+v", p.Pipes)
	}
	one, r := p.Pipes[0], p.Pipes[0].Reaches[0]
	if r.Depth == nil || !(math.Abs(float64(*r.Depth)-0.1578) <= 5e-5) || !(math.Abs(float64(*r.FlowsAt)-0.3761) <= 5e-5) {
		t.Errorf("reach %+v, want a depth of 0.1578 m at 0.3761 m/s (tol 5e-5)", r)
	}
	// Cover: ground 10 over the top of the pipe at the high end, 8 + 0.2 + 0.005.
	if one.Cover == nil || one.Cover.Station != 0 || !(math.Abs(float64(one.Cover.Cover)-1.795) <= 1e-9) {
		t.Errorf("cover %+v, want 1.795 m at 0", one.Cover)
	}
}

func TestADrawnGradeIsNeverReplaced(t *testing.T) {
	p := planText(t, pipeJob(trench("T", "[[0, 0], [50, 0]]", "carries = { purpose = \"sanitary\" }\ninverts = [{ station = 0, invert = 8 }]\nfall = \"0.1 %\"")))
	d, _ := p.Dig("T")
	if got := d.Parts[0].Grade; !(math.Abs(float64(got)+0.001) <= 1e-12) || len(p.Lines) != 0 {
		t.Errorf("grade %v, lines %v, want the drawn −0.1 %% and none", got, p.Lines)
	}
	if !d.Excavation.Chosen.IsZero() {
		t.Error("a drawn grade says that the program chose it")
	}
}

func TestAnOpenGradeIsDug(t *testing.T) {
	// Level ground at 10, cover 1, pipe 0.2 inside and 5 mm thick, 1 % over 50 m:
	// line from 8.795 to 8.295, bottom 0.105 under it.
	p := planText(t, pipeJob(trench("T", "[[0, 0], [30, 0], [30, 20]]", "carries = { purpose = \"sanitary\" }\nopen = { cover = 1, least_fall = \"1 %\", bends = \"points\" }")))
	l, ok := p.GradeLine("T")
	if !ok {
		t.Fatal("no grade line")
	}
	if n := len(l.Vertices); n != 2 || !(math.Abs(float64(l.Vertices[0].Invert)-8.795) <= 1e-9) || !(math.Abs(float64(l.Vertices[1].Invert)-8.295) <= 1e-9) {
		t.Errorf("vertices %v, want 8.795 and 8.295", l.Vertices)
	}
	d, _ := p.Dig("T")
	if got := d.Parts[0].Trace.Sum; !(math.Abs(float64(got)-8.69) <= 1e-9) {
		t.Errorf("bottom %v, want 8.690", got)
	}
	want := "invert at 0+000, chosen by the program: least digging with cover ≥ 1.000 m and fall ≥ 1 %"
	if got := d.Parts[0].Trace.Origin.Label.Render(phrase.English, unit.Style{}); got != want {
		t.Errorf("trace says %q, want %q", got, want)
	}
	// The cover measured on the dig itself is the least asked for.
	if c := p.Pipes[0].Cover; c == nil || !(math.Abs(float64(c.Cover)-1) <= 1e-9) {
		t.Errorf("cover %+v, want 1 m", c)
	}
	// 0.8 m wide, depth 1.31 to 1.81 over 50 m: 62.4 m³.
	if !(math.Abs(float64(l.Digging)-62.4) <= 1e-9) || !l.Proven {
		t.Errorf("digging %v, proven %v, want 62.4 m³", l.Digging, l.Proven)
	}
	for _, m := range append(l.Because(), d.Excavation.Chosen) {
		if text := m.Render(phrase.Spanish, unit.Style{}); text == string(m.Key) {
			t.Errorf("%s has no Spanish text", m.Key)
		}
	}
}

func TestAnOpenGradeNeedsItsGround(t *testing.T) {
	for _, c := range []struct {
		key  phrase.Key
		text string
	}{
		{"plan.open_no_ground", pipeJob(trench("T", "[[0, 0], [50, 0]]", "open = { cover = 1, from = \"finished\" }"))},
		{"gradeline.clash_least", pipeJob(trench("T", "[[0, 0], [50, 0]]", "open = { cover = 1, least_fall = \"1 %\", fixed = [{ station = 50, invert = 8.7 }] }"))},
		{"gradeline.beyond", pipeJob(trench("T", "[[0, 0], [50, 0]]", "open = { cover = 1, bends = [60] }"))},
	} {
		j, _, err := exchange.ReadJob("job.toml", []byte(c.text), nil)
		if err != nil {
			t.Fatal(err)
		}
		if _, f := plan.Make(j); f == nil || f.What.Key != c.key || f.Place.Line == 0 {
			t.Errorf("Make gave %v, want %s at its line", f, c.key)
		}
	}
}
