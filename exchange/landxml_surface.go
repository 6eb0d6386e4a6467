package exchange

import (
	"strings"

	"spadework/engine/geom"
	"spadework/engine/phrase"
)

// surface reads the triangles of a surface and the breaklines it was made from.
func (r *landReader) surface(n *xmlNode) {
	for _, b := range n.all("SourceData", "Breaklines", "Breakline") {
		r.breakline(b)
	}
	d := n.find("Definition")
	if d == nil {
		return
	}
	if kind := d.attr["surfType"]; kind != "TIN" && kind != "" {
		r.fail(d, "exchange.xml_surface", phrase.With("value", kind))
		return
	}
	out := SurveySurface{Name: n.attr["name"]}
	index := map[string]int{}
	for _, p := range d.all("Pnts", "P") {
		v := r.figures(p, 3)
		if v == nil {
			return
		}
		id := p.attr["id"]
		if _, twice := index[id]; twice || id == "" {
			r.fail(p, "exchange.xml_point_id", phrase.With("value", id))
			return
		}
		index[id] = len(out.Points)
		out.Points = append(out.Points, r.place(v))
	}
	for _, f := range d.all("Faces", "F") {
		if f.attr["i"] == "1" {
			r.out.Counts.Hidden++
			continue
		}
		face, ok := r.face(f, index, out.Points)
		if !ok {
			return
		}
		out.Faces = append(out.Faces, face)
	}
	r.out.Surfaces = append(r.out.Surfaces, out)
}

// face reads the corners of a triangle and turns it counter-clockwise.
func (r *landReader) face(f *xmlNode, index map[string]int, points []geom.Point3) (face [3]int, ok bool) {
	words := strings.Fields(f.text.String())
	if len(words) != 3 {
		r.fail(f, "exchange.xml_face", phrase.With("count", len(words)))
		return face, false
	}
	for i, w := range words {
		k, known := index[w]
		if !known {
			r.fail(f, "exchange.xml_no_point", phrase.With("value", w))
			return face, false
		}
		face[i] = k
	}
	return turned(face, points), true
}

// turned is a face counter-clockwise in plan.
func turned(face [3]int, points []geom.Point3) [3]int {
	a, b, c := points[face[0]].Plan(), points[face[1]].Plan(), points[face[2]].Plan()
	if geom.Orient(a, b, c) < 0 {
		face[1], face[2] = face[2], face[1]
	}
	return face
}

// breakline reads one line; a closed one with a Feature of code "dig" is a dig's
// bottom as WriteLandXML has it.
func (r *landReader) breakline(n *xmlNode) {
	list := n.find("PntList3D")
	if list == nil {
		r.out.Counts.Skipped++
		return
	}
	v := r.figures(list)
	if v == nil {
		return
	}
	if len(v)%3 != 0 || len(v) < 6 {
		r.fail(list, "exchange.xml_list", phrase.With("count", len(v)))
		return
	}
	l := SurveyLine{ID: n.attr["name"], Kind: BreakLine, Words: n.attr["desc"], Known: true}
	for i := 0; i < len(v); i += 3 {
		l.Points = append(l.Points, r.place(v[i:i+3]))
	}
	f := n.find("Feature")
	if last := len(l.Points) - 1; f != nil && f.attr["code"] == string(DigBottom) && l.Points[0] == l.Points[last] {
		l.Kind, l.Points, l.Dig = DigBottom, l.Points[:last], r.facts(n)
	}
	r.out.Lines = append(r.out.Lines, l)
}

// facts are what the features of a dig tell; what is no such fact is counted.
func (r *landReader) facts(n *xmlNode) DigFacts {
	var out DigFacts
	for _, told := range n.all("Feature", "Property") {
		known := false
		for _, p := range out.properties() {
			known = known || p.name == told.attr["label"] && p.take(told.attr["value"], r.metres)
		}
		if !known {
			r.out.Counts.Skipped++
		}
	}
	return out
}
