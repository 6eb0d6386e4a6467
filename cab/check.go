package cab

import (
	"math"

	"spadework/engine/phrase"
	"spadework/engine/record"
)

// Checked is what the log says of every point that was shot.
type Checked struct {
	Points []CheckedPoint `json:"points"`
	Open   int            `json:"open"` // that are not good
}

// CheckedPoint is the newest shot at a point, judged.
type CheckedPoint struct {
	Dig    string `json:"dig"`
	Point  string `json:"point"`
	Tag    string `json:"tag"`
	Height string `json:"height"`
	Shot   Shot   `json:"shot"`
	Chance string `json:"chance"` // that it is in tolerance, "" not known
}

// Check judges the bottoms as they were shot.
func (c *Cab) Check() Checked {
	out := Checked{Points: []CheckedPoint{}, Open: c.state.Open()}
	for _, d := range record.ProveLog(c.plan, c.state) {
		for _, p := range d.Proofs {
			one := CheckedPoint{Dig: d.Excavation, Point: c.pointText(p.PointState), Tag: p.Tag, Height: c.view.Style.Elevation(p.Height), Shot: *c.shot(c.faceOf(p.Tag), p.PointState)}
			if !math.IsNaN(float64(p.Chance)) {
				one.Chance = c.view.Style.Chance(p.Chance)
			}
			out.Points = append(out.Points, one)
		}
	}
	return out
}

// pointText names a point of a dig, in words.
func (c *Cab) pointText(p record.PointState) string { return c.view.Say(record.PointMessage(p)) }

// Left is what is left to dig and how the work stands.
type Left struct {
	Good   []string  `json:"good"` // digs
	Open   []string  `json:"open"` // shot, and not good
	NoShot []string  `json:"no_shot"`
	Due    []DueLine `json:"due"`
	Handed string    `json:"handed"` // how it was left, "" nobody said
}

// Left tells it, digs in the job's order.
func (c *Cab) Left() Left {
	out := Left{Good: []string{}, Open: []string{}, NoShot: []string{}, Due: c.due()}
	for _, d := range c.plan.Digs {
		id := d.Excavation.ID
		switch st, ok := c.state.Dig(id); {
		case !ok || len(st.Points) == 0:
			out.NoShot = append(out.NoShot, id)
		case st.Verdict == record.Good:
			out.Good = append(out.Good, id)
		default:
			out.Open = append(out.Open, id)
		}
	}
	if l := c.state.Left; l != nil {
		to := l.To
		if to == "" {
			to = "–"
		}
		out.Handed = c.view.Text("sheet.how_left_by", phrase.With("person", l.Person), phrase.With("to", to),
			phrase.With("day", l.Time.Date()), phrase.With("time", l.Time.Minute())) + " " + l.Words
	}
	return out
}

func (c *Cab) due() []DueLine {
	out := []DueLine{}
	for _, d := range c.state.Due {
		out = append(out, DueLine{d.Where.Excavation, d.Where.Setup, c.view.Say(d.What) + "."})
	}
	return out
}
