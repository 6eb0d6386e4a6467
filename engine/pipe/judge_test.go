package pipe

import (
	"strings"
	"testing"

	"spadework/engine/geom"
	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// rules are the rules that found something.
func rules(found []phrase.Finding) string {
	var out []string
	for _, f := range found {
		out = append(out, f.Rule)
	}
	return strings.Join(out, " ")
}

// sewer is an 8 in SDR 35 sewer at a fall, laid as the limits want it.
func sewer(fall unit.Grade) Pipeline {
	e, _ := Find("ASTM D3034", "SDR 35", 8*unit.Inch)
	return Pipeline{
		ID: "S", Purpose: Sanitary, Section: &e.Section, Nominal: e.Nominal, Bedding: 4 * unit.Inch, Width: 30 * unit.Inch,
		Widths: ByASTM, Reaches: []Reach{{"1", 0, 30, fall}},
	}
}

func TestJudgeBothSides(t *testing.T) {
	with := func(p Pipeline, change func(*Pipeline)) Pipeline {
		change(&p)
		return p
	}
	cable := func(cover float64, m Method, under Place) Pipeline {
		return Pipeline{ID: "E", Purpose: Cable, Method: m, Under: under, Cover: &LeastCover{unit.Length(cover) * unit.Inch, 3}}
	}
	fast := SlopeFor(15*unit.FootPerSecond, sewer(0).Section.Inside(), DefaultRoughness)
	_, full := Conduit{sewer(0).Section.Inside(), DefaultRoughness, 0.01}.Full()
	for _, c := range []struct {
		name string
		p    Pipeline
		want string
	}{
		{"good", sewer(0.01), ""},
		{"at the least slope", sewer(0.0040), ""},
		{"under the least slope", sewer(0.00399), "pipe_least_slope"},
		{"level", sewer(0), "pipe_reverse"},
		{"back", sewer(-0.001), "pipe_reverse"},
		{"19.9 %", sewer(0.199), "pipe_fast"},
		{"15 ft/s", sewer(fast), ""},
		{"over 15 ft/s", sewer(fast * 1.0001), "pipe_fast"},
		{"20 %", sewer(0.20), "pipe_anchors pipe_fast"},
		{"full", with(sewer(0.01), func(p *Pipeline) { p.Flow = full }), ""},
		{"over full", with(sewer(0.01), func(p *Pipeline) { p.Flow = full * 1.001 }), "pipe_over_full"},
		{"rough", with(sewer(0.0040), func(p *Pipeline) { p.Roughness = 0.015 }), "pipe_slow"},
		{"too little bedding", with(sewer(0.01), func(p *Pipeline) { p.Bedding = 3.9 * unit.Inch }), "pipe_bedding"},
		{"100 mm are 4 in", with(sewer(0.01), func(p *Pipeline) { p.Bedding = 100 * unit.Millimetre }), ""},
		{"rock", with(sewer(0.01), func(p *Pipeline) { p.Rock = true }), "pipe_bedding"},
		{"narrow", with(sewer(0.01), func(p *Pipeline) { p.Width = 24.39 * unit.Inch }), "pipe_width"},
		{"wide enough", with(sewer(0.01), func(p *Pipeline) { p.Width = 24.4 * unit.Inch }), ""}, // 8.4 + 16
		{"drop", with(sewer(0.01), func(p *Pipeline) { p.Drops = []Drop{{5, 0.05}, {6, 0}} }), ""},
		{"drop the wrong way", with(sewer(0.01), func(p *Pipeline) { p.Drops = []Drop{{5, -0.001}} }), "pipe_drop_reverse"},
		{"no pipe", with(sewer(0.01), func(p *Pipeline) { p.Section = nil }), "pipe_no_pipe"},
		{"no purpose", with(sewer(0.01), func(p *Pipeline) { p.Purpose = "" }), "pipe_no_purpose"},
		{"no row", with(sewer(0.02), func(p *Pipeline) { p.Nominal = 6 * unit.Inch }), "pipe_no_row"},
		{"building drain at 1/16", with(sewer(1.0/192), func(p *Pipeline) { p.Purpose = BuildingDrain }), ""},
		{"building drain under it", with(sewer(0.0052), func(p *Pipeline) { p.Purpose = BuildingDrain }), "pipe_least_slope"},
		{"water", with(sewer(-0.01), func(p *Pipeline) { p.Purpose = Water }), ""},
		// NEC table 300.5, on both sides of each figure.
		{"cable", cable(24, DirectBurial, ""), ""},
		{"shallow cable", cable(23.9, DirectBurial, ""), "pipe_cable_cover"},
		{"method not told", cable(24, "", ""), "pipe_no_method"},
		{"method not told, shallow", cable(18, "", ""), "pipe_no_method pipe_cable_cover"},
		{"metal", cable(6, RigidMetal, ""), ""},
		{"shallow metal", cable(5.9, RigidMetal, ""), "pipe_cable_cover"},
		{"plastic", cable(18, PlasticConduit, ""), ""},
		{"shallow plastic", cable(17.9, PlasticConduit, ""), "pipe_cable_cover"},
		{"street", cable(23.9, RigidMetal, Street), "pipe_cable_cover"},
		{"drive", cable(18, RigidMetal, DwellingDrive), ""},
		{"ground not known", Pipeline{ID: "E", Purpose: Cable, Method: DirectBurial}, "pipe_no_cover"},
	} {
		if got := rules(Judge(c.p)); got != c.want {
			t.Errorf("Judge(%s) found %q, want %q", c.name, got, c.want)
		}
	}
}

func TestJudgeSays(t *testing.T) {
	found := Judge(sewer(0.0030))
	if len(found) != 1 {
		t.Fatalf("Judge found %v", found)
	}
	f := found[0]
	style := unit.Style{System: unit.Imperial}
	const want = "S: from 0+00 to 0+98.43 the pipe of 0.67 ft falls 0.3 %; the least is 0.4 %"
	if got := f.What.Render(phrase.English, style); got != want {
		t.Errorf("Judge says %q, want %q", got, want)
	}
	if f.Clause != "35 Ill. Adm. Code 370.320(c)" || f.Measured != unit.Grade(0.0030) || f.Limit != unit.Grade(0.0040) {
		t.Errorf("Judge found %+v", f)
	}
	for _, p := range []Pipeline{sewer(0.2), {ID: "E", Purpose: Cable}, {ID: "N", Section: sewer(0).Section}, sewer(-1)} {
		for _, f := range Judge(p) {
			for _, m := range []phrase.Message{f.What, f.Remedy, f.Decides} {
				for _, lang := range []phrase.Language{phrase.English, phrase.Spanish} {
					if text := m.Render(lang, style); text == string(m.Key) || text == "" {
						t.Errorf("%s has no text in %s", m.Key, lang)
					}
				}
			}
		}
	}
	// A figure that was not read says so.
	steep := Judge(sewer(0.2))
	if got := steep[0].What.Render(phrase.English, style); !strings.HasSuffix(got, "[not checked against the current text]") {
		t.Errorf("Judge says %q of a second-hand figure", got)
	}
}

func TestJudgeAbsorption(t *testing.T) {
	good := AbsorptionField{ID: "AF", Falls: []unit.Grade{0, 2.0 / 1200, -2.0 / 1200}, Length: 100 * unit.Foot, Width: 3 * unit.Foot, Apart: 6 * unit.Foot, Count: 2}
	for _, c := range []struct {
		want   string
		change func(*AbsorptionField)
	}{
		{"", func(*AbsorptionField) {}},
		{"pipe_absorption_fall", func(f *AbsorptionField) { f.Falls = []unit.Grade{-2.001 / 1200} }},
		{"pipe_absorption_length", func(f *AbsorptionField) { f.Length += unit.Inch }},
		{"pipe_absorption_width", func(f *AbsorptionField) { f.Width += unit.Inch }},
		{"pipe_absorption_apart", func(f *AbsorptionField) { f.Apart -= unit.Inch }},
		{"", func(f *AbsorptionField) { f.Apart, f.Count = 0, 1 }},
	} {
		f := good
		c.change(&f)
		if got := rules(JudgeAbsorption(f)); got != c.want {
			t.Errorf("JudgeAbsorption(%+v) found %q, want %q", f, got, c.want)
		}
	}
}

// track is a straight pipe 0.2 m wide.
func track(id string, x0, y0, z0, x1, y1, z1 float64) Track {
	return Track{ID: id, Half: 0.1, Known: true, Line: []geom.Point3{{X: x0, Y: y0, Z: z0}, {X: x1, Y: y1, Z: z1}}}
}

func TestSeparation(t *testing.T) {
	sewer := track("S", 0, 0, 10, 100, 0, 9)
	apart, above := WaterApart().Add, WaterAbove().Add // 10 ft and 18 in, 35 Ill. Adm. Code 370.350
	for _, c := range []struct {
		name  string
		water Track
		want  string
	}{
		{"far", track("W", 0, apart+0.2, 5, 100, apart+0.2, 5), ""},
		{"near and low", track("W", 0, apart+0.199, 5, 100, apart+0.199, 5), "pipe_water_near"},
		{"near and high", track("W", 0, 1, 10+above, 100, 1, 10+above), ""},
		{"near and just too low at one end", track("W", 0, 1, 10+above, 100, 1, 9+above-1e-6), "pipe_water_near"},
		{"near and as steep as the sewer", track("W", 0, 1, 10+above, 100, 1, 9+above), ""},
		// Crossing at x = 50, where the sewer lies at 9.5; within 10 ft and the
		// two half widths of it the sewer is 9.532 high.
		{"crosses over", track("W", 50, -30, 9.5+above+0.033, 50, 30, 9.5+above+0.033), ""},
		{"crosses low", track("W", 50, -30, 9.5+above-0.001, 50, 30, 9.5+above-0.001), "pipe_water_near"},
		{"crosses under", track("W", 50, -30, 5, 50, 30, 5), "pipe_water_near"},
		{"not known", Track{ID: "W", Line: track("", 50, -30, 0, 50, 30, 0).Line}, "pipe_water_unknown"},
		{"not known but far", Track{ID: "W", Line: track("", 0, 20, 0, 100, 20, 0).Line}, ""},
	} {
		if got := rules(JudgeNear(sewer, c.water)); got != c.want {
			t.Errorf("JudgeNear(%s) found %q, want %q: %+v", c.name, got, c.want, Near(sewer, c.water))
		}
	}
	n := Near(sewer, track("W", 50, -30, 12, 50, 30, 12))
	near(t, "Near(crossing).Apart", float64(n.Apart), 0, 0)
	near(t, "Near(crossing).At.X", n.At.X, 50, 1e-9)
	n = Near(sewer, track("W", 0, 1, 12, 100, 1, 12))
	near(t, "Near(1 m aside).Apart", float64(n.Apart), 0.8, 1e-12)
	near(t, "Near(1 m aside).Above", float64(n.Above), 2, 1e-12)
}
