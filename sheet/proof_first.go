package sheet

import (
	"slices"

	"spadework/engine/draw"
	"spadework/engine/geom"
	"spadework/engine/phrase"
	"spadework/engine/record"
)

// holds are the hold points of the job and of the log: passed, by whom and when.
func (r *proof) holds() {
	t := &Table{Columns: []Column{r.column("dig"), r.View.words("hold"), r.column("result"), r.View.words("by"), r.View.words("agency"), r.column("time")}}
	for _, h := range r.state.Holds {
		result := r.Text("proven.hold_refused")
		if h.Passed {
			result = r.Text("proven.hold_passed")
		}
		at := "–"
		if l, ok := r.record(h.Record); ok {
			at = stampText(l.Time)
		}
		t.Add(h.Excavation, h.Hold, result, orDash(h.By), orDash(h.Agency), at)
	}
	for _, d := range r.plan.Digs {
		for _, hold := range d.Excavation.Holds {
			if !slices.ContainsFunc(r.state.Holds, func(h record.HoldState) bool { return h.Excavation == d.Excavation.ID && h.Hold == hold }) {
				t.Add(d.Excavation.ID, hold, r.Text("proven.hold_open"), "–", "–", "–")
			}
		}
	}
	r.listed("proven.holds", t, "proven.no_holds")
}

// corrections are what was taken back, by whom and why.
func (r *proof) corrections() {
	t := &Table{Columns: []Column{r.column("time"), r.column("person"), r.View.words("what"), r.View.words("reason")}}
	for _, l := range r.state.Log {
		c, ok := l.Payload.(*record.Correction)
		if !ok {
			continue
		}
		what := r.Say(kindOf(c.Of))
		if of, ok := r.record(c.Record); ok {
			what += ": " + recordText(r.plan, r.View, of.Record)
		}
		if c.Instead != nil {
			instead := l.Record
			instead.Payload = c.Instead
			what += " → " + recordText(r.plan, r.View, instead)
		}
		t.Add(stampText(l.Time), l.Person, what, c.Reason)
	}
	r.listed("proven.corrections", t, "proven.no_corrections")
}

// signatures are lines to sign on. A signature on paper is the person's own; what
// was signed in the log is listed with the site.
func (r *proof) signatures() {
	roles := []phrase.Key{"proven.sign_crew", "proven.sign_checker", "proven.sign_inspector"}
	const row = 13
	r.need(float64(row*len(roles)) + 8)
	r.col.gap(3)
	for _, key := range roles {
		c := r.col
		c.y += row - 4
		x := c.left
		for _, box := range []struct {
			text  string
			share float64
		}{{r.Text(key), 0.44}, {r.Text("proven.sign_name"), 0.34}, {r.Text("proven.sign_time"), 0.22}} {
			w := box.share * c.width
			c.stroke(draw.Ink, geom.Point{X: x, Y: c.y}, geom.Point{X: x + w - 3, Y: c.y})
			c.words(draw.Body, sizeFoot, geom.Point{X: x, Y: c.y + sizeFoot + 0.8}, draw.Start, clipped(draw.Body, sizeFoot, box.text, w-3))
			x += w
		}
		c.y += 4
	}
}
