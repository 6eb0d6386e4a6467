package exchange

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"spadework/engine/geom"
)

// judge is what a test and a law have in common.
type judge interface {
	Helper()
	Fatal(args ...any)
	Errorf(format string, args ...any)
	Fatalf(format string, args ...any)
}

// roundTrip is what a survey becomes, written and read again.
type roundTrip struct {
	name string
	pass func(t judge, s Survey) Survey
}

var roundTrips = []roundTrip{
	{"LandXML", func(t judge, s Survey) Survey {
		out, f := ReadLandXML(WriteLandXML(`a "site" & more`, s))
		if f != nil {
			t.Fatal(f)
		}
		return out
	}},
	{"GeoJSON", func(t judge, s Survey) Survey {
		data := WriteGeoJSON(`a "site"`, s)
		if !json.Valid(data) {
			t.Fatalf("not JSON: %.200s", data)
		}
		out, f := ReadGeoJSON(data, 0)
		if f != nil {
			t.Fatal(f)
		}
		return out
	}},
}

// invented is a survey with one of everything at real eastings.
func invented() Survey {
	at := func(x, y, z float64) geom.Point3 {
		return geom.Point3{X: 512345.123456 + x, Y: 4902218.654321 + y, Z: z}
	}
	above, below, width := 0.0127, 0.0, 0.75
	return Survey{
		Points: []SurveyPoint{{ID: "F7/corner-1", At: at(1, 2, 98.765432), Known: true, Words: `good "quoted" & <odd>`}, {ID: "n", At: at(3, 4, 0)}},
		Lines: []SurveyLine{
			{ID: "F7/1", Kind: DigBottom, Words: "B/FTG 4'-4\"", Known: true, Dig: DigFacts{"footing", &above, &below, nil}, Points: []geom.Point3{at(0, 0, 97.1), at(2, 0, 97.1), at(2, 2, 97.2), at(0, 2, 97.2)}},
			{ID: "S1/1", Kind: DigBottom, Known: true, Dig: DigFacts{Kind: "strip", Width: &width}, Points: []geom.Point3{at(0, 0, 97), at(9, 0, 97), at(9, 0.75, 97)}},
			{ID: "kerb", Kind: BreakLine, Known: true, Points: []geom.Point3{at(0, 0, 99), at(5, 5, 99.25)}},
		},
		Surfaces: []SurveySurface{{Name: "existing", Points: []geom.Point3{at(0, 0, 100), at(10, 0, 101), at(10, 10, 102), at(0, 10, 100.5)}, Faces: [][3]int{{0, 1, 2}, {0, 2, 3}}}},
	}
}

// TestRoundTripsKeepATenthOfAMillimetre: out and in gives the same digs and ground.
func TestRoundTripsKeepATenthOfAMillimetre(t *testing.T) {
	for _, r := range roundTrips {
		in := invented()
		sameSurvey(t, r.name, r.pass(t, in), in)
	}
}

const tenthOfAMillimetre = 1e-4

func near3(a, b geom.Point3) bool {
	for _, d := range []float64{a.X - b.X, a.Y - b.Y, a.Z - b.Z} {
		if !(d <= tenthOfAMillimetre && -d <= tenthOfAMillimetre) {
			return false
		}
	}
	return true
}

// sameFacts compares what is told of digs: the same facts, lengths to 0.1 mm.
func sameFacts(a, b DigFacts) bool {
	if a.Kind != b.Kind {
		return false
	}
	for _, p := range [][2]*float64{{a.Above, b.Above}, {a.Below, b.Below}, {a.Width, b.Width}} {
		if (p[0] == nil) != (p[1] == nil) || p[0] != nil && !(math.Abs(*p[0]-*p[1]) <= tenthOfAMillimetre) {
			return false
		}
	}
	return true
}

func sameSurvey(t judge, name string, got, want Survey) {
	t.Helper()
	if len(got.Points) != len(want.Points) || len(got.Lines) != len(want.Lines) || len(got.Surfaces) != len(want.Surfaces) {
		t.Fatalf("%s: %d points, %d lines, %d surfaces, want %d, %d, %d", name, len(got.Points), len(got.Lines), len(got.Surfaces), len(want.Points), len(want.Lines), len(want.Surfaces))
	}
	for i, p := range want.Points {
		if g := got.Points[i]; g.ID != p.ID || g.Words != p.Words || g.Known != p.Known || !near3(g.At, p.At) {
			t.Errorf("%s: point %+v, want %+v (tol 0.1 mm)", name, g, p)
		}
	}
	for i, l := range want.Lines {
		g := got.Lines[i]
		if g.ID != l.ID || g.Kind != l.Kind || g.Words != l.Words || g.Known != l.Known || len(g.Points) != len(l.Points) {
			t.Errorf("%s: line %+v, want %+v", name, g, l)
			continue
		}
		if !sameFacts(g.Dig, l.Dig) {
			t.Errorf("%s: %s is told as %+v, want %+v", name, l.ID, g.Dig, l.Dig)
		}
		for k := range l.Points {
			if !near3(g.Points[k], l.Points[k]) {
				t.Errorf("%s: %s point %d at %v, want %v (tol 0.1 mm)", name, l.ID, k, g.Points[k], l.Points[k])
			}
		}
	}
	for i, s := range want.Surfaces {
		g := got.Surfaces[i]
		if g.Name != s.Name || len(g.Faces) != len(s.Faces) {
			t.Errorf("%s: surface %q with %d faces, want %q with %d", name, g.Name, len(g.Faces), s.Name, len(s.Faces))
			continue
		}
		for k, f := range s.Faces {
			for c := range f {
				if !near3(g.Points[g.Faces[k][c]], s.Points[f[c]]) {
					t.Errorf("%s: face %d corner %d at %v, want %v (tol 0.1 mm)", name, k, c, g.Points[g.Faces[k][c]], s.Points[f[c]])
				}
			}
		}
	}
}

