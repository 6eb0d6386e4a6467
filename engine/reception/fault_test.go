package reception_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"spadework/engine/beam"
	"spadework/engine/geom"
	"spadework/engine/ground"
	"spadework/engine/phrase"
	"spadework/engine/reception"
	"spadework/engine/unit"
)

var square = geom.Ring{{X: 1}, {X: 2}, {X: 2, Y: 1}, {X: 1, Y: 1}}

func TestBadSitesAreFaults(t *testing.T) {
	good := func() reception.Site { return reception.Site{Ground: ground.Level(0), Range: 10} }
	prism := func(ring geom.Ring, top float64) []reception.Obstacle {
		return []reception.Obstacle{{ID: "shed", Outline: ring, Top: unit.Elevation(top)}}
	}
	for want, change := range map[string]func(*reception.Site){
		"no ground":           func(s *reception.Site) { s.Ground = nil },
		"a range of 0":        func(s *reception.Site) { s.Range = 0 },
		"a clearance of -0":   func(s *reception.Site) { s.Clearance = -0.1 },
		"the outline of":      func(s *reception.Site) { s.Obstacles = prism(square[:2], 1) },
		"is no simple ring":   func(s *reception.Site) { s.Obstacles = prism(geom.Ring{square[0], square[2], square[1], square[3]}, 1) },
		`the top of obstacle`: func(s *reception.Site) { s.Obstacles = prism(square, math.NaN()) },
	} {
		site := good()
		change(&site)
		_, err := reception.New(site)
		var f *phrase.Fault
		if !errors.As(err, &f) || !strings.Contains(f.Error(), want) || f.Remedy.IsZero() {
			t.Errorf("New = %v, want a fault with a remedy that says %q", err, want)
		}
	}
	if _, err := reception.New(good()); err != nil {
		t.Errorf("New of a good site = %v", err)
	}
}

// TestReasonsInWords asks for one reason of each kind, and reads it in both
// languages. Hand-derived, exact: level ground at 0, prisms 2 m high.
func TestReasonsInWords(t *testing.T) {
	site := reception.Site{Ground: ground.Level(0), Range: 30, Obstacles: []reception.Obstacle{
		{ID: "shed", Outline: square, Top: 2},
		{ID: "heap", Outline: geom.Ring{{X: 1, Y: 5}, {X: 2, Y: 5}, {X: 2, Y: 6}}, Top: unit.Elevation(math.Inf(1))},
	}, Curvature: beam.None}
	f, err := reception.New(site)
	if err != nil {
		t.Fatal(err)
	}
	rod := func(x, y, bottom, longest float64) reception.Target {
		return reception.Target{At: geom.Point{X: x, Y: y}, Bottom: unit.Elevation(bottom), Lowest: 0.3, Highest: unit.Length(longest)}
	}
	level := func(y float64) reception.Laser { return reception.Laser{At: geom.Point{Y: y}} }
	why := func(l reception.Laser, h unit.Elevation, t reception.Target) reception.Reason { return f.Why(l, h, t) }
	sloped := reception.Laser{Gradient: geom.Vector{X: math.NaN()}}
	for _, c := range []struct {
		got  reception.Reason
		kind reception.Kind
		by   float64
		want string
	}{
		{why(sloped, 1, rod(5, 9, 0, 3)), reception.NotFinite, 0, "missing"},
		{why(level(9), 1, rod(40, 9, 0, 3)), reception.TooFar, 10, "too far"},
		{why(level(9), 1, rod(5, 9, -4, 3)), reception.HiddenByGround, 1, "hidden by the ground"},
		{why(level(0.5), 1, rod(5, 0.5, -2, 3)), reception.HiddenByObstacle, 1, `hidden by "shed" at 1.000 m east, 0.500 m north`},
		{why(level(5.5), 1, rod(5, 5.5, -2, 3)), reception.HiddenByObstacle, math.Inf(1), "nobody has told"},
		{why(level(9), -0.5, rod(5, 9, -2, 3)), reception.BlockedByGround, 0.5, "the beam must be 0.500 m higher"},
		{why(level(0.5), 1.5, rod(5, 0.5, -1, 4)), reception.BlockedByObstacle, 0.5, `"shed" is in the way`},
		{why(level(9), 0.1, rod(5, 9, 0, 3)), reception.BeamTooLow, 0.2, "too low for the rod"},
		{why(level(9), 4, rod(5, 9, 0, 3)), reception.BeamTooHigh, 1, "too high for the rod"},
		{why(level(9), 4, rod(5, 9, 0, 0.1)), reception.NoRoom, 0.2, "no height"},
		{f.WhyDig(level(9), 4, reception.Dig{Targets: []reception.Target{rod(5, 9, 2, 3), rod(5, 9, 0, 3)}}), reception.BeamTooHigh, 1, "too high"},
		{f.Digs(level(9), []reception.Dig{{Targets: []reception.Target{rod(5, 9, 5, 3), rod(5, 8, 0, 3)}}}, new(reception.Scratch))[0].Why,
			reception.Apart, 2.3, "points 1 and 2 need heights 2.300 m apart"},
	} {
		english := c.got.Message().Render(phrase.English, unit.Style{})
		// 1e-12 m: steps of float64.
		if c.got.Kind != c.kind || !(math.Abs(float64(c.got.By)-c.by) <= 1e-12 || float64(c.got.By) == c.by) || !strings.Contains(english, c.want) {
			t.Errorf("reason %+v (%s), want kind %d by %v (tol 1e-12 m) and %q", c.got, english, c.kind, c.by, c.want)
		}
		if spanish := c.got.Message().Render(phrase.Spanish, unit.Style{}); spanish == "" || spanish == english {
			t.Errorf("in Spanish: %q", spanish)
		}
	}
}

