package cab

import (
	"strings"

	"spadework/engine/phrase"
	"spadework/engine/plan"
	"spadework/engine/record"
	"spadework/engine/tell"
)

// StandLine is a stand of the machine in the order of work.
type StandLine struct {
	Order string   `json:"order"`
	Where string   `json:"where"` // place and facing
	Digs  []string `json:"digs"`
	Steps []string `json:"steps"` // what is dug there, in order
	Spoil string   `json:"spoil"`
	Tag   string   `json:"tag"`  // that its numbers come from, "" several or none
	Done  bool     `json:"done"` // every dig of it is good by the log
}

// standLines are the stands in their order.
func (c *Cab) standLines() []StandLine {
	out := []StandLine{}
	if c.plan.Stands == nil {
		return out
	}
	for _, row := range c.plan.Stands.Rows {
		out = append(out, c.standLine(row))
	}
	return out
}

func (c *Cab) standLine(row plan.Stand) StandLine {
	line := StandLine{Order: row.ID, Digs: row.Digs, Steps: []string{}, Spoil: tell.SpoilText(c.view, row), Tag: row.Setup, Done: true}
	line.Where = c.view.Text("cab.stand_where", phrase.With("at", tell.Coordinates(c.view, c.plan, row.Place.At)), phrase.With("faces", tell.Facing(c.view, row.Place.Bearing)))
	for _, list := range [][]plan.Work{row.Opened, row.Work} {
		for _, piece := range tell.Pieces(c.view, list) {
			line.Steps = append(line.Steps, strings.TrimSpace(piece.Text+" "+tell.StagesText(c.view, piece.Stages)))
		}
	}
	for _, id := range row.Digs {
		st, known := c.state.Dig(id)
		line.Done = line.Done && known && st.Verdict == record.Good
	}
	return line
}

// nextDig is the first dig to go on with, in the order of the stands, those that
// no stand digs last; "" where all are good.
func (c *Cab) nextDig(h Home) string {
	open := map[string]bool{}
	for _, d := range h.Digs {
		open[d.ID] = d.Verdict != string(record.Good) && !d.none()
	}
	for _, s := range h.Stands {
		for _, id := range s.Digs {
			if open[id] {
				return id
			}
		}
	}
	for _, d := range h.Digs {
		if open[d.ID] {
			return d.ID
		}
	}
	return ""
}

// standsOf are the stands that a dig is dug from.
func (c *Cab) standsOf(id string) []StandLine {
	out := []StandLine{}
	if c.plan.Stands == nil {
		return out
	}
	for _, row := range c.plan.Stands.Of(id) {
		out = append(out, c.standLine(row))
	}
	return out
}
