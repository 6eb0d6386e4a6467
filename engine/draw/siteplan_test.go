package draw_test

import (
	"math"
	"testing"

	"spadework/engine/draw"
	"spadework/engine/geom"
	"spadework/engine/plan"
	"spadework/engine/safety"
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
		if it.Text != "" || it.Pen != draw.Fine && it.Pen != draw.Leader {
			continue
		}
		for _, q := range it.Points {
			if q.X < -1e-9 || q.Y < -1e-9 || q.X > s.Width+1e-9 || q.Y > s.Height+1e-9 { // rounding of the clip
				t.Fatalf("a contour or leader reaches %v outside %v × %v", q, s.Width, s.Height)
			}
		}
	}
}

// TestNamesStandNearestToTheirOwnDig: of the areas, none whose name touches
// nothing but a leader could be read as another's.
func TestNamesStandNearestToTheirOwnDig(t *testing.T) {
	p := example(t, "alder-quay")
	for _, f := range sitePapers {
		s := draw.SitePlan(p, voice(p), f)
		var outlines []geom.Box
		for _, it := range s.Items {
			if it.Pen == draw.Bottom {
				outlines = append(outlines, geom.BoxOf(it.Points...))
			}
		}
		boxes := map[string]geom.Box{}
		for i, d := range partOwners(p) {
			boxes[d] = outlines[i].Union(orEmpty(boxes, d))
		}
		led := leaders(s)
		for _, it := range s.Items {
			own, is := boxes[it.Text]
			d, _ := p.Dig(it.Text)
			if !is || !d.Excavation.Kind.Area() || led(covers(it)) {
				continue
			}
			for other, b := range boxes {
				if other != it.Text && !(apart(covers(it), own) < apart(covers(it), b)) {
					t.Errorf("on %v: %s stands %.2f mm from its dig and %.2f mm from %s", f, it.Text, apart(covers(it), own), apart(covers(it), b), other)
				}
			}
		}
	}
}

// partOwners are the ids of the digs, once for every part, as they are drawn.
func partOwners(p *plan.Plan) []string {
	var out []string
	for _, d := range p.Digs {
		for range d.Parts {
			out = append(out, d.Excavation.ID)
		}
	}
	return out
}

func orEmpty(boxes map[string]geom.Box, id string) geom.Box {
	if b, ok := boxes[id]; ok {
		return b
	}
	return geom.EmptyBox()
}

// apart is the gap between two boxes, 0 where they meet.
func apart(a, b geom.Box) float64 {
	dx := max(0, a.Min.X-b.Max.X, b.Min.X-a.Max.X)
	dy := max(0, a.Min.Y-b.Max.Y, b.Min.Y-a.Max.Y)
	return math.Hypot(dx, dy)
}

// leaders tells whether a leader ends beside a box.
func leaders(s draw.Scene) func(geom.Box) bool {
	var ends []geom.Point
	for _, it := range s.Items {
		if it.Pen == draw.Leader {
			ends = append(ends, it.Points[1])
		}
	}
	return func(b geom.Box) bool {
		for _, e := range ends {
			if b.Grown(1).Holds(e) {
				return true
			}
		}
		return false
	}
}

