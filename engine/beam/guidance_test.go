package beam_test

import (
	"math"
	"strings"
	"testing"

	"spadework/engine/beam"
	"spadework/engine/geom"
	"spadework/engine/phrase"
	"spadework/engine/unit"
)

func TestGuidanceWords(t *testing.T) {
	words := []string{"rod", "stick_receiver", "sensors_beam", "sensors_touch", "none"} // design 3
	seen := map[string]bool{}
	for i, w := range words {
		g, ok := beam.ParseGuidance(w)
		if !ok || int(g) != i || g.String() != w {
			t.Errorf("ParseGuidance(%q) = %v, %v", w, g, ok)
		}
		seen[english(g.Number())] = true
	}
	if len(seen) != len(words) {
		t.Errorf("%d texts for %d ways of guidance", len(seen), len(words))
	}
	for _, w := range []string{"", "Rod", "stick"} {
		if g, ok := beam.ParseGuidance(w); ok {
			t.Errorf("ParseGuidance(%q) = %v, want none", w, g)
		}
	}
	if got := beam.Guidance(9).String(); got != "" {
		t.Errorf("Guidance(9) = %q, want nothing", got)
	}
}

func TestWhichGuidanceNeedsTheBeam(t *testing.T) {
	want := map[beam.Guidance]bool{beam.ByRod: true, beam.StickReceiver: true, beam.SensorsBeam: true, beam.SensorsTouch: false, beam.NoBeam: false}
	for g, w := range want {
		if got := g.NeedsBeam(); got != w {
			t.Errorf("%s.NeedsBeam() = %v, want %v", g, got, w)
		}
	}
}

func TestNumbersOfEachGuidance(t *testing.T) {
	// Hand-derived, exact: HI 52, 2 % up to the east, laser at the origin.
	pl := beam.Plane{HI: 52, Gradient: geom.Vector{X: 0.02}, Curvature: beam.None}
	teeth := geom.Point{X: 30, Y: 4}
	near(t, "grade rod", float64(pl.GradeRod(teeth, 50)), 2.6, 1e-12, "52 + 0.6 − 50")
	near(t, "clamp, stick plumb", float64(pl.ClampHeight(teeth, geom.Vector{}, 50)), 2.6, 1e-12, "the grade rod")
	near(t, "clamp, receiver 0.5 m back", float64(pl.ClampHeight(teeth, geom.Vector{X: -0.5}, 50)), 2.59, 1e-12, "+ g·offset")
	near(t, "tie", float64(pl.TieDepth(geom.Point{X: 10}, 50)), 2.2, 1e-12, "beam at the tie, not at the dig")
	near(t, "touch", float64(beam.TouchDepth(51.25, 50)), 1.25, 1e-12, "exact")
	near(t, "touch over", float64(beam.TouchDepth(49.5, 50)), -0.5, 1e-12, "exact")
	// 10° out of plumb at 2.5 m: 2.5 (1 − cos 10°) = 37.98 mm.
	near(t, "plumb error", float64(beam.PlumbError(2.5, 10*unit.Degree)), 2.5*(1-math.Cos(math.Pi/18)), 1e-15, "design 4")
}

func TestRodMustReach(t *testing.T) {
	rod := beam.Rod{ID: "R1", Shortest: 1.2, Longest: 4.5}
	for _, c := range []struct {
		reading float64
		want    string // "" reaches
	}{
		{1.2, ""}, {4.5, ""}, {3, ""},
		{1.19, `rod "R1" starts at 1.200`},
		{4.51, `rod "R1" ends at 4.500`},
		{-0.3, "passes 0.300 m under the bottom"},
		{math.NaN(), `no reading for rod "R1"`},
	} {
		m := rod.Reaches(unit.Reading(c.reading))
		if c.want == "" && !m.IsZero() || c.want != "" && !strings.Contains(english(m), c.want) {
			t.Errorf("Reaches(%g) = %q, want %q", c.reading, english(m), c.want)
		}
	}
}

func TestStakeTexts(t *testing.T) {
	// NAVEDTRA 14070 fig. 10-19 (levels 5): hub 126.94, cut 4.07. In feet the crew
	// reads "C 4.07, 10 ft O/S, hub 126.94"; here metres, the style's business.
	s := beam.Stake{Hub: "H9", HubElevation: 126.94, Grade: 122.87, Offset: 10}
	for _, c := range []struct {
		change func(*beam.Stake)
		en, es string
	}{
		{func(*beam.Stake) {}, "C 4.070 m, 10.000 m O/S, hub 126.940 m", "C 4.070 m, a 10.000 m, estaca 126.940 m"},
		{func(s *beam.Stake) { s.Grade = 128.94 }, "F 2.000 m, 10.000 m O/S, hub 126.940 m", "R 2.000 m, a 10.000 m, estaca 126.940 m"},
		{func(s *beam.Stake) { s.Grade = 126.94 }, "GRADE, 10.000 m O/S, hub 126.940 m", "A NIVEL, a 10.000 m, estaca 126.940 m"},
		{func(s *beam.Stake) { s.HasStation = true }, "0+000: C 4.070 m, 10.000 m O/S, hub 126.940 m", "0+000: C 4.070 m, a 10.000 m, estaca 126.940 m"},
	} {
		stake := s
		c.change(&stake)
		m, f := stake.Text()
		if f != nil {
			t.Fatal(f)
		}
		if got := english(m); got != c.en {
			t.Errorf("Text = %q, want %q", got, c.en)
		}
		if got := m.Render(phrase.Spanish, unit.Style{}); got != c.es {
			t.Errorf("Text = %q, want %q", got, c.es)
		}
	}
	near(t, "cut", float64(s.Cut()), 4.07, 1e-12, "read")
}
