package plan_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"spadework/engine/geom"
	"spadework/engine/plan"
	"spadework/exchange"
)

// site is a small job that can be written at any height, place and turn.
type site struct {
	curvature string
	pads      []pad
	from, to  geom.Point // of a trench
	invert    float64
	fall      float64
	laser     geom.Point
	benchmark geom.Point
	rod       float64
	dialled   bool
	reversed  bool

	up          float64 // everything raised by
	east, north float64 // and shifted by
	turn        float64 // and turned about the benchmark by, radians anticlockwise
}

type pad struct {
	at    geom.Point
	below float64
}

// place is a point of the site where the job puts it.
func (s site) place(p geom.Point) string {
	sin, cos := math.Sincos(s.turn)
	x, y := p.X-s.benchmark.X, p.Y-s.benchmark.Y
	return fmt.Sprintf("[%.6f, %.6f]", s.benchmark.X+x*cos-y*sin+s.east, s.benchmark.Y+x*sin+y*cos+s.north)
}

// bearing is what north of the site is turned to, in degrees.
func (s site) bearing() float64 { return math.Mod(720-s.turn*180/math.Pi, 360) }

// text is the job file.
func (s site) text() string {
	var b strings.Builder
	fmt.Fprintf(&b, "[job]\nname = \"law\"\nunits = \"m\"\ncurvature = %q\ninterval = 7\n", s.curvature)
	fmt.Fprintf(&b, "[[datum]]\nid = \"D\"\nelevation = %.6f\n", 40+s.up)
	fmt.Fprintf(&b, "[[benchmark]]\nid = \"BM\"\nat = %s\nelevation = %.6f\n", s.place(s.benchmark), 38+s.up)
	fmt.Fprintf(&b, "[ground]\nlevel = %.6f\n", 39+s.up)
	b.WriteString("[[laser]]\nid = \"L\"\naccuracy = '10\"'\nrange = 900\naxes = 2\nsteepest = \"15 %\"\nsteepest_cross = \"15 %\"\n")
	b.WriteString("[[rod]]\nid = \"R\"\nface = \"metric\"\nlongest = 40\n")
	for i, p := range s.pads {
		fmt.Fprintf(&b, "[[excavation]]\nid = \"P%d\"\nkind = \"pad\"\nat = %s\nsize = 2\nbearing = %.9f\nbottom = { below = %.6f, datum = \"D\" }\n", i, s.place(p.at), s.bearing(), p.below)
	}
	from, to, invert, fall := s.from, s.to, s.invert, s.fall
	if s.reversed {
		from, to, invert, fall = to, from, invert-s.fall*from.Distance(to), -fall
	}
	fmt.Fprintf(&b, "[[excavation]]\nid = \"T\"\nkind = \"trench\"\nline = [%s, %s]\nwidth = 1\nfall = \"%.9f %%\"\n", s.place(from), s.place(to), 100*fall)
	fmt.Fprintf(&b, "inverts = [{ station = 0, invert = %.9f }]\npipe = { outside = 0.2, wall = 0.01 }\n", invert+s.up)
	fmt.Fprintf(&b, "[[setup]]\ntag = \"A\"\nat = %s\nbacksights = [{ benchmark = \"BM\", rod = %.6f }]\n", s.place(s.laser), s.rod)
	if s.dialled {
		b.WriteString("dial = { for = \"T\" }\n")
	}
	return b.String()
}

func makePlan(t interface{ Fatalf(string, ...any) }, text string) *plan.Plan {
	j, _, err := exchange.ReadJob("law.toml", []byte(text), func(string) ([]byte, error) { return nil, fmt.Errorf("no files") })
	if err != nil {
		t.Fatalf("%v in\n%s", err, text)
	}
	p, f := plan.Make(j)
	if f != nil {
		t.Fatalf("%v in\n%s", f, text)
	}
	return p
}

// drawSite draws a site whose lengths are whole millimetres, so that writing
// them down loses nothing.
func drawSite(t *rapid.T) site {
	mm := func(name string, low, high int) float64 {
		return float64(rapid.IntRange(low, high).Draw(t, name)) / 1000
	}
	at := func(name string) geom.Point {
		return geom.Point{X: mm(name+" x", -200_000, 200_000), Y: mm(name+" y", -200_000, 200_000)}
	}
	s := site{
		curvature: rapid.SampledFrom([]string{"none", "combined"}).Draw(t, "curvature"),
		from:      at("from"), to: at("to"), laser: at("laser"), benchmark: at("benchmark"),
		invert: mm("invert", 35_000, 38_500), fall: float64(rapid.IntRange(-80, 80).Draw(t, "fall")) / 1000,
		rod: mm("rod", 1000, 3000), dialled: rapid.Bool().Draw(t, "dialled"),
	}
	if s.from.Distance(s.to) < 5 || math.Abs(s.fall)*s.from.Distance(s.to) > 20 {
		s.to = s.from.Add(geom.Vector{X: 30, Y: 40})
	}
	if s.fall*s.from.Distance(s.to) < s.invert-38.5 { // the far end must be in the ground
		s.fall = 0
	}
	for range rapid.IntRange(1, 4).Draw(t, "pads") {
		s.pads = append(s.pads, pad{at("pad"), mm("below", 1500, 5000)})
	}
	return s
}

