package dig

import (
	"testing"

	"spadework/engine/geom"
	"spadework/engine/pipe"
	"spadework/engine/unit"
)

// sewer is the run of NAVEDTRA 14070 fig. 10-19 (read): invert 122.87 at 9+00,
// 2.18 % falling towards lower stations. Its line starts at 5+75.
func sewer() Excavation {
	return Excavation{
		ID: "sewer", Kind: Trench, Words: "INV 122.87 @ 9+00, 2.18 %",
		Line: feetLine(575, 325), Width: ft[unit.Length](2.5),
		Bottom: Bottom{Rule: ByInvert}, Fall: -0.0218,
		Inverts: []Invert{{Station: ft[unit.Station](325), In: ft[unit.Elevation](122.87), Out: ft[unit.Elevation](122.87)}},
	}
}

// bottomsAt are the bottoms of a dig by station, both in feet.
func bottomsAt(d Dig, interval float64) map[float64]float64 {
	out := map[float64]float64{}
	for _, n := range d.Points(ft[unit.Length](interval)) {
		out[float64(int(inFeet(n.Station)*100+0.5))/100] = inFeet(n.Bottom)
	}
	return out
}

func TestSewerInverts(t *testing.T) {
	d := resolve(t, sewer(), Site{Existing: level(float64(unit.Foot) * 127)})
	got := bottomsAt(d, 25)
	// NAVEDTRA 14070 fig. 10-19 (read: 121.78); the rest exact from its inputs.
	for station, want := range map[float64]float64{
		900: 122.87, 850: 121.78, 800: 120.69, 750: 119.60, 700: 118.51, 650: 117.42, 600: 116.33, 575: 115.785,
	} {
		near(t, "invert ft", got[station-575], want, 1e-9)
	}
}

func TestSewerTrenchBottom(t *testing.T) {
	x := sewer()
	e, _ := pipe.Find("ASTM D3034", "SDR 35", 8*unit.Inch)
	x.Pipe, x.Bedding = &e.Section, 4*unit.Inch
	d := resolve(t, x, Site{Existing: level(float64(unit.Foot) * 127)})
	got := bottomsAt(d, 25)
	near(t, "bottom ft", got[325], 122.87-4.24/12, 1e-9)
	// Level plane at 131.40: rods to the trench bottom (identity, exact).
	for station, rod := range map[float64]float64{900: 8.883, 875: 9.428, 850: 9.973, 825: 10.518, 800: 11.063} {
		near(t, "131.40 − bottom ft", 131.40-got[station-575], rod, 0.0005)
	}
}

func TestPipelineCuts(t *testing.T) {
	x := Excavation{
		ID: "pipeline", Kind: Trench, Words: "INV", Line: feetLine(0, 564), Width: ft[unit.Length](2),
		Bottom: Bottom{Rule: ByInvert},
		Inverts: []Invert{
			{0, ft[unit.Elevation](160.85), ft[unit.Elevation](160.85)},
			{ft[unit.Station](564), ft[unit.Elevation](159.72), ft[unit.Elevation](159.72)},
		},
	}
	d := resolve(t, x, Site{})
	got := bottomsAt(d, 100)
	// Ghilani & Wolf prob. 23.11: HI 167.48 from BM 163.42 + BS 4.06 (inputs
	// read, outputs exact to 0.005 ft).
	for _, c := range []struct{ station, groundRod, gradeRod, cut float64 }{
		{0, 5.31, 6.6300, 1.32}, {100, 5.32, 6.8304, 1.51}, {200, 5.35, 7.0307, 1.68}, {300, 5.85, 7.2311, 1.38},
		{400, 5.84, 7.4314, 1.59}, {500, 6.73, 7.6318, 0.90}, {564, 6.73, 7.7600, 1.03},
	} {
		near(t, "HI − bottom ft", 167.48-got[c.station], c.gradeRod, 0.00005)
		near(t, "ground − bottom ft", 167.48-c.groundRod-got[c.station], c.cut, 0.005)
	}
}

