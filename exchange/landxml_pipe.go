package exchange

import (
	"strconv"

	"spadework/engine/geom"
	"spadework/engine/phrase"
)

// structure is a manhole or an inlet of a pipe network.
type structure struct {
	at      geom.Point
	inverts map[string]float64 // by pipe
}

// network reads the pipes between structures with their inverts.
func (r *landReader) network(n *xmlNode) {
	structures := map[string]structure{}
	for _, s := range n.all("Structs", "Struct") {
		c, ok := r.end(s, "Center")
		if !ok {
			return
		}
		one := structure{at: c.Plan(), inverts: map[string]float64{}}
		for _, i := range s.all("Invert") {
			v, ok := r.attribute(i, "elev")
			if !ok {
				return
			}
			one.inverts[i.attr["refPipe"]] = v
		}
		structures[s.attr["name"]] = one
	}
	for _, p := range n.all("Pipes", "Pipe") {
		if !r.pipe(p, structures) {
			return
		}
	}
}

// pipe reads one pipe.
func (r *landReader) pipe(n *xmlNode, structures map[string]structure) bool {
	out := SurveyPipe{ID: n.attr["name"], From: n.attr["refStart"], To: n.attr["refEnd"]}
	for _, end := range []struct {
		name   string
		at     *geom.Point
		invert **float64
	}{{out.From, &out.Start, &out.InvertA}, {out.To, &out.End, &out.InvertB}} {
		s, ok := structures[end.name]
		if !ok {
			r.fail(n, "exchange.xml_no_structure", phrase.With("value", end.name))
			return false
		}
		*end.at = s.at
		if v, ok := s.inverts[out.ID]; ok {
			*end.invert = &v
		}
	}
	if c := n.find("CircPipe"); c != nil && c.attr["diameter"] != "" {
		d, ok := r.attribute(c, "diameter")
		if !ok {
			return false
		}
		d *= r.bore / r.metres
		out.Diameter = &d
	}
	r.out.Pipes = append(r.out.Pipes, out)
	return true
}

// attribute reads a length written as an attribute.
func (r *landReader) attribute(n *xmlNode, name string) (float64, bool) {
	v, err := strconv.ParseFloat(n.attr[name], 64)
	if err != nil || !inside(v) {
		r.fail(n, "exchange.xml_figure", phrase.With("value", n.attr[name]))
		return 0, false
	}
	return v * r.metres, true
}