// TestWrongGeoJSONIsOneFault: each with its key and its place.
func TestWrongGeoJSONIsOneFault(t *testing.T) {
	const site = `{"type":"FeatureCollection","site_coordinates":{"unit":"m","axes":["east","north","up"]},"features":[`
	feature := func(geometry string) string {
		return site + `{"type":"Feature","properties":{},"geometry":` + geometry + `}]}`
	}
	for _, c := range []struct{ name, data, key, place string }{
		{"no file", ``, "exchange.json", "1:1"},
		{"cut off", site, "exchange.json", ""},
		{"degrees", `{"type":"FeatureCollection","features":[]}`, "exchange.geo_degrees", ""},
		{"a feature alone", `{"type":"Feature","site_coordinates":{"unit":"m","axes":["east","north","up"]}}`, "exchange.geo_type", "type"},
		{"north first", strings.Replace(site, `"east","north"`, `"north","east"`, 1) + `]}`, "exchange.geo_axes", "site_coordinates.axes"},
		{"a strange unit", strings.Replace(site, `"m"`, `"chain"`, 1) + `]}`, "exchange.geo_unit", "site_coordinates.unit"},
		{"one coordinate", feature(`{"type":"Point","coordinates":[1]}`), "exchange.geo_position", "features[0].geometry.coordinates"},
		{"text for figures", feature(`{"type":"Point","coordinates":["a","b"]}`), "exchange.geo_position", "features[0].geometry.coordinates"},
		{"too far", feature(`{"type":"Point","coordinates":[1e300,0]}`), "exchange.geo_far", "features[0].geometry.coordinates"},
		{"a line of one", feature(`{"type":"LineString","coordinates":[[1,2]]}`), "exchange.geo_short", "features[0].geometry.coordinates"},
		{"a hole", feature(`{"type":"Polygon","coordinates":[[[0,0],[9,0],[9,9],[0,0]],[[1,1],[2,1],[2,2],[1,1]]]}`), "exchange.geo_rings", "features[0].geometry.coordinates"},
		{"an open ring", feature(`{"type":"Polygon","coordinates":[[[0,0],[9,0],[9,9],[0,9]]]}`), "exchange.geo_open", "features[0].geometry.coordinates"},
		{"two documents", site + `]} {}`, "exchange.json", ""},
	} {
		_, f := ReadGeoJSON([]byte(c.data), 0)
		if f == nil {
			t.Errorf("%s: no fault, want %s", c.name, c.key)
			continue
		}
		if string(f.What.Key) != c.key || c.place != "" && !strings.HasSuffix(f.Place.String(), c.place) {
			t.Errorf("%s: %s at %q, want %s at %q", c.name, f.What.Key, f.Place, c.key, c.place)
		}
	}
}

func TestGeoJSONInFeet(t *testing.T) {
	foot, _ := SiteUnitNamed("ft")
	s, f := ReadGeoJSON([]byte(`{"type":"FeatureCollection","features":[{"type":"Feature","properties":{"id":7},"geometry":{"type":"Point","coordinates":[10,20,100]}}]}`), foot)
	if f != nil {
		t.Fatal(f)
	}
	// 1 ft = 0.3048 m exactly (NIST SP 811, appendix B.8).
	if p := s.Points[0]; p.ID != "7" || !near3(p.At, geom.Point3{X: 3.048, Y: 6.096, Z: 30.48}) {
		t.Errorf("point %+v, want 7 at 3.048, 6.096, 30.48", p)
	}
}

func FuzzReadGeoJSON(f *testing.F) {
	f.Add(WriteGeoJSON("x", invented()))
	f.Add([]byte(`{"type":"FeatureCollection","site_coordinates":{"unit":"ft","axes":["east","north","up"]},"features":[{"type":"Feature","geometry":null}]}`))
	f.Fuzz(func(t *testing.T, data []byte) {
		s, fault := ReadGeoJSON(data, 0)
		if fault == nil {
			checkSurvey(t, s)
		}
	})
}

// checkSurvey holds what every survey read keeps: finite places, faces of points
// that are there.
func checkSurvey(t *testing.T, s Survey) {
	t.Helper()
	for _, p := range s.Points {
		if !inside(p.At.X) || !inside(p.At.Y) {
			t.Errorf("a point at %v", p.At)
		}
	}
	for _, one := range s.Surfaces {
		for _, face := range one.Faces {
			for _, k := range face {
				if k < 0 || k >= len(one.Points) {
					t.Fatalf("a face of point %d of %d", k, len(one.Points))
				}
			}
		}
	}
}
