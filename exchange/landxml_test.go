package exchange

import (
	"math"
	"slices"
	"strings"
	"testing"

	"spadework/engine/geom"
)

const landHead = `<?xml version="1.0"?><LandXML xmlns="http://www.landxml.org/schema/LandXML-1.2" version="1.2"><Units><Metric linearUnit="meter"/></Units>`

// TestWrongLandXMLIsOneFault: each with its key and line.
func TestWrongLandXMLIsOneFault(t *testing.T) {
	for _, c := range []struct{ name, data, key string }{
		{"no file", ``, "exchange.xml"},
		{"cut off", landHead, "exchange.xml"},
		{"entities that grow", `<!DOCTYPE lolz [<!ENTITY a "aaaaaaaa"><!ENTITY b "&a;&a;&a;&a;">]><LandXML>&b;</LandXML>`, "exchange.xml_doctype"},
		{"an unknown entity", `<LandXML>&b;</LandXML>`, "exchange.xml"},
		{"deep nesting", strings.Repeat("<a>", 100), "exchange.xml_deep"},
		{"two roots", `<LandXML/><LandXML/>`, "exchange.xml_deep"},
		{"other XML", `<svg/>`, "exchange.xml_root"},
		{"no units", `<LandXML/>`, "exchange.xml_units"},
		{"a strange unit", `<LandXML><Units><Metric linearUnit="chain"/></Units></LandXML>`, "exchange.xml_unit"},
		{"heights in another unit", `<LandXML><Units><Imperial linearUnit="foot" elevationUnit="meter"/></Units></LandXML>`, "exchange.xml_unit"},
		{"one figure", landHead + `<CgPoints><CgPoint name="1">5</CgPoint></CgPoints></LandXML>`, "exchange.xml_figures"},
		{"not a number", landHead + `<CgPoints><CgPoint name="1">5 NaN</CgPoint></CgPoints></LandXML>`, "exchange.xml_figure"},
		{"a grid surface", landHead + `<Surfaces><Surface name="g"><Definition surfType="grid"/></Surface></Surfaces></LandXML>`, "exchange.xml_surface"},
		{"a doubled point", landHead + `<Surfaces><Surface name="g"><Definition surfType="TIN"><Pnts><P id="1">0 0 0</P><P id="1">1 0 0</P></Pnts></Definition></Surface></Surfaces></LandXML>`, "exchange.xml_point_id"},
		{"a face of nothing", landHead + `<Surfaces><Surface name="g"><Definition surfType="TIN"><Pnts><P id="1">0 0 0</P></Pnts><Faces><F>1 2 3</F></Faces></Definition></Surface></Surfaces></LandXML>`, "exchange.xml_no_point"},
		{"a spiral", landHead + `<Alignments><Alignment name="a"><CoordGeom><Spiral/></CoordGeom></Alignment></Alignments></LandXML>`, "exchange.xml_piece"},
		{"a gap", landHead + `<Alignments><Alignment name="a"><CoordGeom><Line><Start>0 0</Start><End>1 0</End></Line><Line><Start>2 0</Start><End>3 0</End></Line></CoordGeom></Alignment></Alignments></LandXML>`, "exchange.xml_gap"},
		{"a vertical curve", landHead + `<Alignments><Alignment name="a"><CoordGeom><Line><Start>0 0</Start><End>1 0</End></Line></CoordGeom><Profile><ProfAlign><ParaCurve length="5">0 1</ParaCurve></ProfAlign></Profile></Alignment></Alignments></LandXML>`, "exchange.xml_vertical"},
		{"a pipe from nowhere", landHead + `<PipeNetworks><PipeNetwork><Pipes><Pipe name="p" refStart="a" refEnd="b"/></Pipes></PipeNetwork></PipeNetworks></LandXML>`, "exchange.xml_no_structure"},
	} {
		_, f := ReadLandXML([]byte(c.data))
		if f == nil {
			t.Errorf("%s: no fault, want %s", c.name, c.key)
			continue
		}
		if string(f.What.Key) != c.key || f.Place.Line == 0 {
			t.Errorf("%s: %s at %q, want %s with a line", c.name, f.What.Key, f.Place, c.key)
		}
	}
}

