package exchange

import (
	"strings"

	"spadework/engine/geom"
)

// WriteGeoJSON writes a survey as GeoJSON (RFC 7946) in site coordinates: metres
// east, north and up. They are no longitudes and latitudes, which RFC 7946,
// section 4, wants agreed on: the member "site_coordinates" declares them, and
// readers of maps must not be given the file without that agreement.
func WriteGeoJSON(name string, s Survey) []byte {
	w := &geoWriter{}
	w.b.WriteString(`{"type":"FeatureCollection","site_coordinates":{"unit":"m","axes":["east","north","up"]},"name":` + quotedJSON(name) + `,"features":[`)
	for _, p := range s.Points {
		w.feature("point", p.ID, p.Words, `"Point"`, func() { w.position(p.At, p.Known) })
	}
	for _, l := range s.Lines {
		if l.Kind == DigBottom {
			w.more = l.Dig
			w.feature(string(l.Kind), l.ID, l.Words, `"Polygon"`, func() { w.ring(l.Points, l.Known) })
			w.more = DigFacts{}
			continue
		}
		w.feature(string(l.Kind), l.ID, l.Words, `"LineString"`, func() { w.list(l.Points, l.Known) })
	}
	for _, one := range s.Surfaces {
		w.feature("surface", one.Name, "", `"MultiPolygon"`, func() { w.faces(one) })
	}
	w.b.WriteString("\n]}\n")
	return []byte(w.b.String())
}

// geoWriter writes features, one a line.
type geoWriter struct {
	b    strings.Builder
	n    int
	more DigFacts // of the feature being written
}

func (w *geoWriter) feature(kind, id, words, geometry string, coordinates func()) {
	if w.n++; w.n > 1 {
		w.b.WriteByte(',')
	}
	w.b.WriteString("\n" + `{"type":"Feature","properties":{"kind":` + quotedJSON(kind) + `,"id":` + quotedJSON(id) + `,"words":` + quotedJSON(words))
	for _, p := range w.more.properties() {
		if text, told := p.text(); told && p.word != nil {
			w.b.WriteString(`,"` + p.name + `":` + quotedJSON(text))
		} else if told {
			w.b.WriteString(`,"` + p.name + `":` + text)
		}
	}
	w.b.WriteString(`},"geometry":{"type":` + geometry + `,"coordinates":`)
	coordinates()
	w.b.WriteString("}}")
}

// quotedJSON is a string of JSON (RFC 8259, section 7).
func quotedJSON(s string) string {
	var b strings.Builder
	b.WriteByte('"')
	for _, r := range s {
		switch {
		case r == '"' || r == '\\':
			b.WriteString(`\` + string(r))
		case r < ' ':
			b.WriteString(`\u00` + string("0123456789abcdef"[r>>4]) + string("0123456789abcdef"[r&15]))
		default:
			b.WriteRune(r)
		}
	}
	return b.String() + `"`
}

func (w *geoWriter) position(p geom.Point3, known bool) {
	w.b.WriteString("[" + figure(p.X) + "," + figure(p.Y))
	if known {
		w.b.WriteString("," + figure(p.Z))
	}
	w.b.WriteByte(']')
}

func (w *geoWriter) list(points []geom.Point3, known bool) {
	w.b.WriteByte('[')
	for i, p := range points {
		if i > 0 {
			w.b.WriteByte(',')
		}
		w.position(p, known)
	}
	w.b.WriteByte(']')
}

// ring writes a closed ring, its first position repeated.
func (w *geoWriter) ring(points []geom.Point3, known bool) {
	w.b.WriteByte('[')
	w.list(append(points[:len(points):len(points)], points[0]), known)
	w.b.WriteByte(']')
}

func (w *geoWriter) faces(s SurveySurface) {
	w.b.WriteByte('[')
	for i, f := range s.Faces {
		if i > 0 {
			w.b.WriteByte(',')
		}
		w.ring([]geom.Point3{s.Points[f[0]], s.Points[f[1]], s.Points[f[2]]}, true)
	}
	w.b.WriteByte(']')
}
