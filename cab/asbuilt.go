//go:build foreman || !js

package cab

import (
	"spadework/engine/draw"
	"spadework/engine/phrase"
	"spadework/engine/record"
	"spadework/engine/tell"
	"spadework/engine/unit"
)

// AsBuilt is what the log proves so far: dig by dig, over time, and what stands
// open.
type AsBuilt struct {
	Digs    []BuiltDig `json:"digs"`
	Over    []OverLine `json:"over"`    // over-digs and their remedies
	Holds   []HoldLine `json:"holds"`   // hold points
	Tickets []Ticket   `json:"tickets"` // extra work
	Signed  []LogLine  `json:"signed"`
	Shots   *Scene     `json:"shots"`  // deviations in their order, nil none
	Closes  *Scene     `json:"closes"` // of the beams, in their order, nil none
	Photos  []Photo    `json:"photos"`
	Left    string     `json:"left"` // when and by whom it was handed over last, "" never
}

// BuiltDig is a dig with its newest shots.
type BuiltDig struct {
	ID      string       `json:"id"`
	Kind    string       `json:"kind"`
	Verdict string       `json:"verdict"` // "" no shot
	Told    string       `json:"told"`
	Points  []BuiltPoint `json:"points"`
}

// BuiltPoint is the newest shot at a point.
type BuiltPoint struct {
	Label   string `json:"label"`
	Wanted  string `json:"wanted"`
	Height  string `json:"height"`
	Off     string `json:"off"`
	Told    string `json:"told"`
	Verdict string `json:"verdict"`
	Tag     string `json:"tag"`
	Time    string `json:"time"`
	Person  string `json:"person"`
	Size    string `json:"size"` // of the over-dig, "" it is none
}

// OverLine is an over-dig as it was recorded.
type OverLine struct {
	Dig    string `json:"dig"`
	Depth  string `json:"depth"`
	Remedy string `json:"remedy"`
	Done   bool   `json:"done"`
	Who    string `json:"who"`
}

// HoldLine is a hold point of a dig.
type HoldLine struct {
	Dig    string `json:"dig"`
	Hold   string `json:"hold"`
	State  string `json:"state"` // passed, refused, open
	By     string `json:"by"`
	Agency string `json:"agency"`
}

// Ticket is extra work.
type Ticket struct {
	ID     string `json:"id"`
	For    string `json:"for"`
	Dig    string `json:"dig"`
	Words  string `json:"words"`
	Hours  string `json:"hours"`
	Before string `json:"before"`
	After  string `json:"after"`
	Who    string `json:"who"`
}

// Photo is a picture that a record names.
type Photo struct {
	Digest string `json:"digest"`
	Of     string `json:"of"` // id of the record it shows
	Dig    string `json:"dig"`
	Words  string `json:"words"`
	Who    string `json:"who"`
}

// usualHolds are the hold points offered where the job names none (common
// practice): what the ground bears, where it lies, what goes in.
var usualHolds = []string{"bearing", "location", "steel"}

// AsBuilt is what the log comes to now.
func (c *Cab) AsBuilt() AsBuilt {
	out := AsBuilt{Digs: []BuiltDig{}, Over: []OverLine{}, Tickets: []Ticket{}, Signed: []LogLine{}, Photos: []Photo{}}
	v := tell.LogFace(c.plan, c.view)
	proofs := map[string]record.DigProof{}
	for _, d := range record.ProveLog(c.plan, c.state) {
		proofs[d.Excavation] = d
	}
	for _, d := range c.plan.Digs {
		one := BuiltDig{ID: d.Excavation.ID, Kind: c.view.Text(phrase.Key("sheet.kind_" + string(d.Excavation.Kind))), Points: []BuiltPoint{}}
		if p, ok := proofs[one.ID]; ok {
			one.Verdict, one.Told = string(p.Verdict), c.view.Text(phrase.Key("sheet.log_"+string(p.Verdict)))
			for _, pt := range p.Proofs {
				one.Points = append(one.Points, c.builtPoint(v, pt))
			}
		}
		out.Digs = append(out.Digs, one)
	}
	out.Holds = c.holds()
	for _, l := range c.state.Log {
		if !l.Corrected {
			c.sortIn(&out, l)
		}
	}
	out.Shots, out.Closes = c.charts(v)
	if l := c.state.Left; l != nil {
		out.Left = l.Time.Date() + " " + l.Time.Minute() + " " + l.Person
	}
	return out
}

func (c *Cab) builtPoint(v tell.View, pt record.PointProof) BuiltPoint {
	s := c.shot(v, pt.PointState)
	out := BuiltPoint{Label: c.pointLabel(pt.PointState), Wanted: c.view.Style.ElevationFigure(pt.Wanted), Height: c.view.Style.ElevationFigure(pt.Height),
		Off: s.Text, Told: s.Told, Verdict: s.Verdict, Tag: pt.Tag, Time: pt.Time.Date() + " " + s.Time, Person: s.Person}
	if pt.Verdict == record.OverDug {
		out.Size = c.view.Style.Length(-pt.Deviation)
	}
	return out
}

