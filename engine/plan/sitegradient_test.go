package plan_test

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"spadework/engine/plan"
)

// oneRod is a trench that wants one rod: from a place to another, falling.
func oneRod(id string, from, to [2]float64, invert float64, fall string) string {
	return fmt.Sprintf("[[excavation]]\nid = %q\nkind = \"trench\"\nline = [[%g, %g], [%g, %g]]\nwidth = 0.6\ninverts = [{ station = 0, invert = %g }]\nfall = %q\none_rod = true\ntolerance = \"30 mm\"\n",
		id, from[0], from[1], to[0], to[1], invert, fall)
}

// rodsOf is the rods of a dig in tenths of a millimetre, each once.
func rodsOf(p *plan.Plan, id string) (out []float64, setups []string) {
	for _, n := range p.Numbers {
		if n.Excavation != id {
			continue
		}
		if rod := math.Round(float64(n.Rod) * 1e4); !slices.Contains(out, rod) {
			out = append(out, rod)
		}
		if !slices.Contains(setups, n.Setup) {
			setups = append(setups, n.Setup)
		}
	}
	return out, setups
}

// Two trenches that cross in bearing share a plane (formulations 12: one gradient
// for each two): 1 % down east and 2 % down north is the plane (−0.01, −0.02), by
// hand. Of two that run alike and fall unlike none is shared.
func TestTwoTrenchesShareADialWhereOnePlaneFitsBoth(t *testing.T) {
	east := oneRod("T1", [2]float64{0, 20}, [2]float64{30, 20}, 99, "1 %")
	north := oneRod("T2", [2]float64{10, -20}, [2]float64{10, 10}, 99, "2 %")
	steeper := oneRod("T2", [2]float64{0, 10}, [2]float64{30, 10}, 99, "3 %")
	for _, c := range []struct {
		name, second string
		setups       int
	}{{"across", north, 1}, {"alike", steeper, 2}} {
		p := sitePlan(t, fmt.Sprintf(siteHead, -10, 10)+east+c.second)
		if len(p.Setups) != c.setups || len(p.Unserved) != 0 {
			t.Fatalf("%s: %d set-ups, unserved %v; want %d and none", c.name, len(p.Setups), p.Unserved, c.setups)
		}
		for _, id := range []string{"T1", "T2"} {
			rods, setups := rodsOf(p, id)
			// 1 mm of rod: curvature over the trench's length is under 0.2 mm, the
			// dial's step of 0.001 % over 30 m is 0.3 mm.
			if len(setups) != 1 || !(slices.Max(rods)-slices.Min(rods) <= 10) {
				t.Errorf("%s: %s has rods %v (0.1 mm) from %v, want one rod from one set-up", c.name, id, rods, setups)
			}
		}
		if g := p.Setups[0].Plane.Gradient; c.setups == 1 && !(math.Abs(g.X+0.01) <= 1e-5 && math.Abs(g.Y+0.02) <= 1e-5) {
			t.Errorf("shared dial = %v, want (−0.01, −0.02) to the dial's step", g)
		}
	}
}

// A machine with sensors needs the beam somewhere in its reach, not at the dig: a
// block without a known top over the pad hides the pad from every rod; nodes 5 m
// apart and within 8 m of it see over open ground, unless the block hides these too.
func TestSensorsCatchTheBeamBesideTheDig(t *testing.T) {
	machine := "[[machine]]\nid = \"M1\"\nguidance = %q\nreceiver = \"rec\"\nclamp = [1.0, 3.0]\nmax_reach = 8\ndepth_accuracy = \"4 mm\"\n"
	block := func(half float64) string {
		return fmt.Sprintf("[[obstacle]]\nid = \"B\"\noutline = [[%[1]g, %[2]g], [%[3]g, %[2]g], [%[3]g, %[4]g], [%[1]g, %[4]g]]\n", 20-half, -half, 20+half, half)
	}
	pad := sitePad("P1", 20, 0, 99)
	for _, c := range []struct {
		name, text string
		served     bool
	}{
		{"rod, open", pad, true},
		{"rod, hidden", pad + block(4), false},
		{"sensors, hidden at the dig", pad + block(4) + fmt.Sprintf(machine, "sensors_beam"), true},
		{"sensors, hidden all round", pad + block(14) + fmt.Sprintf(machine, "sensors_beam"), false},
	} {
		p := sitePlan(t, fmt.Sprintf(siteHead, 0, -20)+c.text)
		if served := p.Siting.Count == 1 && len(p.Unserved) == 0; served != c.served {
			t.Errorf("%s: %d set-ups, unserved %v; want served %v", c.name, p.Siting.Count, p.Unserved, c.served)
		}
	}
}

// With sensors too a trench for one rod is served under its own dial and a pad
// under a level beam.
func TestSensorsTakeTheDialOfTheTrench(t *testing.T) {
	machine := "[[machine]]\nid = \"M1\"\nguidance = \"sensors_beam\"\nreceiver = \"rec\"\nclamp = [0.5, 4.0]\nmax_reach = 8\ndepth_accuracy = \"4 mm\"\n"
	p := sitePlan(t, fmt.Sprintf(siteHead, 0, 10)+machine+oneRod("T1", [2]float64{0, 20}, [2]float64{30, 20}, 99, "2 %")+sitePad("P1", 20, 0, 99))
	if len(p.Setups) != 2 || len(p.Unserved) != 0 {
		t.Fatalf("%d set-ups, unserved %v; want a level one and a dialled one", len(p.Setups), p.Unserved)
	}
	for _, s := range p.Setups {
		g := s.Plane.Gradient
		if serves, level := slices.Contains(p.Siting.Setups[slices.IndexFunc(p.Siting.Setups, func(x plan.Sited) bool { return x.ID == s.ID })].Digs, "T1"), s.Level(); serves == level ||
			serves && !(math.Abs(g.X+0.02) <= 1e-5 && math.Abs(g.Y) <= 1e-9) {
			t.Errorf("%s serves T1: %v, level: %v, gradient %v; want T1 under (−0.02, 0), P1 level", s.ID, serves, level, g)
		}
	}
}
