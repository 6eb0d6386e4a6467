package draw_test

import (
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"testing"

	"spadework/engine/draw"
	"spadework/engine/geom"
	"spadework/engine/plan"
	"spadework/exchange"
)

var examples = []string{"alder-quay", "fennel-yard"}

// The papers that the page uses, and a small one.
var (
	wide       = draw.Frame{Width: 240, Height: 140, Type: 3.2}
	sitePapers = []draw.Frame{wide, {Width: 134, Height: 104, Type: 3}}
	along      = draw.Frame{Width: 230, Height: 104, Type: 3.4}
	across     = draw.Frame{Width: 126, Height: 124, Type: 3.6}
)

// example plans an example.
func example(t *testing.T, name string) *plan.Plan {
	t.Helper()
	folder := filepath.Join("..", "..", "examples", name)
	data, err := os.ReadFile(filepath.Join(folder, "job.toml"))
	if err != nil {
		t.Fatal(err)
	}
	return planned(t, string(data), func(n string) ([]byte, error) { return os.ReadFile(filepath.Join(folder, n)) })
}

// planned plans a job.
func planned(t *testing.T, text string, open func(string) ([]byte, error)) *plan.Plan {
	t.Helper()
	j, _, err := exchange.ReadJob("job.toml", []byte(text), open)
	if err != nil {
		t.Fatal(err)
	}
	p, f := plan.Make(j)
	if f != nil {
		t.Fatal(f)
	}
	return p
}

func voice(p *plan.Plan) draw.Voice {
	return draw.Voice{Language: p.Job.Language, Style: p.Job.Style}
}

// drawn is a scene with its name.
type drawn struct {
	name string
	draw.Scene
	cut draw.Cut
}

// uprights are the profiles and sections of every dig of a plan from every
// set-up and from none.
func uprights(t *testing.T, p *plan.Plan) []drawn {
	t.Helper()
	var out []drawn
	for _, d := range p.Digs {
		setups := []string{""}
		for _, s := range p.Setups {
			setups = append(setups, s.ID)
		}
		for _, setup := range setups {
			c := draw.Cut{Plan: p, Dig: d, Setup: setup}
			s, ok := draw.Section(c, voice(p), across)
			if d.Excavation.Kind.Run() {
				s, ok = draw.Profile(c, voice(p), along)
			}
			if !ok {
				t.Fatalf("%s under %q is not drawn", d.Excavation.ID, setup)
			}
			out = append(out, drawn{fmt.Sprintf("%s under %q", d.Excavation.ID, setup), s, c})
		}
	}
	return out
}

// scenes are all drawings of an example.
func scenes(t *testing.T, name string) []drawn {
	t.Helper()
	p := example(t, name)
	out := uprights(t, p)
	for _, f := range sitePapers {
		out = append(out, drawn{fmt.Sprintf("site plan on %v", f), draw.SitePlan(p, voice(p), f), draw.Cut{Plan: p}})
	}
	return out
}

// words counts the texts of a scene.
func words(s draw.Scene) map[string]int {
	out := map[string]int{}
	for _, it := range s.Items {
		if it.Text != "" {
			out[it.Text]++
		}
	}
	return out
}

// covers is the box of a text in the font, from its baseline to 0.75 of its size:
// capitals of DejaVu Sans are 0.73 high (OS/2).
func covers(it draw.Item) geom.Box {
	w, p := draw.Width(it.Set, it.Size, it.Text), it.Points[0]
	lead := map[draw.Anchor]float64{draw.Start: 0, draw.Middle: w / 2, draw.End: w}[it.Anchor]
	if it.Upward {
		return geom.BoxOf(geom.Point{X: p.X - it.Size*0.75, Y: p.Y + lead}, geom.Point{X: p.X, Y: p.Y + lead - w})
	}
	return geom.BoxOf(geom.Point{X: p.X - lead, Y: p.Y - it.Size*0.75}, geom.Point{X: p.X - lead + w, Y: p.Y})
}

// TestEveryTextIsInTheFrameAndOnNoOther is the law of every drawing.
func TestEveryTextIsInTheFrameAndOnNoOther(t *testing.T) {
	for _, name := range examples {
		for _, s := range scenes(t, name) {
			var boxes []geom.Box
			var texts []string
			for _, it := range s.Items {
				if it.Text == "" {
					continue
				}
				b := covers(it)
				if !(b.Min.X >= 0 && b.Min.Y >= 0 && b.Max.X <= s.Width && b.Max.Y <= s.Height) {
					t.Errorf("%s, %s: %q leaves the frame: %v", name, s.name, it.Text, b)
				}
				for i, o := range boxes {
					if o.Meets(b) {
						t.Errorf("%s, %s: %q lies on %q", name, s.name, it.Text, texts[i])
					}
				}
				boxes, texts = append(boxes, b), append(texts, it.Text)
			}
			if len(boxes) == 0 {
				t.Errorf("%s, %s: no words at all", name, s.name)
			}
		}
	}
}

func TestEveryPlaceOnPaperIsANumber(t *testing.T) {
	for _, name := range examples {
		for _, s := range scenes(t, name) {
			for _, it := range s.Items {
				for _, p := range it.Points {
					if !(p.X > -1e6 && p.X < 1e6 && p.Y > -1e6 && p.Y < 1e6) { // a kilometre of paper
						t.Fatalf("%s, %s: a %s item at %v", name, s.name, it.Pen, p)
					}
				}
			}
		}
	}
}

func TestTheSamePlanDrawsTheSame(t *testing.T) {
	a, b := scenes(t, "alder-quay"), scenes(t, "alder-quay")
	for i := range a {
		if !reflect.DeepEqual(a[i].Scene, b[i].Scene) {
			t.Errorf("two drawings of %s differ", a[i].name)
		}
	}
}

// TestEveryPenIsKnown keeps Pens whole.
func TestEveryPenIsKnown(t *testing.T) {
	known := map[draw.Pen]bool{}
	for _, p := range draw.Pens() {
		known[p] = true
	}
	for _, s := range scenes(t, "fennel-yard") {
		for _, it := range s.Items {
			if !known[it.Pen] {
				t.Fatalf("%s is drawn with %q, which Pens does not list", s.name, it.Pen)
			}
		}
	}
}
