package cab

import (
	"strings"

	"spadework/engine/draw"
	"spadework/engine/plan"
	"spadework/engine/tell"
)

// Worked is a number that may be dug to: one of the two, or none. There is no
// place in it for a planned one.
type Worked struct {
	Live  *Live  `json:"live"`
	Taped *Taped `json:"taped"`
}

// Live is a reading from today's beam. Only liveOf makes one, of a draw.LiveRod.
type Live struct {
	Tag  string `json:"tag"`
	Rod  string `json:"rod"` // it is read on
	Face Face   `json:"face"`
}

// Taped is a depth under a hub, a string or a touched point.
type Taped struct {
	From string `json:"from"`
	Face Face   `json:"face"`
}

// Planned is the sum that today's height goes into. It holds no reading.
type Planned struct {
	For string `json:"for"` // dig and point
	Sum string `json:"sum"`
}

// Face is a figure in pieces, so that its fraction is stacked; Over is empty
// where there is none.
type Face struct {
	Text   string `json:"text"`
	Before string `json:"before"`
	Over   string `json:"over"`
	Under  string `json:"under"`
	After  string `json:"after"`
}

// workedOf is the number worked to at a row of the plan, none where the row is
// planned.
func workedOf(p *plan.Plan, v tell.View, n plan.Number) Worked {
	switch f := draw.WorkFigureOf(p, n).(type) {
	case draw.LiveRod:
		return Worked{Live: liveOf(v, f)}
	case draw.TapedDepth:
		return Worked{Taped: &Taped{f.From(), pieces(draw.Voice(v).Depth(f))}}
	}
	return Worked{}
}

func liveOf(v tell.View, f draw.LiveRod) *Live {
	return &Live{Tag: f.Tag(), Rod: f.Rod().ID, Face: pieces(draw.Voice(v).Reading(f))}
}

// plannedOf is the sum at a row that is planned, nil where it is not.
func plannedOf(p *plan.Plan, v tell.View, n plan.Number) *Planned {
	if f, ok := draw.WorkFigureOf(p, n).(draw.PlannedSum); ok {
		return &Planned{n.Excavation + " " + tell.PointText(v, n), draw.Voice(v).OpenSum(f)}
	}
	return nil
}

// none says that there is no number.
func (w Worked) none() bool { return w.Live == nil && w.Taped == nil }

// text is the number as it is written, "" none.
func (w Worked) text() string {
	switch {
	case w.Live != nil:
		return w.Live.Face.Text
	case w.Taped != nil:
		return w.Taped.Face.Text
	}
	return ""
}

// pieces takes a figure apart: 7'-1 1/2" is 7'-1, 1, 2 and ".
func pieces(text string) Face {
	f := Face{Text: text, Before: text}
	slash := strings.IndexByte(text, '/')
	if slash < 0 {
		return f
	}
	from := len(strings.TrimRight(text[:slash], digits))
	to := slash + 1 + len(text[slash+1:]) - len(strings.TrimLeft(text[slash+1:], digits))
	if from == slash || to == slash+1 {
		return f
	}
	f.Before, f.Over, f.Under, f.After = strings.TrimRight(text[:from], " \u00a0"), text[from:slash], text[slash+1:to], text[to:]
	return f
}

const digits = "0123456789"
