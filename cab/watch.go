package cab

import (
	"math"

	"spadework/engine/guard"
	"spadework/engine/phrase"
	"spadework/engine/record"
	"spadework/engine/watch"
)

// Watch is the watch over the beams of the log.
type Watch struct {
	Beams []BeamWatch `json:"beams"` // tags in the log's order
	Basis Basis       `json:"basis"`
}

// BeamWatch is the watch over one tag.
type BeamWatch struct {
	Tag     string      `json:"tag"`
	State   string      `json:"state"`   // holds, unclosed, read_again, read_next, point_off, beam_moved
	Ended   bool        `json:"ended"`   // the tag has ended: for the record only
	Numbers bool        `json:"numbers"` // log and watch leave numbers
	Head    string      `json:"head"`
	Do      []string    `json:"do"`    // what to do now, in order
	Point   string      `json:"point"` // to be read now, "" none
	Odds    []string    `json:"odds"`  // what may have happened, the likeliest first
	Digs    []DigAtRisk `json:"digs"`
	Next    []string    `json:"next"` // close that is due, in sentences
	Close   string      `json:"close"`
	Now     bool        `json:"now"`  // it is due before any further dig
	More    int         `json:"more"` // digs until it
	By      string      `json:"by"`   // time of day at the latest, "" not told
}

// DigAtRisk is a point of a dig under a beam.
type DigAtRisk struct {
	Dig      string `json:"dig"`
	Closed   bool   `json:"closed"`
	Concrete bool   `json:"concrete"`
	Out      string `json:"out"` // chance that the beam alone takes it out
	By       string `json:"by"`  // how far, "" not told
	Told     string `json:"told"`
}

// Watch is the watch now.
func (c *Cab) Watch() (Watch, *phrase.Fault) {
	out := Watch{Beams: []BeamWatch{}, Basis: c.basis("")}
	for _, b := range c.beams {
		out.Beams = append(out.Beams, c.beamWatch(b))
	}
	return out, nil
}

func (c *Cab) beamWatch(b guard.Beam) BeamWatch {
	w := BeamWatch{Tag: b.Tag.Tag, State: string(b.State), Ended: b.Tag.State == record.TagEnded, Numbers: b.Numbers, Point: b.Verdict.Point,
		Head: c.view.Say(b.Head()), Do: []string{}, Odds: []string{}, Digs: []DigAtRisk{}, Next: []string{}}
	for _, m := range b.Do {
		w.Do = append(w.Do, c.view.Say(m)+".")
	}
	for _, h := range b.Odds() {
		w.Odds = append(w.Odds, c.view.Say(h.Text())+".")
	}
	for i, d := range b.Digs {
		w.Digs = append(w.Digs, c.digAtRisk(d, b.Log.Digs[i]))
	}
	if n := b.Next; n != nil {
		for _, m := range n.Text(b.Tag.Tag, c.plan.Job.Risk.Currency) {
			w.Next = append(w.Next, c.view.Say(m)+".")
		}
		w.Close, w.Now, w.More = n.Point, n.Now, n.More
		if n.Timed {
			w.By = n.By.Minute()
		}
	}
	return w
}

func (c *Cab) digAtRisk(d guard.DigRisk, w watch.Dig) DigAtRisk {
	out := DigAtRisk{Dig: d.Excavation, Closed: d.Closed && d.Point.Closed, Concrete: w.Concrete, Out: c.view.Style.Chance(d.Out), Told: c.view.Say(d.Text())}
	if !math.IsNaN(float64(d.By)) && d.Moved > 0 {
		out.By = c.view.Style.Length(max(d.By, -d.By))
	}
	return out
}
