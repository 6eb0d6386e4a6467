//go:build foreman || !js

package cab

import (
	"cmp"
	"slices"

	"spadework/engine/draw"
	"spadework/engine/geom"
	"spadework/engine/phrase"
	"spadework/engine/plan"
	"spadework/engine/record"
	"spadework/engine/tell"
	"spadework/engine/unit"
)

// View is the window of a map that is moved about, in millimetres as the page
// shows them. The zero Corner and Scale show the whole site.
type View struct {
	East   float64 `json:"east"` // of the upper left corner, metres of the local frame
	North  float64 `json:"north"`
	Scale  float64 `json:"scale"` // millimetres a metre; 0: the whole site
	Width  float64 `json:"width"`
	Height float64 `json:"height"`
}

// The scales that a map can have: from a whole district to a rod's width.
const leastScale, mostScale = 0.02, 200

// Move is how a map is to be moved: by so many millimetres and drawn larger about
// a place of it.
type Move struct {
	View  View    `json:"view"`
	Right float64 `json:"right"`
	Down  float64 `json:"down"`
	Zoom  float64 `json:"zoom"` // 0 and 1: not
	X     float64 `json:"x"`    // about which place
	Y     float64 `json:"y"`
	Shots bool    `json:"shots"` // with the newest shots of the log
}

// SiteMap is a window of the site.
type SiteMap struct {
	View  View       `json:"view"`
	Scene *Scene     `json:"scene"`
	Under []Underlay `json:"under"`
}

// Underlay is a picture with how its pixels lie in the window: x = a·right +
// c·down + e, y = b·right + d·down + f.
type Underlay struct {
	ID     string     `json:"id"`
	Image  string     `json:"image"`
	Width  float64    `json:"width"`
	Height float64    `json:"height"`
	Matrix [6]float64 `json:"matrix"` // a, b, c, d, e, f
}

// Site is the window that a move comes to.
func (c *Cab) Site(m Move) SiteMap {
	frame := draw.Frame{Width: max(m.View.Width, 20), Height: max(m.View.Height, 20), Type: sceneType}
	w := draw.Window{Corner: geom.Point{X: m.View.East, Y: m.View.North}, Scale: m.View.Scale}
	if !(m.View.Scale > 0) {
		w = draw.WholeSite(c.plan, frame, c.underlays())
	}
	w.Corner = w.Site(geom.Point{X: -m.Right, Y: -m.Down})
	if m.Zoom > 0 && m.Zoom != 1 {
		at, on := geom.Point{X: m.X, Y: m.Y}, w.Site(geom.Point{X: m.X, Y: m.Y})
		w.Scale = min(max(w.Scale*m.Zoom, leastScale), mostScale)
		w.Corner = geom.Point{X: on.X - at.X/w.Scale, Y: on.Y + at.Y/w.Scale}
	}
	scene := sceneOf(draw.WindowedPlan(c.plan, draw.Voice(c.view), frame, draw.Marks{Bounds: c.plan.Bounds, Reaches: true, Stands: draw.StandsOf(c.plan)}, w))
	c.standingNow(scene, w)
	if m.Shots {
		c.shotMarks(scene, w)
	} else {
		c.findingMarks(scene, w)
	}
	out := SiteMap{View: View{w.Corner.X, w.Corner.Y, w.Scale, frame.Width, frame.Height}, Scene: scene, Under: []Underlay{}}
	for _, u := range c.plan.Job.Underlays {
		m := fitted([2]geom.Point{{X: u.Known[0].On[0], Y: u.Known[0].On[1]}, {X: u.Known[1].On[0], Y: u.Known[1].On[1]}},
			[2]geom.Point{w.On(u.Known[0].At), w.On(u.Known[1].At)})
		out.Under = append(out.Under, Underlay{u.ID, u.Image, u.Size[0], u.Size[1], m})
	}
	return out
}

// underlays is the box of what the drawings under the map cover.
func (c *Cab) underlays() geom.Box {
	b := geom.EmptyBox()
	for _, u := range c.plan.Job.Underlays {
		b = b.With(u.Known[0].At).With(u.Known[1].At)
	}
	return b
}