func TestOutsideTheSurvey(t *testing.T) {
	s, err := ground.NewGrid(ground.GridData{DX: 1, DY: 1, Cols: 3, Rows: 2, Z: []float64{0, 0, math.NaN(), 0, 0, 0}})
	if err != nil {
		t.Fatal(err)
	}
	f, err := reception.New(reception.Site{Ground: s, Range: 10})
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range []geom.Point{{X: 1.5, Y: 0.25}, {X: 5}, {X: 2, Y: 0.5}} {
		w := f.From(reception.Laser{At: geom.Point{X: 0.5, Y: 0.5}}, []reception.Target{{At: p, Lowest: 1, Highest: 2}}, new(reception.Scratch))[0]
		if w.Open() || w.Why.Kind != reception.OutsideSurvey {
			t.Errorf("target at %v: %+v, want outside the survey", p, w)
		}
	}
}

func TestReachCountsDigs(t *testing.T) {
	f, err := reception.New(reception.Site{Ground: ground.Level(0), Range: 10})
	if err != nil {
		t.Fatal(err)
	}
	dig := func(x, bottom float64) reception.Dig {
		return reception.Dig{Targets: []reception.Target{{At: geom.Point{X: x}, Bottom: unit.Elevation(bottom), Lowest: 0.3, Highest: 2}}}
	}
	digs := []reception.Dig{dig(0, -0.5), dig(8, -0.5), dig(9, 1.4), dig(30, -0.5)}
	got := f.Reach(reception.Survey{Step: 20, Cols: 2, Rows: 1, Lowest: 1.2, Highest: 1.6}, digs, new(reception.Scratch))
	// Hand-derived: from 0 three digs are in range, of which windows −0.2…1.5 twice
	// and 1.7…3.4 (over the tripod's 1.6); from 20 one is at exactly 10 m.
	if len(got) != 2 || got[0].Served != 2 || got[0].Some != 2 || got[1].Served != 1 || got[1].Some != 1 {
		t.Errorf("Reach = %+v, want 2 and 1 digs served", got)
	}
	if h := got[0].Height; !(h >= 1.2 && h <= 1.5) {
		t.Errorf("height = %v, want within 1.2 and 1.5", h)
	}
}
