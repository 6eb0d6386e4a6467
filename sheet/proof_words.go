package sheet

import (
	"spadework/engine/phrase"
	"spadework/engine/plan"
	"spadework/engine/record"
	"spadework/engine/unit"
)

func abs(l unit.Length) unit.Length { return max(l, -l) }

// span is one elevation or two.
func (r *proof) span(a, b unit.Elevation) string {
	from, to := r.Style.ElevationFigure(min(a, b)), r.Style.ElevationFigure(max(a, b))
	if from == to {
		return from
	}
	return from + " – " + to
}

// wantedBy is the lowest and highest bottom that the drawing wants of a dig.
func (r *proof) wantedBy(d plan.Dig) string {
	points := d.Points(r.plan.Job.Interval)
	if len(points) == 0 {
		return "–"
	}
	low, high := points[0].Bottom, points[0].Bottom
	for _, pt := range points {
		low, high = min(low, pt.Bottom), max(high, pt.Bottom)
	}
	return r.span(low, high)
}

// bandOf is the tolerance of a dig.
func (r *proof) bandOf(d plan.Dig) string {
	t := d.Excavation.Tolerance
	if t == nil {
		return "–"
	}
	return r.bandText(t.Above, t.Below)
}

// band is the tolerance that a shot was judged by.
func (r *proof) band(pt record.PointProof) string {
	if !pt.Known {
		return "–"
	}
	return r.bandText(pt.Band.Above, pt.Band.Below)
}

func (r *proof) bandText(above, below unit.Length) string {
	return "+" + r.Style.Length(above) + " −" + r.Style.Length(below)
}

// shortHash is as much of a hash as people compare by eye: 64 bits.
func shortHash(h record.Hash) string {
	s := h.String()
	return s[:4] + " " + s[4:8] + " " + s[8:12] + " " + s[12:16]
}

// stamp is the day and minute of a record.
func stampText(t record.Stamp) string { return t.Date() + " " + t.Minute() }

// told is a word of the job file, or that nobody told it.
func (r *proof) told(s string) string {
	if s == "" {
		return r.Text("proven.not_told")
	}
	return s
}

// record finds a record of the log.
func (r *proof) record(id record.ID) (record.Line, bool) {
	for _, l := range r.state.Log {
		if l.ID == id {
			return l, true
		}
	}
	return record.Line{}, false
}

// tagName is the tag of a set-up's record.
func (r *proof) tagName(id record.ID) string {
	for _, t := range r.state.Tags {
		if t.Setup == id {
			return t.Tag
		}
	}
	return "–"
}

// taken says that a record was corrected, after what it tells.
func (r *proof) taken(l record.Line, text string) string {
	if l.Corrected {
		return joinWords(text, r.Text("sheet.corrected"))
	}
	return text
}

func joinWords(a, b string) string {
	if a == "" {
		return b
	}
	return a + " " + b
}

// listed adds a table under a heading if it has rows, else the text that says
// that there are none.
func (r *proof) listed(head phrase.Key, t *Table, none phrase.Key) {
	s := &Sheet{View: r.View}
	s.heading(head)
	if len(t.Rows) > 0 {
		s.table(t)
	} else if none != "" {
		s.paragraph(s.Text(none))
	}
	r.blocks(s)
}
