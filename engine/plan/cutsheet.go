package plan

import (
	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// CutSheet is the rows of one dig from one set-up: ground, bottom, rod and cut
// at every point.
type CutSheet struct {
	Excavation string
	Setup      string // "" where none serves the dig; rows then have no rod
	Rows       []Number
}

// CutSheet makes the sheet of a dig with a row every interval along a run. With
// setup "" the first set-up that serves the dig is taken. An interval that asks
// for too many rows is a fault.
func (p *Plan) CutSheet(id string, every unit.Length, setup string) (CutSheet, *phrase.Fault) {
	out := CutSheet{Excavation: id}
	d, ok := p.Dig(id)
	if !ok {
		return out, nil
	}
	if !(rowsOf(d.Dig, every) <= maxRows) {
		return out, tooManyRows(every)
	}
	points := d.Points(every)
	var from *serves
	serving, _ := p.serving(&d, points)
	for _, s := range serving {
		if from == nil && (setup == "" || s.setup.ID == setup) {
			from = &s
		}
	}
	if from != nil {
		out.Setup = from.setup.ID
	}
	for _, pt := range points {
		switch {
		case from == nil:
			n := p.row(&d, pt)
			n.From = FromHub
			out.Rows = append(out.Rows, n)
		case from.takes(pt):
			n := p.fromBeam(&d, pt, from.setup)
			p.judgeNumber(&n, &d, p.aimRule(), p.Limit())
			out.Rows = append(out.Rows, n)
		}
	}
	return out, nil
}