// compare holds the numbers of two plans of one site against each other, point
// by point.
func compare(t *rapid.T, a, b *plan.Plan, check func(x, y plan.Number)) {
	if len(a.Numbers) == 0 && len(b.Numbers) == 0 {
		t.Skip("the beam passes under every bottom")
	}
	if len(a.Numbers) != len(b.Numbers) {
		t.Fatalf("%d and %d numbers", len(a.Numbers), len(b.Numbers))
	}
	for i := range a.Numbers {
		check(a.Numbers[i], b.Numbers[i])
	}
}

func within(t *rapid.T, what string, got, want, tolerance float64) {
	if !(math.Abs(got-want) <= tolerance) {
		t.Fatalf("%s = %.9f, want %.9f (tol %g m)", what, got, want, tolerance)
	}
}

// written is what rounding places to the micrometre of the file may do to a rod
// or a bottom, in metres: 0.7 µm at both ends of a run of 5 m turn a plane of
// 8 % by 0.28 µrad, which is 13 µm at 560 m, the width of these sites.
const written = 2e-5

// Law: grade rod − ground rod = cut.
func TestLawRodsDifferByTheCut(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		for _, n := range makePlan(t, drawSite(t).text()).Numbers {
			within(t, "grade rod − ground rod at "+n.Name, float64(n.Rod)-float64(*n.GroundRod()), float64(*n.Cut), 1e-9)
		}
	})
}

// Law: moving datums, benchmarks and ground together moves every elevation and
// no cut and no rod.
func TestLawRaisingTheSiteChangesNoCut(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawSite(t)
		raised := s
		raised.up = float64(rapid.IntRange(-30_000, 900_000).Draw(t, "up")) / 1000
		compare(t, makePlan(t, s.text()), makePlan(t, raised.text()), func(x, y plan.Number) {
			within(t, "bottom", float64(y.Bottom-x.Bottom), raised.up, 1e-9)
			within(t, "cut", float64(*y.Cut), float64(*x.Cut), 1e-9)
			within(t, "rod", float64(y.Rod), float64(x.Rod), 1e-9)
		})
	})
}

// Law: shifting or turning the site changes no rod, also at real eastings.
func TestLawShiftingAndTurningTheSiteChangesNoRod(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawSite(t)
		moved := s
		moved.turn = rapid.Float64Range(-3, 3).Draw(t, "turn")
		moved.east, moved.north = 500_000, 4_900_000
		compare(t, makePlan(t, s.text()), makePlan(t, moved.text()), func(x, y plan.Number) {
			within(t, "rod", float64(y.Rod), float64(x.Rod), written)
			within(t, "bottom", float64(y.Bottom), float64(x.Bottom), written)
		})
	})
}

// Law: reversing a trench changes no bottom.
func TestLawReversingATrenchChangesNoBottom(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawSite(t)
		back := s
		back.reversed = true
		p, q := makePlan(t, s.text()), makePlan(t, back.text())
		d, _ := p.Dig("T")
		e, _ := q.Dig("T")
		for _, share := range []float64{0, 0.3, 1} {
			at := d.Parts[0].Line[0].Toward(d.Parts[0].Line[1], share)
			within(t, "bottom", float64(e.Parts[0].BottomAt(at)), float64(d.Parts[0].BottomAt(at)), written)
		}
	})
}

// Law: moving the laser but keeping a backsight read after dialling changes no
// rod but by curvature.
func TestLawTheLasersPlaceDropsOut(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawSite(t)
		s.curvature = "none"
		moved := s
		moved.laser = geom.Point{X: rapid.Float64Range(-200, 200).Draw(t, "x"), Y: rapid.Float64Range(-200, 200).Draw(t, "y")}
		compare(t, makePlan(t, s.text()), makePlan(t, moved.text()), func(x, y plan.Number) {
			within(t, "rod", float64(y.Rod), float64(x.Rod), 1e-9)
		})
	})
}

// Law: a dialled plane gives one rod along its trench, with curvature within c of
// the far end. The laser of these sites has no dial step.
func TestLawOneRodAlongTheTrench(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawSite(t)
		s.dialled = true
		p := makePlan(t, s.text())
		low, high, curve := math.Inf(1), math.Inf(-1), 0.0
		for _, n := range p.Numbers {
			if n.Excavation == "T" {
				low, high = min(low, float64(n.Rod)), max(high, float64(n.Rod))
				curve = max(curve, float64(n.Curvature))
			}
		}
		if math.IsInf(low, 0) {
			t.Skip("the beam passes under the trench")
		}
		within(t, "spread of the rods", high-low, 0, 1e-9+curve)
	})
}
