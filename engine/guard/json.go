package guard

import (
	"encoding/json"
	"math"

	"spadework/engine/phrase"
	"spadework/engine/unit"
	"spadework/engine/watch"
)

// beamJSON is a beam as data: SI, hours from the set-up, null where unknown.
type beamJSON struct {
	Tag      string        `json:"tag"`
	Judged   bool          `json:"judged"`
	State    watch.State   `json:"state"`
	Numbers  bool          `json:"numbers"`
	Do       []said        `json:"do"`
	Odds     []oddJSON     `json:"odds"`
	Out      *float64      `json:"out"`
	NextOut  *float64      `json:"next_out"`
	Moved    *float64      `json:"moved"`
	Before   *float64      `json:"moved_before"`
	LastGood *float64      `json:"last_good"` // hours
	Shift    *shiftJSON    `json:"shift"`     // null where the beam is not held for moved
	Point    string        `json:"point"`
	Digs     []riskJSON    `json:"digs"`
	Shoot    []string      `json:"shoot"`
	Foreman  []string      `json:"foreman"`
	Readings []readingJSON `json:"readings"`
	LeftOut  int           `json:"left_out"`
	Next     *nextJSON     `json:"next"`
}

// said is a message with its English text.
type said struct {
	Key  string `json:"key"`
	Text string `json:"text"`
}

type oddJSON struct {
	What   watch.What `json:"what"`
	Point  string     `json:"point"`
	Chance float64    `json:"chance"`
}

type shiftJSON struct {
	Height float64  `json:"height"`
	Falls  *float64 `json:"falls"` // bearing, null where it cannot be told
	Grade  *float64 `json:"grade"`
}

type riskJSON struct {
	Excavation string   `json:"excavation"`
	Part       string   `json:"part"`
	Point      string   `json:"point"`
	Station    *float64 `json:"station"`
	Dug        float64  `json:"dug"` // hours
	Closed     bool     `json:"closed"`
	Out        float64  `json:"out"`
	Moved      float64  `json:"moved"`
	By         *float64 `json:"by"`
	Sigma      *float64 `json:"sigma"`
	Concrete   bool     `json:"concrete"`
}

type readingJSON struct {
	At      float64 `json:"at"` // hours
	Point   string  `json:"point"`
	Off     float64 `json:"off"`
	Sigma   float64 `json:"sigma"`
	Machine bool    `json:"machine"`
}

type nextJSON struct {
	Now     bool     `json:"now"`
	Point   string   `json:"point"`
	Every   int      `json:"every"`
	Since   int      `json:"since"`
	More    int      `json:"more"`
	By      *string  `json:"by"`
	OnBreak bool     `json:"on_break"`
	AtRisk  float64  `json:"at_risk"`
	Enough  bool     `json:"enough"`
	Walk    float64  `json:"walk"`
	Minutes float64  `json:"minutes"`
	Price   *float64 `json:"price"`
	Reveals []string `json:"reveals"`
}

// MarshalJSON is the beam as data.
func (o Beam) MarshalJSON() ([]byte, error) {
	out := beamJSON{Tag: o.Tag.Tag, Judged: o.Judged, State: o.State, Numbers: o.Numbers, Do: []said{}, Odds: []oddJSON{}, Digs: []riskJSON{},
		Shoot: []string{}, Foreman: []string{}, Readings: []readingJSON{}, LeftOut: o.LeftOut, Point: o.Verdict.Point}
	for _, m := range o.Do {
		out.Do = append(out.Do, said{string(m.Key), m.Render(phrase.English, unit.Style{})})
	}
	if !o.Judged {
		return json.Marshal(out)
	}
	v := o.Verdict
	out.Out, out.NextOut, out.Moved, out.Before = figure(v.Out), figure(v.Next), figure(v.Moved), figure(v.Before)
	out.LastGood = figure(v.LastGood)
	for _, h := range o.Odds() {
		out.Odds = append(out.Odds, oddJSON{h.What, h.Point, float64(h.Chance)})
	}
	if o.State == watch.BeamMoved {
		out.Shift = &shiftJSON{Height: float64(v.Shift.Height)}
		if v.Shift.Lean {
			out.Shift.Falls, out.Shift.Grade = figure(v.Shift.Falls), figure(v.Shift.Grade)
		}
	}
	for i, d := range o.Digs {
		out.Digs = append(out.Digs, d.data(o.Log.Digs[i]))
	}
	for _, r := range v.Shoot {
		out.Shoot = append(out.Shoot, r.Dig)
	}
	for _, r := range v.Foreman {
		out.Foreman = append(out.Foreman, r.Dig)
	}
	for _, r := range o.Log.Readings {
		out.Readings = append(out.Readings, readingJSON{float64(r.At), r.Point, float64(r.Off), float64(r.Sigma), r.Machine})
	}
	out.Next = o.Next.data()
	return json.Marshal(out)
}

func (d DigRisk) data(w watch.Dig) riskJSON {
	out := riskJSON{Excavation: d.Excavation, Part: d.Point.Part, Point: d.Point.Point, Dug: float64(w.Dug), Closed: d.Closed && d.Point.Closed,
		Out: float64(d.Out), Moved: float64(d.Moved), By: figure(d.By), Sigma: figure(d.Sigma), Concrete: w.Concrete}
	if d.Point.Station != nil {
		out.Station = figure(*d.Point.Station)
	}
	return out
}

func (n *Next) data() *nextJSON {
	if n == nil {
		return nil
	}
	out := &nextJSON{Now: n.Now, Point: n.Point, Every: n.Every, Since: n.Since, More: n.More, OnBreak: n.OnBreak, AtRisk: n.AtRisk,
		Enough: n.Enough, Walk: float64(n.Walk), Minutes: n.Minutes, Reveals: append([]string{}, n.Reveals...)}
	if n.Timed {
		by := n.By.String()
		out.By = &by
	}
	if n.Price > 0 {
		out.Price = &n.Price
	}
	return out
}

// figure is a figure, nil where it is none.
func figure[T ~float64](v T) *float64 {
	f := float64(v)
	if math.IsNaN(f) || math.IsInf(f, 0) {
		return nil
	}
	return &f
}
