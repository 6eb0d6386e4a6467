package exchange

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"strconv"
	"strings"

	"spadework/engine/geom"
	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// ReadLandXML reads LandXML 1.2: points, surfaces of triangles, breaklines,
// alignments of straight pieces and arcs with their profiles, and pipe networks.
// Coordinates stand as northing, easting, elevation (the schema's order), in the
// unit that Units names; a file without Units is refused, as are a document type
// (entities), spirals and vertical curves. Elements of no use here are skipped
// and counted.
func ReadLandXML(data []byte) (Survey, *phrase.Fault) {
	root, fault := readXML(data)
	if fault != nil {
		return Survey{}, fault
	}
	r := &landReader{}
	if root.name != "LandXML" {
		r.fail(root, "exchange.xml_root", phrase.With("value", root.name))
	}
	r.units(root)
	for _, n := range root.inner {
		if r.fault != nil {
			return Survey{}, r.fault
		}
		r.top(n)
	}
	if r.fault != nil {
		return Survey{}, r.fault
	}
	return r.out, nil
}

// xmlNode is an element with its place.
type xmlNode struct {
	name  string
	attr  map[string]string
	text  strings.Builder
	inner []*xmlNode
	at    phrase.Place
}

func (n *xmlNode) find(name string) *xmlNode {
	for _, m := range n.inner {
		if m.name == name {
			return m
		}
	}
	return nil
}

func (n *xmlNode) all(names ...string) []*xmlNode {
	out := []*xmlNode{n}
	for _, name := range names {
		var next []*xmlNode
		for _, m := range out {
			for _, k := range m.inner {
				if k.name == name {
					next = append(next, k)
				}
			}
		}
		out = next
	}
	return out
}

// readXML reads a document as a tree, within limits. encoding/xml expands no
// entity but the five of XML itself.
func readXML(data []byte) (*xmlNode, *phrase.Fault) {
	if len(data) > maxSurveyFile {
		return nil, surveyFault("exchange.survey_large", phrase.Place{}, phrase.With("limit", maxSurveyFile>>20))
	}
	d := xml.NewDecoder(bytes.NewReader(data))
	top := &xmlNode{}
	open := []*xmlNode{top}
	for {
		token, err := d.Token()
		line, column := d.InputPos()
		at := phrase.Place{Line: line, Column: column}
		if errors.Is(err, io.EOF) && len(open) == 1 && len(top.inner) == 1 {
			return top.inner[0], nil
		}
		if err != nil {
			return nil, surveyFault("exchange.xml", at, phrase.With("detail", err.Error()))
		}
		last := open[len(open)-1]
		switch t := token.(type) {
		case xml.Directive:
			return nil, surveyFault("exchange.xml_doctype", at)
		case xml.StartElement:
			if len(open) > maxDepth || len(open) == 1 && len(top.inner) == 1 {
				return nil, surveyFault("exchange.xml_deep", at, phrase.With("limit", maxDepth))
			}
			n := &xmlNode{name: t.Name.Local, at: at, attr: map[string]string{}}
			for _, a := range t.Attr {
				n.attr[a.Name.Local] = a.Value
			}
			last.inner = append(last.inner, n)
			open = append(open, n)
		case xml.EndElement:
			open = open[:len(open)-1]
		case xml.CharData:
			if len(open) > 1 {
				last.text.Write(t)
			}
		}
	}
}

// landReader reads one document; the first fault wins.
type landReader struct {
	metres float64 // of the file's unit
	bore   float64 // of its unit of diameters
	out    Survey
	points int
	fault  *phrase.Fault
}

func (r *landReader) fail(n *xmlNode, key phrase.Key, args ...phrase.Arg) {
	if r.fault == nil {
		r.fault = surveyFault(key, n.at, args...)
		r.fault.Place.Path = n.name
	}
}

