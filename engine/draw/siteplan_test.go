package draw_test

import (
	"os"
	"path/filepath"
	"reflect"
	"testing"

	"spadework/engine/draw"
	"spadework/engine/geom"
	"spadework/engine/plan"
	"spadework/exchange"
)

// scene draws an example.
func scene(t *testing.T, name string) (draw.Scene, int, *plan.Plan) {
	t.Helper()
	folder := filepath.Join("..", "..", "examples", name)
	data, err := os.ReadFile(filepath.Join(folder, "job.toml"))
	if err != nil {
		t.Fatal(err)
	}
	j, _, err := exchange.ReadJob("job.toml", data, func(n string) ([]byte, error) { return os.ReadFile(filepath.Join(folder, n)) })
	if err != nil {
		t.Fatal(err)
	}
	p, f := plan.Make(j)
	if f != nil {
		t.Fatal(f)
	}
	s, left := draw.SitePlan(p, j.Style, draw.Words{North: "N", Scale: "1:"}, 240, 130)
	return s, left, p
}

// covers is the box of a text as wide as a bold figure font makes it.
func covers(it draw.Item) geom.Box {
	w := 0.6 * it.Size * float64(len([]rune(it.Text)))
	x := it.Points[0].X
	switch it.Anchor {
	case draw.Middle:
		x -= w / 2
	case draw.End:
		x -= w
	}
	return geom.BoxOf(geom.Point{X: x, Y: it.Points[0].Y - it.Size*0.75}, geom.Point{X: x + w, Y: it.Points[0].Y})
}

func TestEveryNameIsInTheFrameAndOnNoOther(t *testing.T) {
	for _, name := range []string{"alder-quay", "fennel-yard"} {
		s, left, p := scene(t, name)
		if left > 0 {
			t.Errorf("%s: %d labels found no place", name, left)
		}
		var boxes []geom.Box
		found := map[string]bool{}
		for _, it := range s.Items {
			if it.Text == "" {
				continue
			}
			found[it.Text] = true
			b := covers(it)
			if b.Min.X < 0 || b.Min.Y < 0 || b.Max.X > s.Width || b.Max.Y > s.Height {
				t.Errorf("%s: %q leaves the frame: %v", name, it.Text, b)
			}
			for _, o := range boxes {
				if o.Meets(b) {
					t.Errorf("%s: %q lies on another text", name, it.Text)
				}
			}
			boxes = append(boxes, b)
		}
		for _, d := range p.Digs {
			if !found[d.Excavation.ID] {
				t.Errorf("%s: %s has no name on the drawing", name, d.Excavation.ID)
			}
		}
	}
}

func TestTheSamePlanDrawsTheSame(t *testing.T) {
	a, _, _ := scene(t, "alder-quay")
	b, _, _ := scene(t, "alder-quay")
	if !reflect.DeepEqual(a, b) {
		t.Error("two drawings of one plan differ")
	}
}

func TestTheScaleIsTrue(t *testing.T) {
	s, _, p := scene(t, "alder-quay")
	d, _ := p.Dig("S1")
	for _, it := range s.Items {
		if it.Pen != draw.Bottom || len(it.Points) != len(d.Parts[0].Outline) {
			continue
		}
		got, want := geom.Ring(it.Points).Bounds().Width(), d.Parts[0].Outline.Bounds().Width()*1000/500
		if diff := got - want; diff < 1e-6 && diff > -1e-6 {
			return
		}
	}
	t.Error("no outline as long as S1 at 1:500")
}
