package cab

import (
	"strconv"

	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// Quantities is what is dug and moved.
type Quantities struct {
	Needs string        `json:"needs"` // why there are none, "" there are
	Digs  []QuantityRow `json:"digs"`
	Total QuantityRow   `json:"total"`
	Loads string        `json:"loads"` // of trucks, "" not known
}

// QuantityRow is of a dig or of all; "–" where it is not known.
type QuantityRow struct {
	Dig      string `json:"dig"`
	Bank     string `json:"bank"`
	Loose    string `json:"loose"`
	Concrete string `json:"concrete"`
	Backfill string `json:"backfill"`
}

// Quantities is what the plan's holes come to, overlaps counted once.
func (c *Cab) Quantities() Quantities {
	out := Quantities{Digs: []QuantityRow{}}
	q := c.plan.Quantities
	if q == nil {
		out.Needs = c.view.Text("sheet.no_ground")
		return out
	}
	for _, d := range c.plan.Digs {
		e := d.Earth
		row := QuantityRow{d.Excavation.ID, "–", c.volume(e.Loose), c.volume(e.Bill.Concrete), c.volume(e.Bill.Backfill)}
		if e.Known() {
			row.Bank = c.volume(&e.Share)
		}
		out.Digs = append(out.Digs, row)
	}
	out.Total = QuantityRow{"", c.volume(&q.Bank), c.volume(q.Loose), c.volume(&q.Concrete), c.volume(q.Backfill)}
	if len(q.Unknown) > 0 {
		out.Needs = c.view.Text("cab.volume_unknown", phrase.With("ids", q.Unknown))
	}
	if n := q.SurplusAs.Loads.Most(); n > 0 {
		out.Loads = strconv.Itoa(n)
	}
	return out
}

func (c *Cab) volume(v *unit.Volume) string {
	if v == nil {
		return "–"
	}
	return c.view.Style.Volume(*v)
}

// Found is a finding with the place it concerns.
type Found struct {
	Warning
	Dig string `json:"dig"` // "" the whole job
	Tag string `json:"tag"`
}

// Findings are all of them, as the plan has them.
func (c *Cab) Findings() []Found {
	out := []Found{}
	for _, f := range c.plan.Findings {
		out = append(out, Found{c.warning(f), f.Where.Excavation, f.Where.Setup})
	}
	return out
}