// pointLabel names the point of a shot.
func (c *Cab) pointLabel(pt record.PointState) string {
	out := ""
	if pt.Part != "" {
		out = tell.PartText(c.view, pt.Part) + " "
	}
	if pt.Station != nil {
		return out + c.view.Style.Station(*pt.Station)
	}
	if pt.Point == "" {
		return out + c.view.Text("sheet.point_centre")
	}
	return out + pt.Point
}

// holds are the hold points that the job names, and those that the log has
// beside.
func (c *Cab) holds() []HoldLine {
	out := []HoldLine{}
	at := map[[2]string]int{}
	for _, d := range c.plan.Digs {
		named := d.Excavation.Holds
		if len(named) == 0 {
			named = usualHolds
		}
		for _, h := range named {
			at[[2]string{d.Excavation.ID, h}] = len(out)
			out = append(out, HoldLine{Dig: d.Excavation.ID, Hold: h, State: "open"})
		}
	}
	for _, h := range c.state.Holds {
		line := HoldLine{h.Excavation, h.Hold, "refused", h.By, h.Agency}
		if h.Passed {
			line.State = "passed"
		}
		if i, ok := at[[2]string{h.Excavation, h.Hold}]; ok {
			out[i] = line
		} else {
			out = append(out, line)
		}
	}
	return out
}

// sortIn sorts a record of the log into what it adds to.
func (c *Cab) sortIn(out *AsBuilt, l record.Line) {
	who := l.Person + " " + l.Time.Date() + " " + l.Time.Minute()
	switch r := l.Payload.(type) {
	case *record.OverDig:
		out.Over = append(out.Over, OverLine{r.Excavation, c.view.Style.Length(r.Depth), r.Remedy, r.Done, who})
	case *record.Ticket:
		t := Ticket{ID: l.ID.String(), For: r.For, Dig: r.Excavation, Words: r.Words, Who: who}
		if r.Hours != nil {
			t.Hours = c.view.Style.Number(*r.Hours)
		}
		t.Before, t.After = c.volumeOf(r.Before), c.volumeOf(r.After)
		out.Tickets = append(out.Tickets, t)
	case *record.SignOff:
		line := c.logLine(l)
		line.Text = r.Role + ": " + r.Words
		if r.Excavation != "" {
			line.Text = r.Excavation + ", " + line.Text
		}
		out.Signed = append(out.Signed, line)
	case *record.Photo:
		p := Photo{Digest: r.Digest.String(), Dig: r.Excavation, Words: r.Words, Who: who}
		if !r.Of.IsZero() {
			p.Of = r.Of.String()
		}
		out.Photos = append(out.Photos, p)
	}
}

func (c *Cab) volumeOf(v *unit.Volume) string {
	if v == nil {
		return ""
	}
	return c.view.Style.Volume(*v)
}

// Sizes of the charts in millimetres; the page scales them.
const chartWidth, chartHeight = 150, 70

// mostPoints is how many points a chart shows: the newest.
const mostPoints = 40

// charts draw the shots and the closes of the log in their order.
func (c *Cab) charts(v tell.View) (shots, closes *Scene) {
	var off []draw.Deviation
	var read []draw.ChartPoint
	var limits []unit.Length
	for _, l := range c.state.Log {
		switch r := l.Payload.(type) {
		case *record.CheckShot:
			if d, ok := c.deviation(l, r); ok {
				off = append(off, d)
			}
		case *record.Close:
			name := r.Point
			for _, t := range c.state.Tags {
				if t.Setup == r.Setup {
					name = t.Tag + " " + name
				}
			}
			read = append(read, draw.ChartPoint{Name: name + " " + l.Time.Minute(), Value: r.Off(), Alarm: !r.Good()})
			limits = []unit.Length{r.Limit, -r.Limit}
		}
	}
	frame := draw.Frame{Width: chartWidth, Height: chartHeight, Type: sceneType}
	if len(off) > 0 {
		shots = sceneOf(draw.DeviationPlot(off[max(0, len(off)-mostPoints):], draw.Voice(v), frame))
	}
	if len(read) > 0 {
		closes = sceneOf(draw.ControlChart(read[max(0, len(read)-mostPoints):], limits, draw.Voice(v), frame))
	}
	return shots, closes
}

// deviation is a shot of the log off the bottom it was judged by.
func (c *Cab) deviation(l record.Line, shot *record.CheckShot) (draw.Deviation, bool) {
	if l.Corrected {
		return draw.Deviation{}, false
	}
	d := draw.Deviation{Name: shot.Excavation + " " + c.pointLabel(record.PointState{Part: shot.Part, Point: shot.Point, Station: shot.Station}),
		Off: shot.Deviation()}
	if shot.Above != nil && shot.Below != nil {
		d.Above, d.Below, d.Judged = *shot.Above, *shot.Below, true
	}
	return d, true
}
