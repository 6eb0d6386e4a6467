package exchange

import (
	"bytes"
	"encoding/json"
	"errors"
	"io"
	"strconv"

	"spadework/engine/geom"
	"spadework/engine/phrase"
)

// SiteUnit says what the bare coordinates of a GeoJSON file are, in metres; 0 is
// not told.
type SiteUnit float64

// ReadGeoJSON reads GeoJSON (RFC 7946) whose coordinates are those of the site: by
// its member "site_coordinates", or by told where it has none. Without either it
// is refused, since RFC 7946 coordinates are degrees, of which no dig can be set
// out. Points, lines and polygons come as such; a feature of kind "surface" is
// triangles. Holes of a dig and empty geometries are faults.
func ReadGeoJSON(data []byte, told SiteUnit) (Survey, *phrase.Fault) {
	if len(data) > maxSurveyFile {
		return Survey{}, surveyFault("exchange.survey_large", phrase.Place{}, phrase.With("limit", maxSurveyFile>>20))
	}
	var doc geoDocument
	d := json.NewDecoder(bytes.NewReader(data))
	if err := d.Decode(&doc); err != nil {
		return Survey{}, jsonFault(data, err)
	}
	if _, err := d.Token(); err != io.EOF {
		return Survey{}, surveyFault("exchange.json", placeAt(data, d.InputOffset()), phrase.With("detail", "more after the end"))
	}
	r := &geoReader{unit: float64(told)}
	if doc.Type != "FeatureCollection" {
		r.fail("type", "exchange.geo_type", phrase.With("value", doc.Type))
	}
	r.declared(doc.Site)
	for i, f := range doc.Features {
		if r.fault != nil {
			break
		}
		r.path = "features[" + strconv.Itoa(i) + "]"
		r.feature(f)
	}
	if r.fault != nil {
		return Survey{}, r.fault
	}
	return r.out, nil
}

type geoDocument struct {
	Type     string       `json:"type"`
	Site     *geoSite     `json:"site_coordinates"`
	Features []geoFeature `json:"features"`
}

type geoSite struct {
	Unit string   `json:"unit"`
	Axes []string `json:"axes"`
}

type geoFeature struct {
	Type       string                     `json:"type"`
	ID         json.RawMessage            `json:"id"`
	Properties map[string]json.RawMessage `json:"properties"`
	Geometry   *struct {
		Type        string          `json:"type"`
		Coordinates json.RawMessage `json:"coordinates"`
	} `json:"geometry"`
}

// jsonFault is what encoding/json says, with its place.
func jsonFault(data []byte, err error) *phrase.Fault {
	offset := int64(len(data))
	var syntax *json.SyntaxError
	var kind *json.UnmarshalTypeError
	switch {
	case errors.As(err, &syntax):
		offset = syntax.Offset - 1
	case errors.As(err, &kind):
		offset = kind.Offset - 1
	}
	return surveyFault("exchange.json", placeAt(data, offset), phrase.With("detail", err.Error()))
}

// geoReader reads features; the first fault wins.
type geoReader struct {
	unit   float64
	path   string
	points int
	out    Survey
	fault  *phrase.Fault
}

func (r *geoReader) fail(member string, key phrase.Key, args ...phrase.Arg) {
	if r.fault == nil {
		path := r.path
		if member != "" && path != "" {
			path += "."
		}
		r.fault = surveyFault(key, phrase.Place{Path: path + member}, args...)
	}
}

// siteUnits are the units that site coordinates may be declared in.
var siteUnits = map[string]float64{"m": 1, "ft": linearUnits["foot"], "us_survey_ft": linearUnits["USSurveyFoot"]}

// SiteUnitNamed is a unit of site coordinates by its name: m, ft, us_survey_ft.
func SiteUnitNamed(name string) (SiteUnit, bool) {
	v, ok := siteUnits[name]
	return SiteUnit(v), ok
}

func (r *geoReader) declared(s *geoSite) {
	switch {
	case s == nil && r.unit == 0:
		r.fail("", "exchange.geo_degrees")
	case s == nil:
	case len(s.Axes) != 3 || s.Axes[0] != "east" || s.Axes[1] != "north" || s.Axes[2] != "up":
		r.fail("site_coordinates.axes", "exchange.geo_axes")
	default:
		v, ok := siteUnits[s.Unit]
		if !ok {
			r.fail("site_coordinates.unit", "exchange.geo_unit", phrase.With("value", s.Unit))
		}
		if r.unit != 0 && r.unit != v {
			r.fail("site_coordinates.unit", "exchange.geo_other_unit", phrase.With("value", s.Unit))
		}
		r.unit = v
	}
}

// word is a text among the properties, "" none.
func (f geoFeature) word(name string) string {
	var s string
	if json.Unmarshal(f.Properties[name], &s) == nil {
		return s
	}
	var n json.Number
	if json.Unmarshal(f.Properties[name], &n) == nil {
		return n.String()
	}
	return ""
}