// fitted is the similarity that takes two points to two others: turned, moved and
// drawn larger, never stretched (complex division: (b1−b0)/(a1−a0)).
func fitted(a, b [2]geom.Point) [6]float64 {
	u, v := a[1].Sub(a[0]), b[1].Sub(b[0])
	size := u.X*u.X + u.Y*u.Y
	re, im := (v.X*u.X+v.Y*u.Y)/size, (v.Y*u.X-v.X*u.Y)/size
	return [6]float64{re, im, -im, re, b[0].X - (re*a[0].X - im*a[0].Y), b[0].Y - (im*a[0].X + re*a[0].Y)}
}

// standingNow draws heaps, machines and trucks as the job tells them.
func (c *Cab) standingNow(s *Scene, w draw.Window) {
	for _, h := range c.plan.Job.Heaps {
		s.outline(draw.Earth, w, h.Outline)
		s.text(draw.Ink, w.On(h.Outline.Centroid()), h.ID)
	}
	for _, m := range c.plan.Job.Stands {
		at := w.On(m.At)
		s.outline(draw.Ink, w, geom.BoxOf(w.Site(at.Add(geom.Vector{X: -2.4, Y: -2.4})), w.Site(at.Add(geom.Vector{X: 2.4, Y: 2.4}))).Ring())
		s.text(draw.Ink, at, m.ID)
	}
	if t := c.plan.Job.Trucks; t.Placed {
		s.text(draw.Ink, w.On(t.At), c.view.Text("cab.trucks"))
	}
}

func (s *Scene) outline(pen draw.Pen, w draw.Window, ring geom.Ring) {
	it := Item{Pen: string(pen), Closed: true}
	for _, p := range ring {
		on := w.On(p)
		it.Points = append(it.Points, hundredth(on.X), hundredth(on.Y))
	}
	s.Items = append(s.Items, it)
}

func (s *Scene) text(pen draw.Pen, at geom.Point, text string) {
	s.Items = append(s.Items, Item{Pen: string(pen), Points: []float64{hundredth(at.X), hundredth(at.Y + 0.36*sceneType)}, Size: sceneType,
		Anchor: string(draw.Middle), Text: text})
}

// findingMarks rings the digs that something stops, with how much.
func (c *Cab) findingMarks(s *Scene, w draw.Window) {
	stops := map[string]int{}
	for _, f := range c.plan.Open() {
		if f.Severity == phrase.Stop {
			stops[f.Where.Excavation]++
		}
	}
	for _, d := range c.plan.Digs {
		if n := stops[d.Excavation.ID]; n > 0 && len(d.Parts) > 0 {
			b := boundsOf(d).Grown(1 / w.Scale)
			s.outline(draw.Caution, w, b.Ring())
			corner := w.On(geom.Point{X: b.Max.X, Y: b.Max.Y})
			s.text(draw.Caution, corner.Add(geom.Vector{X: 1.5, Y: -1}), "!"+unit.Style{}.Fixed(float64(n), 0))
		}
	}
}

func boundsOf(d plan.Dig) geom.Box {
	b := geom.EmptyBox()
	for _, part := range d.Parts {
		b = b.Union(part.Outline.Bounds())
	}
	return b
}

// shotMarks crosses the newest shots of the log at their points; one that is out
// stands in a ring, and every dig has the sign of what it comes to.
func (c *Cab) shotMarks(s *Scene, w draw.Window) {
	v := tell.LogFace(c.plan, c.view)
	for _, d := range c.plan.Digs {
		st, ok := c.state.Dig(d.Excavation.ID)
		if !ok || len(d.Parts) == 0 || len(st.Points) == 0 {
			continue
		}
		for _, pt := range st.Points {
			at, found := c.placeOfShot(d, pt)
			if !found {
				continue
			}
			on := w.On(at)
			const k = 1.2
			s.Items = append(s.Items,
				Item{Pen: string(draw.Beam), Points: []float64{hundredth(on.X - k), hundredth(on.Y), hundredth(on.X + k), hundredth(on.Y)}},
				Item{Pen: string(draw.Beam), Points: []float64{hundredth(on.X), hundredth(on.Y - k), hundredth(on.X), hundredth(on.Y + k)}})
			if pt.Verdict == record.ToDig || pt.Verdict == record.OverDug {
				s.outline(draw.Caution, w, geom.BoxOf(w.Site(on.Add(geom.Vector{X: -2, Y: -2})), w.Site(on.Add(geom.Vector{X: 2, Y: 2}))).Ring())
				s.text(draw.Caution, on.Add(geom.Vector{Y: -3.6}), c.view.Say(tell.OffText(v, pt.Deviation)))
			}
		}
		corner := w.On(geom.Point{X: boundsOf(d).Max.X, Y: boundsOf(d).Min.Y})
		s.text(draw.Ink, corner.Add(geom.Vector{X: 1.2, Y: 1.2}), signOf(st.Verdict))
	}
}

