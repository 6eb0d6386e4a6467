package sheet

import (
	"math"
	"slices"

	"spadework/engine/draw"
	"spadework/engine/geom"
	"spadework/engine/phrase"
	"spadework/engine/record"
	"spadework/engine/unit"
)

// plotShots is how many shots a plot takes before the next begins: their names
// then stand apart on the narrower paper.
const plotShots = 32

// plotHeight is the height of a plot in millimetres.
const plotHeight = 62

// checks draws what shots and closes came to: the newest shot of every point by
// dig, then all shots and closes in the order of the log, for each beam.
func (b *book) checks() {
	if b.Log == nil {
		return
	}
	beams, corrected := b.beams()
	newest := b.newest()
	if len(newest) == 0 && !slices.ContainsFunc(beams, beamChecks.any) {
		return
	}
	b.begin(b.Text("sheet.checks_title"), "")
	b.words(draw.Body, sizeBody, 0, b.Text("sheet.checks_signs"))
	if corrected > 0 {
		b.words(draw.Body, sizeBody, 0, b.Text("sheet.checks_corrected", phrase.With("count", corrected)))
	}
	b.deviations(b.Text("sheet.checks_by_dig"), newest)
	for _, m := range beams {
		if m.any() {
			b.deviations(m.words(b.View), m.shots)
			b.control(m)
		}
	}
}

// newest is the newest shot of every point, by dig as the plan lists them.
func (b *book) newest() (out []draw.Deviation) {
	proofs := map[string]record.DigProof{}
	for _, d := range record.ProveLog(b.plan, b.Log) {
		proofs[d.Excavation] = d
	}
	for _, d := range inJobOrder(b.plan, b.Log) {
		for _, p := range proofs[d.Excavation].Proofs {
			one := draw.Deviation{Name: placeOf(b.View, d.Excavation, p.Part, p.Point, p.Station), Off: p.Deviation, Above: p.Band.Above, Below: p.Band.Below, Judged: p.Known}
			if u := p.Expanded(); !math.IsNaN(float64(u)) {
				one.Expanded = u
			}
			out = append(out, one)
		}
	}
	return out
}

// beamChecks are the shots and closes that rest on one beam, or on a point that
// a machine touched.
type beamChecks struct {
	made    *record.SetupMade // nil a touched point
	machine string
	at      record.Stamp
	shots   []draw.Deviation
	closes  []draw.ChartPoint
	limits  []unit.Length
}

func (m beamChecks) any() bool { return len(m.shots)+len(m.closes) > 0 }

// words name the beam.
func (m beamChecks) words(v View) string {
	if m.made == nil {
		return v.Text("sheet.checks_touched", phrase.With("machine", m.machine), phrase.With("day", m.at.Date()), phrase.With("time", m.at.Minute()))
	}
	return v.Text("sheet.checks_beam", phrase.With("tag", m.made.Tag), phrase.With("laser", m.made.Laser), phrase.With("machine", orDash(m.made.Machine)),
		phrase.With("day", m.at.Date()), phrase.With("time", m.at.Minute()))
}

// beams walks the log in its order. What was corrected away is counted, not
// drawn.
func (b *book) beams() (out []beamChecks, corrected int) {
	at := map[record.ID]int{} // by set-up or tie
	for _, l := range b.Log.Log {
		switch r := asCorrected(l).(type) {
		case *record.SetupMade:
			at[l.ID], out = len(out), append(out, beamChecks{made: r, machine: r.Machine, at: l.Time})
		case *record.Tie:
			if i, known := at[r.Setup]; known {
				at[l.ID] = i
			} else {
				at[l.ID], out = len(out), append(out, beamChecks{machine: r.Machine, at: l.Time})
			}
		case *record.CheckShot:
			i, known := at[r.Setup]
			if !known {
				i, known = at[r.Tie]
			}
			switch {
			case l.Corrected:
				corrected++
			case known:
				out[i].shots = append(out[i].shots, timed(l, r))
			}
		case *record.Close:
			if i, known := at[r.Setup]; known && !l.Corrected {
				out[i].close(l, r)
			}
		}
	}
	return out, corrected
}

// asCorrected is what a record tells: a correction tells what is so instead.
func asCorrected(l record.Line) record.Payload {
	if c, ok := l.Payload.(*record.Correction); ok {
		return c.Instead
	}
	return l.Payload
}

// timed is a shot with its hour.
func timed(l record.Line, r *record.CheckShot) draw.Deviation {
	d := draw.Deviation{Name: r.Excavation + " " + l.Time.Minute(), Off: r.Deviation()}
	if r.Above != nil && r.Below != nil {
		d.Above, d.Below, d.Judged = *r.Above, *r.Below, true
	}
	return d
}

// close adds a close with its hour and its limit.
func (m *beamChecks) close(l record.Line, r *record.Close) {
	m.closes = append(m.closes, draw.ChartPoint{Name: r.Point + " " + l.Time.Minute(), Value: r.Off(), Alarm: !r.Good()})
	if !slices.Contains(m.limits, r.Limit) {
		m.limits = append(m.limits, r.Limit, -r.Limit)
	}
}

// deviations plots shots under their title, so many to a plot.
func (b *book) deviations(title string, shots []draw.Deviation) {
	for part := range slices.Chunk(shots, plotShots) {
		b.plot(title, draw.DeviationPlot(part, draw.Voice(b.View), b.plotFrame()))
		title = ""
	}
}

// control charts the closes of a beam.
func (b *book) control(m beamChecks) {
	title := b.Text("sheet.checks_closes")
	for part := range slices.Chunk(m.closes, plotShots) {
		b.plot(title, draw.ControlChart(part, m.limits, draw.Voice(b.View), b.plotFrame()))
		title = ""
	}
}

func (b *book) plotFrame() draw.Frame {
	return draw.Frame{Width: b.width(), Height: plotHeight, Type: 2.6, OnSheet: true}
}

// plot sets a chart on the page under its title.
func (b *book) plot(title string, scene draw.Scene) {
	b.need(scene.Height + 10)
	if title != "" {
		b.col.gap(2)
		b.words(draw.Strong, sizeHead, 0, title)
	}
	b.col.put(scene, geom.Point{X: b.col.left, Y: b.col.y})
	b.col.y += scene.Height
	if scene.Unplaced > 0 {
		b.words(draw.Body, sizeFoot, 0, b.Text("page.unnamed", phrase.With("count", scene.Unplaced)))
	}
}