// TestZonesReachesAndStandsAreTrueToScale: a zone's edge lies Stop from its
// service, a laser's circle its range from the set-up, and each stand has its
// number.
func TestZonesReachesAndStandsAreTrueToScale(t *testing.T) {
	p := example(t, "fennel-yard")
	p.Setups[0].Laser.Range = 12
	line := []geom.Point{{X: 0, Y: 5}, {X: 40, Y: 5}}
	marks := draw.Marks{Reaches: true,
		Bounds: safety.Bounds{Zones: []safety.Zone{{Service: "G", Line: line, Stop: 2, Bands: []geom.Ring{geom.Rectangle(geom.Point{X: 20, Y: 5}, geom.Vector{X: 1}, 44, 4)}}}},
		Stands: []draw.Stand{{Order: 1, At: geom.Point{X: 5, Y: 20}, Toward: geom.Point{X: 9, Y: 20}}, {Order: 2, At: geom.Point{X: 5, Y: 30}, Toward: geom.Point{X: 9, Y: 30}}}}
	s := draw.MarkedPlan(p, voice(p), wide, marks)
	perMetre := 1000 / 500.0 // the example stands at 1:500 on this paper
	var zone, reach []geom.Point
	for _, it := range s.Items {
		switch it.Pen {
		case draw.Zone:
			zone = append(zone, it.Points...)
		case draw.Reach:
			reach = append(reach, it.Points...)
		}
	}
	box := geom.BoxOf(zone...)
	if got := box.Height() / perMetre; !(math.Abs(got-4) < 1e-6) {
		t.Errorf("zone %.4f m wide, want 4 m", got)
	}
	if got := geom.BoxOf(reach...).Width() / perMetre; len(reach) < 100 || !(got >= 24-1e-6) {
		t.Errorf("reach %.3f m across, want the circle of 12 m and wider ones", got)
	}
	if found := words(s); found["1"] != 1 || found["2"] != 1 {
		t.Errorf("stands 1 and 2 stand %d and %d times", found["1"], found["2"])
	}
	if seen := draw.MarkedPlan(p, voice(p), wide, draw.Marks{Bounds: safety.Bounds{Zones: []safety.Zone{{Seen: true, Bands: marks.Bounds.Zones[0].Bands}}}}); count(seen, draw.Zone) != 0 {
		t.Error("the zone of a service that was seen is still drawn")
	}
}

func count(s draw.Scene, pen draw.Pen) int {
	n := 0
	for _, it := range s.Items {
		if it.Pen == pen {
			n++
		}
	}
	return n
}

// TestAKeyPlanShowsItsDigAndItsSetup: one dig heavy and named, its set-up, no
// words on others, all inside the paper.
func TestAKeyPlanShowsItsDigAndItsSetup(t *testing.T) {
	p := example(t, "alder-quay")
	for _, d := range p.Digs {
		s := draw.KeyPlan(p, voice(p), draw.Frame{Width: 46, Height: 34, Type: 2.4}, d, "A1")
		found := words(s)
		if found[d.Excavation.ID] != 1 || found["A1"] != 1 || count(s, draw.Bottom) != len(d.Parts) {
			t.Errorf("%s: named %d times, A1 %d times, %d heavy outlines of %d", d.Excavation.ID, found[d.Excavation.ID], found["A1"], count(s, draw.Bottom), len(d.Parts))
		}
		for _, it := range s.Items {
			for _, q := range it.Points {
				if !(q.X >= -1e-9 && q.Y >= -1e-9 && q.X <= s.Width+1e-9 && q.Y <= s.Height+1e-9) { // rounding of the clip
					t.Fatalf("%s: a %s item at %v leaves the paper", d.Excavation.ID, it.Pen, q)
				}
			}
		}
	}
}

// A place goes to the window and back; a window of the whole site holds every dig.
func TestAWindowShowsTheSite(t *testing.T) {
	p := example(t, examples[0])
	f := draw.Frame{Width: 120, Height: 90, Type: 3}
	w := draw.WholeSite(p, f, geom.EmptyBox())
	for _, d := range p.Digs {
		for _, part := range d.Parts {
			for _, at := range part.Outline {
				on := w.On(at)
				if !(on.X >= 0 && on.X <= f.Width && on.Y >= 0 && on.Y <= f.Height) {
					t.Errorf("%s lies at %v of the window", d.Excavation.ID, on)
				}
				if back := w.Site(on); !(back.Distance(at) < 1e-9) { // m: rounding
					t.Errorf("Site(On(%v)) = %v", at, back)
				}
			}
		}
	}
	near := draw.Window{Corner: p.Digs[0].Parts[0].Outline[0], Scale: 4 * w.Scale}
	if a, b := draw.WindowedPlan(p, voice(p), f, draw.Marks{}, w), draw.WindowedPlan(p, voice(p), f, draw.Marks{}, near); len(a.Items) == 0 || len(b.Items) == 0 {
		t.Errorf("windows draw %d and %d items", len(a.Items), len(b.Items))
	}
}
