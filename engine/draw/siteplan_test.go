package draw_test

import (
	"testing"

	"spadework/engine/draw"
	"spadework/engine/geom"
)

func TestEveryDigSetupAndBenchmarkIsNamed(t *testing.T) {
	for _, name := range examples {
		p := example(t, name)
		for _, f := range sitePapers {
			s := draw.SitePlan(p, voice(p), f)
			if s.Unplaced > 0 {
				t.Errorf("%s on %v: %d names found no place", name, f, s.Unplaced)
			}
			found := words(s)
			for _, d := range p.Digs {
				if found[d.Excavation.ID] != 1 {
					t.Errorf("%s on %v: the name %s stands %d times, want once", name, f, d.Excavation.ID, found[d.Excavation.ID])
				}
			}
			for _, b := range p.Job.Benchmarks {
				if found[b.ID] != 1 {
					t.Errorf("%s on %v: the name %s stands %d times, want once", name, f, b.ID, found[b.ID])
				}
			}
		}
	}
}

func TestTheScaleIsTrue(t *testing.T) {
	p := example(t, "alder-quay")
	s := draw.SitePlan(p, voice(p), wide)
	d, _ := p.Dig("S1")
	want := d.Parts[0].Outline.Bounds().Width() * 1000 / 480 // 1 in = 40 ft is 1:480
	for _, it := range s.Items {
		if it.Pen != draw.Bottom || len(it.Points) != len(d.Parts[0].Outline) {
			continue
		}
		got := geom.Ring(it.Points).Bounds().Width()
		if diff := got - want; diff < 1e-6 && diff > -1e-6 {
			return
		}
	}
	t.Errorf("no outline %.2f mm long, as S1 is at 1:480", want)
}

// A planned set-up must not look like one to dig to.
func TestOnlyPlannedSetupsAreHollow(t *testing.T) {
	p := example(t, "alder-quay")
	s := draw.SitePlan(p, voice(p), wide)
	heads := map[draw.Pen]draw.Fill{}
	for _, it := range s.Items {
		if it.Closed && len(it.Points) == 4 && (it.Pen == draw.Planned || it.Pen == draw.Beam) {
			heads[it.Pen] = it.Fill
		}
	}
	if heads[draw.Planned] != draw.Hollow || heads[draw.Beam] != draw.Solid || len(heads) != 2 {
		t.Errorf("heads of tripods = %v, want planned hollow and live solid", heads)
	}
	if words(s)["A3 PLANNED"] != 1 {
		t.Error("A3 is not called PLANNED")
	}
}

func TestTheNorthArrowPointsUpAndContoursStayInTheFrame(t *testing.T) {
	p := example(t, "fennel-yard")
	s := draw.SitePlan(p, voice(p), wide)
	for _, it := range s.Items {
		if it.Text != "" || it.Pen != draw.Fine {
			continue
		}
		for _, q := range it.Points {
			if q.X < -1e-9 || q.Y < -1e-9 || q.X > s.Width+1e-9 || q.Y > s.Height+1e-9 { // rounding of the clip
				t.Fatalf("a contour or leader reaches %v outside %v × %v", q, s.Width, s.Height)
			}
		}
	}
}