// signOf is the sign of a verdict on the map: good, out, or neither.
func signOf(v record.Verdict) string {
	switch v {
	case record.Good:
		return "✓"
	case record.ToDig, record.OverDug:
		return "×"
	}
	return "?"
}

// placeOfShot is where a shot of the log lies.
func (c *Cab) placeOfShot(d plan.Dig, pt record.PointState) (geom.Point, bool) {
	for _, p := range d.Points(c.plan.Job.Interval) {
		if pt.Station == nil && (p.Name == pt.Point || pt.Point == "" && p.Name == "centre") && (pt.Part == "" || p.Part == pt.Part) {
			return p.At, true
		}
	}
	if pt.Station != nil {
		p, ok := d.StationPoint(*pt.Station)
		return p.At, ok
	}
	return geom.Point{}, false
}

// Picked is what stands at a place of the map.
type Picked struct {
	Kind  string `json:"kind"` // dig, setup, benchmark; "" nothing near
	ID    string `json:"id"`
	East  string `json:"east"` // of the place, as the job writes it
	North string `json:"north"`
}

// nearEnough is how far a finger may miss, millimetres.
const nearEnough = 5

// Pick is what stands nearest to a place of the map.
func (c *Cab) Pick(v View, x, y float64) Picked {
	w := draw.Window{Corner: geom.Point{X: v.East, Y: v.North}, Scale: v.Scale}
	on := geom.Point{X: x, Y: y}
	at := w.Site(on)
	out := Picked{}
	out.East, out.North = c.placeText(at)
	type near struct {
		kind, id string
		far      float64
	}
	var all []near
	for _, s := range c.plan.Setups {
		all = append(all, near{"setup", s.ID, w.On(s.Plane.At).Distance(on)})
	}
	for _, b := range c.plan.Job.Benchmarks {
		if b.Placed {
			all = append(all, near{"benchmark", b.ID, w.On(b.At).Distance(on)})
		}
	}
	for _, d := range c.plan.Digs {
		for _, part := range d.Parts {
			far := w.On(part.Outline.Centroid()).Distance(on)
			if part.Outline.Contains(at) != geom.Outside {
				far = nearEnough / 2 // a point that stands in a dig goes first
			}
			all = append(all, near{"dig", d.Excavation.ID, far})
		}
	}
	slices.SortStableFunc(all, func(a, b near) int { return cmp.Compare(a.far, b.far) })
	if len(all) > 0 && all[0].far <= nearEnough {
		out.Kind, out.ID = all[0].kind, all[0].id
	}
	return out
}

// placeText is a place as the job file writes it.
func (c *Cab) placeText(at geom.Point) (east, north string) {
	p := c.plan.Job.Origin.Job(at)
	one := float64(unitOf(c.plan.Job.Coordinates))
	return unit.Style{}.Fixed(p.X/one, coordinateDigits), unit.Style{}.Fixed(p.Y/one, coordinateDigits)
}

// Tapped is a dig as it was tapped on the map.
type Tapped struct {
	View   View         `json:"view"`
	ID     string       `json:"id"` // "": a free one
	Kind   string       `json:"kind"`
	Taps   [][2]float64 `json:"taps"`  // on the window
	Round  string       `json:"round"` // a length that places are rounded to
	Values FormValue    `json:"values"`
}
