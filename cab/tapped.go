//go:build foreman || !js

package cab

import (
	"math"
	"slices"

	"spadework/engine/dig"
	"spadework/engine/draw"
	"spadework/engine/geom"
	"spadework/engine/job"
	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// Drawn is a dig that taps on the map drew, as an edit of the job file.
type Drawn struct {
	ID   string   `json:"id"`
	Edit FormEdit `json:"edit"`
	Told string   `json:"told"` // its size
}

// Draw makes a dig of taps: two opposite corners of an area with its sides along
// the axes, or all of its corners; the points of a run.
func (c *Cab) Draw(t Tapped) (Drawn, *phrase.Fault) {
	least := 2
	if len(t.Taps) < least {
		return Drawn{}, phrase.NewFault(phrase.New("job.few_points", phrase.With("got", len(t.Taps)), phrase.With("count", least)),
			phrase.New("job.few_points.remedy", phrase.With("count", least)))
	}
	w := draw.Window{Corner: geom.Point{X: t.View.East, Y: t.View.North}, Scale: t.View.Scale}
	places, f := c.rounded(w, t)
	if f != nil {
		return Drawn{}, f
	}
	id := t.ID
	if id == "" {
		id = c.freeID(t.Kind)
	}
	v := job.Value{Shape: job.TableShape, Keys: []job.KeyValue{{Key: "id", Value: job.Value{Text: id}}, {Key: "kind", Value: job.Value{Text: t.Kind}}}}
	told := ""
	switch {
	case dig.Kind(t.Kind).Run():
		v.Keys = append(v.Keys, job.KeyValue{Key: "line", Value: c.list(places)})
		told = c.lengthOf(places)
	case len(places) == 2:
		at := geom.Point{X: (places[0].X + places[1].X) / 2, Y: (places[0].Y + places[1].Y) / 2}
		across, along := max(places[1].X-places[0].X, places[0].X-places[1].X), max(places[1].Y-places[0].Y, places[0].Y-places[1].Y)
		size := job.Value{Shape: job.ListShape, Items: []job.Value{{Text: c.figure(across)}, {Text: c.figure(along)}}}
		v.Keys = append(v.Keys, job.KeyValue{Key: "at", Value: c.place(at)}, job.KeyValue{Key: "size", Value: size})
		told = c.view.Style.Length(unit.Length(across*c.oneUnit())) + " × " + c.view.Style.Length(unit.Length(along*c.oneUnit()))
	default:
		v.Keys = append(v.Keys, job.KeyValue{Key: "outline", Value: c.list(places)})
	}
	for _, k := range t.Values.Keys {
		if !slices.ContainsFunc(v.Keys, func(own job.KeyValue) bool { return own.Key == k.Key }) {
			v.Keys = append(v.Keys, k)
		}
	}
	return Drawn{id, FormEdit{Kind: string(job.AddTable), Table: "excavation", Value: (*FormValue)(&v)}, told}, nil
}

// oneUnit is a unit of bare coordinates in metres.
func (c *Cab) oneUnit() float64 { return float64(unitOf(c.plan.Job.Coordinates)) }

// rounded are the places of taps in job coordinates, in the unit they are written
// in, at multiples of what they are rounded to.
func (c *Cab) rounded(w draw.Window, t Tapped) ([]geom.Point, *phrase.Fault) {
	step := 0.0
	if t.Round != "" {
		l, err := unit.Reader{Bare: c.plan.Job.Coordinates, Comma: c.plan.Job.Style.Comma}.Length(t.Round)
		if err != nil {
			return nil, phrase.ParseFault(err)
		}
		step = float64(l) / c.oneUnit()
	}
	out := make([]geom.Point, len(t.Taps))
	for i, tap := range t.Taps {
		p := c.plan.Job.Origin.Job(w.Site(geom.Point{X: tap[0], Y: tap[1]}))
		out[i] = geom.Point{X: toStep(p.X/c.oneUnit(), step), Y: toStep(p.Y/c.oneUnit(), step)}
	}
	return out, nil
}

// toStep rounds to a multiple; a step of 0 does not.
func toStep(x, step float64) float64 {
	if !(step > 0) {
		return x
	}
	return math.Round(x/step) * step
}

// figure writes a figure in the job's unit, to a hundredth.
func (c *Cab) figure(x float64) string { return unit.Style{}.Fixed(x, coordinateDigits) }

func (c *Cab) place(p geom.Point) job.Value {
	return job.Value{Shape: job.ListShape, Items: []job.Value{{Text: c.figure(p.X)}, {Text: c.figure(p.Y)}}}
}

func (c *Cab) list(points []geom.Point) job.Value {
	out := job.Value{Shape: job.ListShape}
	for _, p := range points {
		out.Items = append(out.Items, c.place(p))
	}
	return out
}

func (c *Cab) lengthOf(points []geom.Point) string {
	sum := 0.0
	for i := 1; i < len(points); i++ {
		sum += points[i-1].Distance(points[i])
	}
	return c.view.Style.Length(unit.Length(sum * c.oneUnit()))
}

// letters begin the free ids of each kind.
var letters = map[string]string{"footing": "F", "pad": "P", "pit": "W", "box": "DB", "strip": "ST", "trench": "T", "field": "LF"}

// freeID is an id that no dig has: F1, F2 …
func (c *Cab) freeID(kind string) string {
	for i := 1; ; i++ {
		id := letters[kind] + unit.Style{}.Fixed(float64(i), 0)
		if _, used := c.plan.Dig(id); !used {
			return id
		}
	}
}
