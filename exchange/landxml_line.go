package exchange

import (
	"math"

	"spadework/engine/geom"
	"spadework/engine/phrase"
)

// alignment reads a line of straight pieces and arcs, and its first profile.
func (r *landReader) alignment(n *xmlNode) {
	l := SurveyLine{ID: n.attr["name"], Kind: Alignment, Words: n.attr["desc"]}
	for _, g := range n.all("CoordGeom") {
		for _, piece := range g.inner {
			if !r.piece(&l, piece) {
				return
			}
		}
	}
	for _, p := range n.all("Profile", "ProfAlign") {
		if l.Profile == nil && !r.profile(&l, p) {
			return
		}
	}
	if len(l.Points) < 2 {
		r.fail(n, "exchange.xml_alignment")
		return
	}
	r.out.Lines = append(r.out.Lines, l)
}

// piece adds one piece of an alignment.
func (r *landReader) piece(l *SurveyLine, n *xmlNode) bool {
	switch n.name {
	case "Line", "Curve":
	case "Feature":
		r.out.Counts.Skipped++
		return true
	default:
		r.fail(n, "exchange.xml_piece", phrase.With("value", n.name))
		return false
	}
	start, ok := r.end(n, "Start")
	end, ok2 := r.end(n, "End")
	if !ok || !ok2 {
		return false
	}
	if len(l.Points) == 0 {
		l.Points = append(l.Points, start)
	} else if d := l.Points[len(l.Points)-1].Plan().Distance(start.Plan()); !(d <= joined) {
		r.fail(n, "exchange.xml_gap", phrase.With("gap", d))
		return false
	}
	if n.name == "Curve" && !r.arc(l, n, start.Plan(), end.Plan()) {
		return false
	}
	l.Points = append(l.Points, end)
	return true
}

// joined is how near the end of a piece the next begins: files round to a tenth
// of a millimetre (common practice).
const joined = 0.001

// end reads Start, End or Center of a piece.
func (r *landReader) end(n *xmlNode, name string) (geom.Point3, bool) {
	m := n.find(name)
	if m == nil {
		r.fail(n, "exchange.xml_missing", phrase.With("value", name))
		return geom.Point3{}, false
	}
	v := r.figures(m, 2, 3)
	if v == nil {
		return geom.Point3{}, false
	}
	p := r.place(v)
	p.Z = 0
	return p, true
}

// chordRise is how far a chord may lie from its arc.
const chordRise = 0.001

// arc adds the points between the ends of an arc, so that chords stay within a
// millimetre of it: the rise of a chord over an angle a is r(1 − cos a/2).
func (r *landReader) arc(l *SurveyLine, n *xmlNode, from, to geom.Point) bool {
	mid, ok := r.end(n, "Center")
	if !ok {
		return false
	}
	c := mid.Plan()
	radius := c.Distance(from)
	if rot := n.attr["rot"]; rot != "cw" && rot != "ccw" || !(radius > 0) || !(math.Abs(radius-c.Distance(to)) <= joined) {
		r.fail(n, "exchange.xml_arc")
		return false
	}
	a := math.Atan2(from.Y-c.Y, from.X-c.X)
	sweep := math.Atan2(to.Y-c.Y, to.X-c.X) - a
	switch {
	case n.attr["rot"] == "ccw" && sweep <= 0:
		sweep += 2 * math.Pi
	case n.attr["rot"] == "cw" && sweep >= 0:
		sweep -= 2 * math.Pi
	}
	step := 2 * math.Acos(max(0, 1-chordRise/radius))
	count := int(math.Ceil(math.Abs(sweep) / step))
	if r.points += count; r.points > maxSurveyPoints {
		r.fail(n, "exchange.survey_points", phrase.With("limit", maxSurveyPoints))
		return false
	}
	for i := 1; i < count; i++ {
		sin, cos := math.Sincos(a + sweep*float64(i)/float64(count))
		l.Points = append(l.Points, geom.Point3{X: c.X + float64(radius*cos), Y: c.Y + float64(radius*sin)})
	}
	r.out.Counts.Chords += count
	return true
}

// profile reads straight grades between points; a vertical curve is refused.
func (r *landReader) profile(l *SurveyLine, n *xmlNode) bool {
	for _, p := range n.inner {
		if p.name == "Feature" {
			r.out.Counts.Skipped++
			continue
		}
		if p.name != "PVI" {
			r.fail(p, "exchange.xml_vertical", phrase.With("value", p.name))
			return false
		}
		v := r.figures(p, 2)
		if v == nil {
			return false
		}
		l.Profile = append(l.Profile, [2]float64{v[0] * r.metres, v[1] * r.metres})
	}
	return true
}