func (r *geoReader) feature(f geoFeature) {
	if f.Type != "Feature" {
		r.fail("type", "exchange.geo_type", phrase.With("value", f.Type))
		return
	}
	if f.Geometry == nil {
		r.out.Counts.Skipped++
		return
	}
	id, words := f.word("id"), f.word("words")
	raw := f.Geometry.Coordinates
	switch f.Geometry.Type {
	case "Point":
		var p []float64
		if r.decode(raw, &p) {
			if at, known, ok := r.position(p); ok {
				r.out.Points = append(r.out.Points, SurveyPoint{ID: id, At: at, Known: known, Words: words})
			}
		}
	case "LineString":
		kind := BreakLine
		if f.word("kind") == string(Alignment) {
			kind = Alignment
		}
		var list [][]float64
		if r.decode(raw, &list) {
			r.line(SurveyLine{ID: id, Kind: kind, Words: words}, list, 2)
		}
	case "Polygon":
		var rings [][][]float64
		if r.decode(raw, &rings) {
			r.polygon(SurveyLine{ID: id, Kind: DigBottom, Words: words, Dig: r.facts(f)}, rings)
		}
	case "MultiPolygon":
		var list [][][][]float64
		if f.word("kind") != "surface" {
			r.out.Counts.Skipped++
		} else if r.decode(raw, &list) {
			r.surface(id, list)
		}
	default:
		r.out.Counts.Skipped++
	}
}

// facts are what the properties of a dig tell; what is no such fact is counted.
func (r *geoReader) facts(f geoFeature) DigFacts {
	var out DigFacts
	for _, p := range out.properties() {
		if text := f.word(p.name); text != "" && !p.take(text, r.unit) {
			r.out.Counts.Skipped++
		}
	}
	return out
}

func (r *geoReader) decode(raw json.RawMessage, into any) bool {
	if err := json.Unmarshal(raw, into); err != nil {
		r.fail("geometry.coordinates", "exchange.geo_position")
		return false
	}
	return true
}

// position is [east, north] or [east, north, up].
func (r *geoReader) position(v []float64) (p geom.Point3, known, ok bool) {
	if len(v) != 2 && len(v) != 3 {
		r.fail("geometry.coordinates", "exchange.geo_position")
		return p, false, false
	}
	if r.points++; r.points > maxSurveyPoints {
		r.fail("geometry.coordinates", "exchange.survey_points", phrase.With("limit", maxSurveyPoints))
		return p, false, false
	}
	p = geom.Point3{X: v[0] * r.unit, Y: v[1] * r.unit}
	if len(v) == 3 {
		p.Z, known = v[2]*r.unit, true
	}
	if !inside(p.X) || !inside(p.Y) || !inside(p.Z) {
		r.fail("geometry.coordinates", "exchange.geo_far")
		return p, false, false
	}
	return p, known, true
}

// line reads the positions of a line; it has elevations only if all have.
func (r *geoReader) line(l SurveyLine, list [][]float64, least int) {
	if len(list) < least {
		r.fail("geometry.coordinates", "exchange.geo_short", phrase.With("count", len(list)))
		return
	}
	l.Known = true
	for _, v := range list {
		p, known, ok := r.position(v)
		if !ok {
			return
		}
		l.Known = l.Known && known
		l.Points = append(l.Points, p)
	}
	r.out.Lines = append(r.out.Lines, l)
}

// polygon reads the one ring of a dig, whose last position repeats its first.
func (r *geoReader) polygon(l SurveyLine, rings [][][]float64) {
	if len(rings) != 1 {
		r.fail("geometry.coordinates", "exchange.geo_rings", phrase.With("count", len(rings)))
		return
	}
	if ring, ok := r.closed(rings[0], 4); ok {
		r.line(l, ring, 3)
	}
}

// closed takes the repeated position off a ring.
func (r *geoReader) closed(ring [][]float64, least int) ([][]float64, bool) {
	n := len(ring)
	if n < least || len(ring[0]) != len(ring[n-1]) {
		r.fail("geometry.coordinates", "exchange.geo_open")
		return nil, false
	}
	for i, v := range ring[0] {
		if ring[n-1][i] != v {
			r.fail("geometry.coordinates", "exchange.geo_open")
			return nil, false
		}
	}
	return ring[:n-1], true
}

// surface reads triangles, whose equal corners become one point.
func (r *geoReader) surface(name string, list [][][][]float64) {
	out := SurveySurface{Name: name}
	index := map[geom.Point3]int{}
	for _, polygon := range list {
		if len(polygon) != 1 || len(polygon[0]) != 4 {
			r.fail("geometry.coordinates", "exchange.geo_triangle")
			return
		}
		ring, ok := r.closed(polygon[0], 4)
		if !ok {
			return
		}
		var face [3]int
		for i, v := range ring {
			p, known, ok := r.position(v)
			if !ok || !known {
				r.fail("geometry.coordinates", "exchange.geo_triangle")
				return
			}
			k, there := index[p]
			if !there {
				k = len(out.Points)
				index[p] = k
				out.Points = append(out.Points, p)
			}
			face[i] = k
		}
		out.Faces = append(out.Faces, turned(face, out.Points))
	}
	r.out.Surfaces = append(r.out.Surfaces, out)
}