// TestLandXMLAlignmentAndPipes: northing before easting, feet turned to metres, an
// arc cut within a millimetre, inverts by pipe (LandXML 1.2 schema, types
// PointType, Curve, Invert).
func TestLandXMLAlignmentAndPipes(t *testing.T) {
	s, f := ReadLandXML([]byte(`<LandXML><Units><Imperial linearUnit="foot" diameterUnit="inch"/></Units>
<Alignments><Alignment name="A"><CoordGeom>
<Line><Start>0 0</Start><End>0 100</End></Line>
<Curve rot="ccw"><Start>0 100</Start><Center>50 100</Center><End>50 150</End></Curve>
</CoordGeom><Profile><ProfAlign name="p"><PVI>0 100</PVI><PVI>178.54 98</PVI></ProfAlign></Profile></Alignment></Alignments>
<PipeNetworks><PipeNetwork><Structs>
<Struct name="M1"><Center>10 20</Center><Invert elev="95.5" flowDir="out" refPipe="P1"/></Struct>
<Struct name="M2"><Center>10 120</Center><Invert elev="94.5" flowDir="in" refPipe="P1"/></Struct></Structs>
<Pipes><Pipe name="P1" refStart="M1" refEnd="M2"><CircPipe diameter="12"/></Pipe></Pipes></PipeNetwork></PipeNetworks></LandXML>`))
	if f != nil {
		t.Fatal(f)
	}
	const foot = 0.3048
	l := s.Lines[0]
	if end := l.Points[len(l.Points)-1]; !near3(end, geom.Point3{X: 150 * foot, Y: 50 * foot}) || l.Profile[1][1] != 98*foot {
		t.Errorf("alignment ends at %v, profile %v", end, l.Profile)
	}
	// The arc bulges away from its centre to the south-east: its middle is at
	// 45° below the east, radius 50 ft.
	want := geom.Point{X: (100 + 50*math.Sqrt2/2) * foot, Y: (50 - 50*math.Sqrt2/2) * foot}
	best := math.Inf(1)
	for i := 1; i < len(l.Points); i++ {
		a, b := l.Points[i-1].Plan(), l.Points[i].Plan()
		d := b.Sub(a)
		along := min(1, max(0, want.Sub(a).Dot(d)/d.Dot(d)))
		best = min(best, want.Distance(a.Toward(b, along)))
	}
	if !(best <= 0.001) {
		t.Errorf("the middle of the arc is %.6f m off the line, want within 0.001 m", best)
	}
	p := s.Pipes[0]
	if p.InvertA == nil || p.InvertB == nil || p.Diameter == nil || !(math.Abs(*p.InvertA-95.5*foot) < 1e-9) ||
		!(math.Abs(*p.Diameter-0.3048) < 1e-9) || !(math.Abs(p.End.X-120*foot) < 1e-9) {
		t.Errorf("pipe %+v", p)
	}
}

// landElement is what the schema of LandXML 1.2 asks of an element that is written:
// its attributes (with ! those it must have) and its children in their order. The
// published schema cannot be had from a package, so this is from memory.
var landElements = map[string]struct{ attributes, children string }{
	"LandXML":     {"xmlns! version! date! time! readOnly language", "Units Project Application CgPoints Surfaces"},
	"Units":       {"", "Metric"},
	"Metric":      {"areaUnit! linearUnit! volumeUnit! temperatureUnit! pressureUnit! diameterUnit", ""},
	"Project":     {"name!", ""},
	"Application": {"name!", ""},
	"CgPoints":    {"", "CgPoint"},
	"CgPoint":     {"name desc", ""},
	"Surfaces":    {"", "Surface"},
	"Surface":     {"name! desc", "SourceData Definition"},
	"SourceData":  {"", "Breaklines"},
	"Breaklines":  {"", "Breakline"},
	"Breakline":   {"name desc brkType", "PntList3D Feature"},
	"PntList3D":   {"", ""},
	"Feature":     {"code", "Property"},
	"Property":    {"label! value!", ""},
	"Definition":  {"surfType!", "Pnts Faces"},
	"Pnts":        {"", "P"},
	"P":           {"id!", ""},
	"Faces":       {"", "F"},
	"F":           {"", ""},
}

// TestWrittenLandXMLHasItsStructure: elements, their order and attributes.
func TestWrittenLandXMLHasItsStructure(t *testing.T) {
	root, f := readXML(WriteLandXML(`a "site" & more`, invented()))
	if f != nil {
		t.Fatal(f)
	}
	seen := map[string]bool{}
	var walk func(n *xmlNode)
	walk = func(n *xmlNode) {
		seen[n.name] = true
		rule, known := landElements[n.name]
		if !known {
			t.Errorf("%s: %s is no element that is written", n.at, n.name)
			return
		}
		allowed := strings.Fields(rule.attributes)
		for name := range n.attr {
			if !slices.Contains(allowed, name) && !slices.Contains(allowed, name+"!") {
				t.Errorf("%s: %s has an attribute %s", n.at, n.name, name)
			}
		}
		for _, name := range allowed {
			if must, yes := strings.CutSuffix(name, "!"); yes && n.attr[must] == "" {
				t.Errorf("%s: %s lacks %s", n.at, n.name, must)
			}
		}
		order, last := strings.Fields(rule.children), 0
		for _, m := range n.inner {
			k := slices.Index(order, m.name)
			if k < last {
				t.Errorf("%s: %s stands in %s out of its order", m.at, m.name, n.name)
			}
			last = max(last, k)
			walk(m)
		}
	}
	walk(root)
	if len(seen) != len(landElements) {
		t.Errorf("%d kinds of elements written, want all %d", len(seen), len(landElements))
	}
}

func FuzzReadLandXML(f *testing.F) {
	f.Add(WriteLandXML("x", invented()))
	f.Add([]byte(landHead + `<Alignments><Alignment name="a"><CoordGeom><Curve rot="cw"><Start>0 1</Start><Center>0 0</Center><End>1 0</End></Curve></CoordGeom></Alignment></Alignments></LandXML>`))
	f.Fuzz(func(t *testing.T, data []byte) {
		s, fault := ReadLandXML(data)
		if fault == nil {
			checkSurvey(t, s)
		}
	})
}