// TestWaringDrain: Waring, Draining for Profit, 1867 (read; three misprints
// corrected), levels given down from a level line of sight, here 0 ft.
func TestWaringDrain(t *testing.T) {
	from := []float64{0, 82, 39, 65, 51, 43, 47, 32}
	drain := []float64{20.70, 19.06, 18.28, 16.98, 16.70, 16.46, 16.20, 16.02}
	ground := []float64{18.20, 15.44, 14.36, 12.85, 12.18, 11.79, 11.69, 11.55}
	depth := []float64{2.50, 3.62, 3.92, 4.13, 4.52, 4.67, 4.51, 4.47}
	g := facets{dir: geom.Vector{X: 1}}
	x := Excavation{ID: "drain", Kind: Trench, Words: "drain", Width: 0.3, Bottom: Bottom{Rule: ByInvert}}
	var stations []float64
	s := 0.0
	for i, step := range from {
		s += step
		stations = append(stations, s)
		at := ft[float64](s)
		x.Line = append(x.Line, geom.Point{X: at})
		g.xs, g.zs = append(g.xs, at), append(g.zs, ft[float64](-ground[i]))
		if i == 0 || i == 3 || i == 7 {
			z := ft[unit.Elevation](-drain[i])
			x.Inverts = append(x.Inverts, Invert{unit.Station(at), z, z})
		}
	}
	d := resolve(t, x, Site{Existing: facets{dir: g.dir, xs: append([]float64{-1e3}, append(g.xs, 1e3)...), zs: append([]float64{g.zs[0]}, append(g.zs, g.zs[7])...)}})
	got := bottomsAt(d, 0)
	for i := range stations {
		// Printed to 0.01 ft from rates rounded to 0.01 %.
		near(t, "line → drain ft", -got[stations[i]], drain[i], 0.0051)
		z, _ := g.Height(x.Line[i])
		near(t, "depth ft", inFeet(z)-got[stations[i]], depth[i], 0.0051)
	}
	// Exact: basin → 3 3.72/186 = 2.000 %, 3 → 7 0.96/173 = 0.555 %.
	near(t, "grade basin → 3", d.Parts[0].Grade, 3.72/186, 1e-12)
	near(t, "grade 3 → 7", d.Parts[6].Grade, 0.96/173, 1e-12)
}

func TestGradeFromStation(t *testing.T) {
	// Grade 95.00 at 50+00 falling 2 %; HI 108.5: grade rod 13.50, at 55+00
	// 23.50 (read).
	x := Excavation{
		ID: "grade", Kind: Trench, Words: "95.00 @ 50+00", Line: feetLine(5000, 500), Width: 1, Fall: 0.02,
		Bottom: Bottom{Rule: ByElevation, Elevation: ft[unit.Elevation](95)},
	}
	got := bottomsAt(resolve(t, x, Site{}), 0)
	near(t, "rod at 50+00 ft", 108.5-got[0], 13.50, 1e-9)
	near(t, "rod at 55+00 ft", 108.5-got[500], 23.50, 1e-9)
}

func TestLevelness(t *testing.T) {
	// 25 Pa. Code 73.52: bottom level to 2 in per 100 ft (read); over 60 ft that
	// is 1.2 in = 0.10 ft (exact).
	tol := Tolerance{LevelOver: 2.0 / 1200}
	got := tol.Levelness(60 * unit.Foot)
	near(t, "Levelness(60 ft) in", float64(got/unit.Inch), 1.2, 1e-12)
	near(t, "Levelness(60 ft) ft", inFeet(got), 0.10, 1e-12)
}

func TestInletOverOutlets(t *testing.T) {
	// 25 Pa. Code 73.42: inlet at least 1 in above outlets at one level (read).
	inlet := unit.Elevation(0.0254)
	x := footing()
	x.Kind, x.Bottom = Box, Bottom{Rule: ByInvert}
	x.Outlets = &Outlets{Count: 5, Level: 0, Inlet: &inlet, LeastInletAbove: unit.Inch, Base: 0.1}
	resolve(t, x, Site{})
	inlet -= 0.001
	if f := faultOf(t, x, Site{}); f.What.Key != "dig.inlet_low" {
		t.Errorf("inlet 0.976 in over the outlets: %v, want dig.inlet_low", f)
	}
}