// linearUnits are those of the schema, in metres.
var linearUnits = map[string]float64{
	"meter": 1, "millimeter": 0.001, "centimeter": 0.01, "kilometer": 1000,
	"foot": float64(unit.Foot), "USSurveyFoot": 1200.0 / 3937.0, "inch": float64(unit.Inch),
}

// heightUnits are those of elevations, which the schema names otherwise.
var heightUnits = map[string]float64{"meter": 1, "kilometer": 1000, "feet": float64(unit.Foot), "foot": float64(unit.Foot)}

// units finds the unit of lengths. Elevations in another unit are refused.
func (r *landReader) units(root *xmlNode) {
	u := root.find("Units")
	if u == nil {
		r.fail(root, "exchange.xml_units")
		return
	}
	if len(u.inner) != 1 {
		r.fail(u, "exchange.xml_units")
		return
	}
	n := u.inner[0]
	name := n.attr["linearUnit"]
	metres, ok := linearUnits[name]
	if !ok {
		r.fail(n, "exchange.xml_unit", phrase.With("value", name))
		return
	}
	r.metres, r.bore = metres, metres
	if bore, told := n.attr["diameterUnit"]; told {
		if r.bore, ok = linearUnits[bore]; !ok {
			r.fail(n, "exchange.xml_unit", phrase.With("value", bore))
			return
		}
	}
	if height, told := n.attr["elevationUnit"]; told {
		if h, ok := heightUnits[height]; !ok || h != metres && !(height == "feet" && name == "USSurveyFoot") {
			r.fail(n, "exchange.xml_unit", phrase.With("value", height))
		}
	}
}

func (r *landReader) top(n *xmlNode) {
	switch n.name {
	case "CgPoints":
		r.cgPoints(n)
	case "Surfaces":
		for _, s := range n.all("Surface") {
			r.surface(s)
		}
	case "Alignments":
		for _, a := range n.all("Alignment") {
			r.alignment(a)
		}
	case "PipeNetworks":
		for _, p := range n.all("PipeNetwork") {
			r.network(p)
		}
	case "Units", "Project", "Application", "CoordinateSystem":
	default:
		r.out.Counts.Skipped++
	}
}

// figures reads so many numbers, or as many as there are where want is 0.
func (r *landReader) figures(n *xmlNode, want ...int) []float64 {
	words := strings.Fields(n.text.String())
	ok := len(want) == 0
	for _, w := range want {
		ok = ok || len(words) == w
	}
	if !ok {
		r.fail(n, "exchange.xml_figures", phrase.With("count", len(words)))
		return nil
	}
	out := make([]float64, len(words))
	for i, w := range words {
		v, err := strconv.ParseFloat(w, 64)
		if err != nil || !inside(v) {
			r.fail(n, "exchange.xml_figure", phrase.With("value", w))
			return nil
		}
		out[i] = v
	}
	if r.points += len(out)/2 + 1; r.points > maxSurveyPoints {
		r.fail(n, "exchange.survey_points", phrase.With("limit", maxSurveyPoints))
		return nil
	}
	return out
}

// place turns northing, easting and elevation into a point.
func (r *landReader) place(v []float64) geom.Point3 {
	p := geom.Point3{X: v[1] * r.metres, Y: v[0] * r.metres}
	if len(v) > 2 {
		p.Z = v[2] * r.metres
	}
	return p
}

func (r *landReader) cgPoints(n *xmlNode) {
	for _, p := range n.inner {
		switch {
		case p.name == "CgPoints":
			r.cgPoints(p)
		case p.name != "CgPoint":
			r.out.Counts.Skipped++
		case p.attr["pntRef"] != "":
			r.out.Counts.Skipped++
		default:
			v := r.figures(p, 2, 3)
			if v == nil {
				return
			}
			words := strings.TrimSpace(p.attr["desc"])
			if words == "" {
				words = p.attr["code"]
			}
			r.out.Points = append(r.out.Points, SurveyPoint{ID: p.attr["name"], At: r.place(v), Known: len(v) == 3, Words: words})
		}
	}
}
