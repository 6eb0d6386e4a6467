package exchange

import (
	"strconv"
	"strings"
)

// WriteLandXML writes a survey as LandXML 1.2 in metres: points as CgPoints,
// surfaces as TINs, digs and other lines as breaklines of a surface of their own.
// Coordinates stand as northing, easting, elevation, to a micrometre.
func WriteLandXML(name string, s Survey) []byte {
	w := &xmlWriter{}
	w.b.WriteString(`<?xml version="1.0" encoding="UTF-8"?>` + "\n")
	w.open("LandXML", "xmlns", "http://www.landxml.org/schema/LandXML-1.2", "version", "1.2", "date", "2000-01-01", "time", "00:00:00", "readOnly", "false", "language", "English")
	w.open("Units")
	w.leaf("Metric", "areaUnit", "squareMeter", "linearUnit", "meter", "volumeUnit", "cubicMeter", "temperatureUnit", "celsius", "pressureUnit", "milliBars", "diameterUnit", "meter")
	w.close("Units")
	w.leaf("Project", "name", name)
	w.leaf("Application", "name", "Spadework")
	w.points(s.Points)
	w.surfaces(s)
	w.close("LandXML")
	return []byte(w.b.String())
}

// xmlWriter writes elements, one a line.
type xmlWriter struct{ b strings.Builder }

var xmlEscape = strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;", `"`, "&quot;", "\n", " ", "\r", " ", "\t", " ")

func (w *xmlWriter) tag(name string, pairs []string) {
	w.b.WriteString("<" + name)
	for i := 0; i+1 < len(pairs); i += 2 {
		w.b.WriteString(" " + pairs[i] + `="` + xmlEscape.Replace(pairs[i+1]) + `"`)
	}
}

func (w *xmlWriter) open(name string, pairs ...string) { w.tag(name, pairs); w.b.WriteString(">\n") }
func (w *xmlWriter) leaf(name string, pairs ...string) { w.tag(name, pairs); w.b.WriteString("/>\n") }
func (w *xmlWriter) close(name string)                 { w.b.WriteString("</" + name + ">\n") }

func (w *xmlWriter) text(name, text string, pairs ...string) {
	w.tag(name, pairs)
	w.b.WriteString(">" + text + "</" + name + ">\n")
}

// figure is a length to a micrometre without noughts at its end.
func figure(v float64) string {
	s := strings.TrimRight(strconv.FormatFloat(v, 'f', 6, 64), "0")
	s = strings.TrimSuffix(s, ".")
	if s == "-0" {
		return "0"
	}
	return s
}

func (w *xmlWriter) points(points []SurveyPoint) {
	if len(points) == 0 {
		return
	}
	w.open("CgPoints")
	for _, p := range points {
		text := figure(p.At.Y) + " " + figure(p.At.X)
		if p.Known {
			text += " " + figure(p.At.Z)
		}
		w.text("CgPoint", text, "name", p.ID, "desc", p.Words)
	}
	w.close("CgPoints")
}

func (w *xmlWriter) surfaces(s Survey) {
	if len(s.Surfaces)+len(s.Lines) == 0 {
		return
	}
	w.open("Surfaces")
	for _, one := range s.Surfaces {
		w.surface(one)
	}
	if len(s.Lines) > 0 {
		w.open("Surface", "name", digSurface, "desc", "bottoms of digs as breaklines")
		w.open("SourceData")
		w.open("Breaklines")
		for _, l := range s.Lines {
			w.line(l)
		}
		w.close("Breaklines")
		w.close("SourceData")
		w.close("Surface")
	}
	w.close("Surfaces")
}

// digSurface is the name of the surface that carries lines alone.
const digSurface = "digs"

func (w *xmlWriter) surface(s SurveySurface) {
	w.open("Surface", "name", s.Name)
	w.open("Definition", "surfType", "TIN")
	w.open("Pnts")
	for i, p := range s.Points {
		w.text("P", figure(p.Y)+" "+figure(p.X)+" "+figure(p.Z), "id", strconv.Itoa(i+1))
	}
	w.close("Pnts")
	w.open("Faces")
	for _, f := range s.Faces {
		w.text("F", strconv.Itoa(f[0]+1)+" "+strconv.Itoa(f[1]+1)+" "+strconv.Itoa(f[2]+1))
	}
	w.close("Faces")
	w.close("Definition")
	w.close("Surface")
}

// line writes a breakline; a dig's outline repeats its first point.
func (w *xmlWriter) line(l SurveyLine) {
	w.open("Breakline", "name", l.ID, "desc", l.Words, "brkType", "standard")
	points := l.Points
	if l.Kind == DigBottom && len(points) > 0 {
		points = append(points[:len(points):len(points)], points[0])
	}
	parts := make([]string, len(points))
	for i, p := range points {
		parts[i] = figure(p.Y) + " " + figure(p.X) + " " + figure(p.Z)
	}
	w.text("PntList3D", strings.Join(parts, " "))
	if l.Kind == DigBottom {
		w.facts(l.Dig)
	}
	w.close("Breakline")
}

// facts writes that a line is a dig, and what is told of it, as a Feature, which
// LandXML keeps for what it has no element for.
func (w *xmlWriter) facts(d DigFacts) {
	w.open("Feature", "code", string(DigBottom))
	for _, p := range d.properties() {
		if text, told := p.text(); told {
			w.leaf("Property", "label", p.name, "value", text)
		}
	}
	w.close("Feature")
}
