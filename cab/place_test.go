package cab

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"spadework/engine/draw"
	"spadework/engine/geom"
)

// The places lie at their distances, one on either side.
func TestMeet(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		coordinate := rapid.Float64Range(-500, 500)
		a, b := geom.Point{X: coordinate.Draw(t, "ax"), Y: coordinate.Draw(t, "ay")}, geom.Point{X: coordinate.Draw(t, "bx"), Y: coordinate.Draw(t, "by")}
		p := geom.Point{X: coordinate.Draw(t, "px"), Y: coordinate.Draw(t, "py")}
		if a.Distance(b) < 1 || a.Distance(p) < 0.1 || b.Distance(p) < 0.1 {
			t.Skip()
		}
		spots, ok := meet(a, b, a.Distance(p), b.Distance(p))
		if !ok { // p on the line: rounding leaves them apart
			if side := math.Abs((b.X-a.X)*(p.Y-a.Y)-(b.Y-a.Y)*(p.X-a.X)) / a.Distance(b); side > 1e-3 {
				t.Fatalf("meet(%v, %v) about %v finds nothing", a, b, p)
			}
			return
		}
		near := math.Inf(1)
		for _, s := range spots {
			near = min(near, s.Distance(p))
			// 1 mm: a place whose circles barely touch is known to the root of the rounding
			if !(math.Abs(s.Distance(a)-a.Distance(p)) < 1e-6 && math.Abs(s.Distance(b)-b.Distance(p)) < 1e-6) {
				t.Fatalf("%v is not at the distances from %v and %v", s, a, b)
			}
		}
		if !(near < 1e-2) {
			t.Fatalf("meet finds %v, want %v among them", spots, p)
		}
	})
	for _, r := range [][2]float64{{1, 2}, {20, 5}, {0, 10}, {math.NaN(), 10}, {math.Inf(1), 10}} {
		if spots, ok := meet(geom.Point{}, geom.Point{X: 10}, r[0], r[1]); ok {
			t.Errorf("meet at %v over 10 m = %v, want nothing", r, spots)
		}
	}
}

// Two tapes from BM1 and BM2 find the place where they were held, and a tap on the
// map where it is drawn finds it too.
func TestPlaceIsFound(t *testing.T) {
	b := &bench{T: t}
	b.ask(new(Home), "open", opening(t, "alder-quay"))
	c := b.cab
	a, _ := c.pointAt("BM1")
	e, _ := c.pointAt("BM2")
	stood := geom.Point{X: a.X + 30, Y: a.Y + 10}
	var got Places
	b.ask(&got, "taped", map[string]Distance{
		"a": {"BM1", c.view.Style.Fixed(stood.Distance(a)/0.3048, 4) + " ft"}, "b": {"BM2", c.view.Style.Fixed(stood.Distance(e)/0.3048, 4) + " ft"}})
	want := c.spot("", stood)
	if len(got.Spots) != 2 || got.Spots[0].East != want.East && got.Spots[1].East != want.East || got.Scene == nil {
		t.Errorf("taped = %+v, want %+v among them", got.Spots, want)
	}
	back := draw.SitePlace(c.plan, draw.Voice(c.view), mapFrame, geom.Point{X: 60, Y: 75})
	var tapped Places
	b.ask(&tapped, "tapped", map[string]float64{"x": 60, "y": 75})
	if at := c.spot("1", back); len(tapped.Spots) != 1 || tapped.Spots[0] != at {
		t.Errorf("tapped = %+v, want %+v", tapped.Spots, at)
	}
	var fault struct{ Fault *Told }
	b.raw(&fault, "taped", map[string]Distance{"a": {"BM1", "1 ft"}, "b": {"BM2", "1 ft"}})
	if fault.Fault == nil || fault.Fault.Key != "cab.do_not_meet" {
		t.Errorf("tapes that do not meet = %+v", fault.Fault)
	}
}
