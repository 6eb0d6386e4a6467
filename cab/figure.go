package cab

import (
	"regexp"

	"spadework/engine/draw"
	"spadework/engine/plan"
	"spadework/engine/tell"
)

// Figure is a number set for the page. Only a live one has a reading; a planned
// one is the sum that today's height goes into.
type Figure struct {
	State string `json:"state"` // live, planned or taped
	From  string `json:"from"`  // tag, or the point taped from
	Text  string `json:"text"`
	// Text in pieces, so that its fraction is stacked; Over is empty where there
	// is none.
	Before string `json:"before"`
	Over   string `json:"over"`
	Under  string `json:"under"`
	After  string `json:"after"`
}

var mixed = regexp.MustCompile(`^(.*?)[ \x{00a0}]?(\d+)/(\d+)(.*)$`)

// figureOf sets the number worked to at a row of the plan.
func figureOf(p *plan.Plan, v tell.View, n plan.Number) *Figure {
	voice := draw.Voice(v)
	switch f := draw.WorkFigureOf(p, n).(type) {
	case draw.LiveRod:
		return stacked("live", f.Tag(), voice.Reading(f))
	case draw.PlannedSum:
		return &Figure{State: "planned", From: f.Tag(), Text: voice.OpenSum(f), Before: voice.OpenSum(f)}
	case draw.TapedDepth:
		return stacked("taped", f.From(), voice.Depth(f))
	}
	return nil
}

func stacked(state, from, text string) *Figure {
	f := &Figure{State: state, From: from, Text: text, Before: text}
	if m := mixed.FindStringSubmatch(text); m != nil {
		f.Before, f.Over, f.Under, f.After = m[1], m[2], m[3], m[4]
	}
	return f
}
