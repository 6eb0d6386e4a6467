package cab

import (
	"math"
	"slices"

	"spadework/engine/beam"
	"spadework/engine/draw"
	"spadework/engine/geom"
	"spadework/engine/phrase"
	"spadework/engine/plan"
	"spadework/engine/unit"
)

// Distance is one that was taped from a known point.
type Distance struct {
	Point  string `json:"point"`
	Length string `json:"length"`
}

// Spot is a place on the site.
type Spot struct {
	Name  string `json:"name"` // on the map
	East  string `json:"east"`
	North string `json:"north"`
	Where string `json:"where"`
}

// Places are where the laser may stand, with the map that shows them.
type Places struct {
	Spots []Spot `json:"spots"`
	Scene *Scene `json:"scene"`
}

// known are the points that a place can be taped from.
func (c *Cab) known() []string {
	out := []string{}
	for _, b := range c.plan.Job.Benchmarks {
		if b.Placed {
			out = append(out, b.ID)
		}
	}
	for _, k := range c.plan.Job.Controls {
		out = append(out, k.ID)
	}
	return out
}

func (c *Cab) pointAt(id string) (geom.Point, bool) {
	for _, b := range c.plan.Job.Benchmarks {
		if b.Placed && b.ID == id {
			return b.At, true
		}
	}
	for _, k := range c.plan.Job.Controls {
		if k.ID == id {
			return k.At, true
		}
	}
	return geom.Point{}, false
}

// Taped finds the two places that lie at two distances, taken level, from two
// known points. The person knows on which side of their line the laser stands.
func (c *Cab) Taped(a, b Distance) (Places, *phrase.Fault) {
	var at [2]geom.Point
	var r [2]float64
	for i, d := range []Distance{a, b} {
		p, ok := c.pointAt(d.Point)
		if !ok {
			return Places{}, notFound("cab.unknown_point", d.Point)
		}
		l, err := unit.Reader{Bare: c.plan.Job.Units, Comma: c.view.Style.Comma}.Length(d.Length)
		if err != nil {
			return Places{}, phrase.ParseFault(err)
		}
		at[i], r[i] = p, float64(l)
	}
	spots, ok := meet(at[0], at[1], r[0], r[1])
	if !ok {
		apart := unit.Length(at[0].Distance(at[1]))
		return Places{}, phrase.NewFault(
			phrase.New("cab.do_not_meet", phrase.With("a", a.Point), phrase.With("b", b.Point), phrase.With("apart", apart)), phrase.New("cab.do_not_meet.remedy"))
	}
	return c.places(spots), nil
}

// meet is where two circles meet: to the left of the line from a to b, and to its
// right; one place where they touch. Radii in metres. Not ok where they are apart,
// one inside the other, about one centre, or not finite.
func meet(a, b geom.Point, ra, rb float64) ([]geom.Point, bool) {
	d := a.Distance(b)
	along := (ra*ra - rb*rb + d*d) / (2 * d)
	across := ra*ra - along*along
	if !(d > 0 && ra > 0 && rb > 0 && across >= 0) || math.IsInf(across, 0) {
		return nil, false
	}
	ux, uy := (b.X-a.X)/d, (b.Y-a.Y)/d
	h := math.Sqrt(across)
	foot := geom.Point{X: a.X + along*ux, Y: a.Y + along*uy}
	if h == 0 {
		return []geom.Point{foot}, true
	}
	return []geom.Point{{X: foot.X - h*uy, Y: foot.Y + h*ux}, {X: foot.X + h*uy, Y: foot.Y - h*ux}}, true
}

// places shows spots on the map as planned set-ups are shown.
func (c *Cab) places(spots []geom.Point) Places {
	marked := *c.plan
	marked.Setups = slices.Clone(c.plan.Setups)
	out := Places{Spots: []Spot{}}
	for i, at := range spots {
		name := string(rune('1' + i))
		out.Spots = append(out.Spots, c.spot(name, at))
		marked.Setups = append(marked.Setups, plan.Setup{ID: name, State: beam.Planned, Plane: beam.Plane{At: at}})
	}
	scene := draw.SitePlan(&marked, draw.Voice(c.view), mapFrame)
	out.Scene = sceneOf(scene)
	return out
}

func (c *Cab) spot(name string, at geom.Point) Spot {
	in := c.plan.Job.Origin.Job(at)
	return Spot{name, c.coordinate(in.X), c.coordinate(in.Y), c.view.Say(c.plan.PlaceText(at))}
}

// Tapped is the place of a tap on the map, in its millimetres.
func (c *Cab) Tapped(x, y float64) Places {
	at := draw.SitePlace(c.plan, draw.Voice(c.view), mapFrame, geom.Point{X: x, Y: y})
	return c.places([]geom.Point{at})
}
