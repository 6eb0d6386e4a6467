package dig

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"spadework/engine/geom"
	"spadework/engine/pipe"
	"spadework/engine/unit"
)

// lawTolerance in metres: rounding of a few hundred metres through a dozen
// operations stays under a nanometre.
const lawTolerance = 1e-9

func drawFloat(t *rapid.T, lo, hi float64, name string) float64 {
	return rapid.Float64Range(lo, hi).Draw(t, name)
}

// drawBend is none or from 0.001 to 0.87 rad either way: a mitre at a bend of b
// loses 1/b of its digits, which is geom's affair.
func drawBend(t *rapid.T) float64 {
	return rapid.SampledFrom([]float64{-1, 0, 1}).Draw(t, "hand") * drawFloat(t, 0.001, 0.87, "bend")
}

// drawLine is a line of up to four legs that bends at most 50° at a point, so
// that it never meets itself; lengths and width keep all legs unfolded.
func drawLine(t *rapid.T) []geom.Point {
	n := rapid.IntRange(1, 4).Draw(t, "legs")
	at := geom.Point{X: drawFloat(t, -50, 50, "x"), Y: drawFloat(t, -50, 50, "y")}
	angle := drawFloat(t, 0, 2*math.Pi, "angle")
	out := []geom.Point{at}
	for i := 0; i < n; i++ {
		sin, cos := math.Sincos(angle)
		run := drawFloat(t, 5, 30, "leg")
		at = at.Add(geom.Vector{X: run * cos, Y: run * sin})
		out = append(out, at)
		angle += drawBend(t)
	}
	return out
}

// lengthOf is the length of a line.
func lengthOf(line []geom.Point) float64 {
	sum := 0.0
	for i := 1; i < len(line); i++ {
		sum += line[i-1].Distance(line[i])
	}
	return sum
}

// drawStations are up to n rising stations inside a line, at least 0.5 m apart.
func drawStations(t *rapid.T, length float64, n int) []unit.Station {
	var out []unit.Station
	for s := 0.0; len(out) < n; {
		s += drawFloat(t, 0.5, length/2, "next")
		if s > length-0.5 {
			break
		}
		out = append(out, unit.Station(s))
	}
	return out
}

// drawGround falls and rises along an axis of any direction.
func drawGround(t *rapid.T) facets {
	angle := drawFloat(t, 0, 2*math.Pi, "ground axis")
	sin, cos := math.Sincos(angle)
	f := facets{dir: geom.Vector{X: cos, Y: sin}}
	for x := -300.0; x <= 300; x += 20 {
		f.xs = append(f.xs, x)
		f.zs = append(f.zs, drawFloat(t, 99, 101, "z"))
	}
	return f
}

// drawRun is a strip or trench by any rule, with all that a run can have.
func drawRun(t *rapid.T) Excavation {
	x := Excavation{
		ID: "R", Kind: Trench, Line: drawLine(t), Width: unit.Length(drawFloat(t, 0.3, 1.5, "width")),
		Working: unit.Length(drawFloat(t, 0, 0.6, "working")),
		Bedding: unit.Length(drawFloat(t, 0, 0.3, "bedding")), Blinding: 0.05,
	}
	if rapid.Bool().Draw(t, "pipe") {
		x.Pipe = &pipe.Section{Outside: 0.3, Wall: 0.01}
	}
	length := lengthOf(x.Line)
	rule := rapid.SampledFrom([]Rule{ByElevation, BelowDatum, BelowGround, BelowTop, ByCover, ByInvert}).Draw(t, "rule")
	x.Bottom = Bottom{Rule: rule, Elevation: 97, Datum: Datum{"D", 98}, Depth: 1.5, Thickness: 0.5, Cover: 1, From: Finished}
	if rule == ByInvert {
		x.Bottom.Cover = 0
		x.Inverts = drawInverts(t, length)
		return x
	}
	if rule == BelowTop && rapid.Bool().Draw(t, "top is drawn") {
		x.Bottom.Datum.ID = ""
	}
	x.Fall = unit.Grade(rapid.SampledFrom([]float64{0, 0.01, -0.02}).Draw(t, "fall"))
	for _, s := range drawStations(t, length, 3) {
		x.Steps = append(x.Steps, Step{s, unit.Length(drawFloat(t, 0.05, 0.4, "drop"))})
	}
	return x
}

// drawInverts fall onward or back, with drops in structures.
func drawInverts(t *rapid.T, length float64) []Invert {
	stations := append([]unit.Station{0}, drawStations(t, length, 3)...)
	stations = append(stations, unit.Station(length))
	back := rapid.Bool().Draw(t, "back")
	out := make([]Invert, len(stations))
	z := unit.Elevation(97)
	for k := range stations {
		i := k
		if back {
			i = len(stations) - 1 - k
		}
		in := z
		z -= unit.Elevation(drawFloat(t, 0, 0.2, "drop"))
		out[i] = Invert{stations[i], in, z}
		z -= unit.Elevation(drawFloat(t, 0.01, 0.3, "fall"))
	}
	return out
}

// drawSite is a ground and a finished ground over it.
func drawSite(t *rapid.T) (existing, finished facets) {
	existing = drawGround(t)
	return existing, existing.raised(drawFloat(t, 0, 1, "fill"))
}

// reversed is the same run drawn from its other end. What counts from its first
// point counts from the last: a fixed elevation is moved there.
func reversed(x Excavation, d Dig) Excavation {
	n := len(x.Line)
	length := unit.Station(d.Parts[len(d.Parts)-1].To)
	out := x
	out.Line = make([]geom.Point, n)
	for i, p := range x.Line {
		out.Line[n-1-i] = p
	}
	out.Fall = -x.Fall
	out.Steps, out.Inverts = nil, nil
	for i := range x.Steps {
		s := x.Steps[len(x.Steps)-1-i]
		out.Steps = append(out.Steps, Step{length - s.Station, -s.Drop})
	}
	for i := range x.Inverts {
		v := x.Inverts[len(x.Inverts)-1-i]
		out.Inverts = append(out.Inverts, Invert{length - v.Station, v.In, v.Out})
	}
	last := d.Parts[len(d.Parts)-1]
	far := last.bottomAtStation(last.To).Above(d.Parts[0].Trace.Sum)
	out.Bottom.Elevation += unit.Elevation(far)
	out.Bottom.Datum.Elevation += unit.Elevation(far)
	return out
}

// bottomAt is the bottom of a run at a station.
func (d Dig) bottomOn(s unit.Station) unit.Elevation {
	for _, p := range d.Parts {
		if p.Run() && s >= p.From && s <= p.To {
			return p.bottomAtStation(s)
		}
	}
	return unit.Elevation(math.NaN())
}

// Law: drawn from its other end, a run has the same bottom at every place.
func TestLawReversed(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x := drawRun(t)
		existing, finished := drawSite(t)
		site := Site{Existing: existing, Finished: finished}
		d := resolve(t, x, site)
		back := resolve(t, reversed(x, d), site)
		length := d.Parts[len(d.Parts)-1].To
		if len(back.Parts) != len(d.Parts) {
			t.Fatalf("%d parts, reversed %d", len(d.Parts), len(back.Parts))
		}
		for i, p := range d.Parts {
			q := back.Parts[len(back.Parts)-1-i]
			near(t, "area of "+p.ID, q.Neat.Area(), p.Neat.Area(), lawTolerance)
			for _, share := range []float64{0.01, 0.5, 0.99} {
				s := p.From + unit.Station(share)*(p.To-p.From)
				near(t, "bottom", back.bottomOn(length-s), d.bottomOn(s), lawTolerance)
			}
		}
	})
}

// Law: datums, inverts, elevations and ground moved by dz move every bottom by
// dz and no depth.
func TestLawRaised(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x := drawAny(t)
		existing, finished := drawSite(t)
		dz := drawFloat(t, -50, 50, "dz")
		low := resolve(t, x, Site{existing, finished})
		high := resolve(t, raised(x, unit.Elevation(dz)), Site{existing.raised(dz), finished.raised(dz)})
		for i, p := range low.Parts {
			q := high.Parts[i]
			near(t, "bottom of "+p.ID, q.Trace.Sum, p.Trace.Sum+unit.Elevation(dz), lawTolerance)
			z, _ := existing.Height(p.Outline[0])
			zq, _ := existing.raised(dz).Height(q.Outline[0])
			near(t, "depth of "+p.ID, unit.Elevation(zq)-q.BottomAt(q.Outline[0]), unit.Elevation(z)-p.BottomAt(p.Outline[0]), lawTolerance)
		}
	})
}

// raised is an excavation with every elevation dz higher.
func raised(x Excavation, dz unit.Elevation) Excavation {
	x.Bottom.Elevation += dz
	x.Bottom.Datum.Elevation += dz
	inverts := x.Inverts
	x.Inverts = nil
	for _, v := range inverts {
		x.Inverts = append(x.Inverts, Invert{v.Station, v.In + dz, v.Out + dz})
	}
	return x
}

// drawAny is a run, a footing or a slab with thickened edges.
func drawAny(t *rapid.T) Excavation {
	if rapid.Bool().Draw(t, "run") {
		return drawRun(t)
	}
	return drawArea(t)
}

// drawArea is a footing or a slab with or without thickened edges.
func drawArea(t *rapid.T) Excavation {
	x := Excavation{
		ID: "A", Kind: Pad, At: geom.Point{X: drawFloat(t, -50, 50, "x"), Y: drawFloat(t, -50, 50, "y")},
		Size:    [2]unit.Length{unit.Length(drawFloat(t, 1, 12, "across")), unit.Length(drawFloat(t, 1, 12, "along"))},
		Bearing: unit.Angle(drawFloat(t, 0, 2*math.Pi, "bearing")),
		Working: unit.Length(drawFloat(t, 0, 1, "working")), Subbase: 0.1,
	}
	rule := rapid.SampledFrom([]Rule{ByElevation, BelowDatum, BelowGround, BelowTop}).Draw(t, "rule")
	x.Bottom = Bottom{Rule: rule, Elevation: 97, Datum: Datum{"D", 98}, Depth: 1.5, Thickness: 0.5, From: Existing}
	for i := 0; i < 4; i++ {
		if rapid.Bool().Draw(t, "edge") {
			x.Thickened = append(x.Thickened, Edge{Sides: SideIndex, Index: i, Width: unit.Length(drawFloat(t, 0.05, 0.45, "edge width")), Depth: 0.3})
		}
	}
	return x
}

// Law: shifting or turning the site changes no bottom.
func TestLawMoved(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x := drawAny(t)
		existing, finished := drawSite(t)
		m := motion{drawFloat(t, 0, 2*math.Pi, "turn"), geom.Vector{X: drawFloat(t, -90, 90, "east"), Y: drawFloat(t, -90, 90, "north")}}
		here := resolve(t, x, Site{existing, finished})
		there := resolve(t, moveDig(x, m), Site{existing.moved(m), finished.moved(m)})
		if len(here.Parts) != len(there.Parts) {
			t.Fatalf("%d parts, moved %d", len(here.Parts), len(there.Parts))
		}
		for i, p := range here.Parts {
			q := there.Parts[i]
			near(t, "bottom of "+p.ID, q.Trace.Sum, p.Trace.Sum, lawTolerance)
			for k, c := range p.Outline {
				near(t, "bottom at a corner of "+p.ID, q.BottomAt(q.Outline[k]), p.BottomAt(c), lawTolerance)
				near(t, "place of a corner", m.point(c).Distance(q.Outline[k]), 0, lawTolerance)
			}
		}
	})
}

// moveDig is an excavation on a moved site; a bearing runs clockwise, the
// motion anticlockwise.
func moveDig(x Excavation, m motion) Excavation {
	x.At = m.point(x.At)
	x.Bearing -= unit.Angle(m.angle)
	line := x.Line
	x.Line = nil
	for _, p := range line {
		x.Line = append(x.Line, m.point(p))
	}
	return x
}

// Law: the parts of a run tile its band, and those of an area its outline,
// without overlap; every dug outline holds its neat one.
func TestLawTiled(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x := drawAny(t)
		existing, finished := drawSite(t)
		d := resolve(t, x, Site{existing, finished})
		whole := wholeOutline(t, x)
		sum, dug := 0.0, 0.0
		for _, p := range d.Parts {
			dug += p.Outline.Area()
			a := p.Neat.Area()
			if !(a > 0) {
				t.Errorf("part %s has area %v", p.ID, a)
			}
			sum += a
			for _, c := range p.Neat {
				if p.Outline.Contains(c) == geom.Outside && distanceTo(p.Outline, c) > lawTolerance {
					t.Errorf("corner %v of part %s lies outside its dug outline", c, p.ID)
				}
			}
		}
		near(t, "area of the parts", sum, whole.Area(), 1e-9*whole.Area())
		near(t, "dug area of the parts", dug, dugArea(t, x), 1e-9*dug)
		box := whole.Bounds()
		at := geom.Point{X: drawFloat(t, box.Min.X, box.Max.X, "px"), Y: drawFloat(t, box.Min.Y, box.Max.Y, "py")}
		if in, clear := count(d, at); clear && (in == 1) != (whole.Contains(at) == geom.Inside) {
			t.Errorf("%v lies in %d parts; in the whole: %v", at, in, whole.Contains(at) == geom.Inside)
		}
	})
}

// wholeOutline is the concrete outline of a run or a rectangle.
func wholeOutline(t *rapid.T, x Excavation) geom.Ring {
	if x.Kind.Run() {
		band := geom.Band(x.Line, float64(x.Width))
		if _, _, crosses := band.SelfIntersects(); crosses {
			t.Fatalf("drawLine made a band that crosses itself")
		}
		return band
	}
	sin, cos := math.Sincos(float64(x.Bearing))
	return geom.Rectangle(x.At, geom.Vector{X: sin, Y: cos}, float64(x.Size[1]), float64(x.Size[0]))
}

// dugArea is the area of the outline with its working space.
func dugArea(t *rapid.T, x Excavation) float64 {
	if x.Kind.Run() {
		x.Width = x.dugWidth()
	} else {
		x.Size[0], x.Size[1] = x.Size[0]+2*x.Working, x.Size[1]+2*x.Working
	}
	return wholeOutline(t, x).Area()
}

// count is how many parts hold a point; clear unless it lies at a border, where
// rounding decides.
func count(d Dig, at geom.Point) (in int, clear bool) {
	for _, p := range d.Parts {
		if onRing(p.Neat, at) {
			return 0, false
		}
		if p.Neat.Contains(at) == geom.Inside {
			in++
		}
	}
	return in, true
}

// Law: a run by cover keeps its cover all along, and touches it at one place at
// least: no higher line would do.
func TestLawCover(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x := drawRun(t)
		x.Inverts, x.Bottom = nil, Bottom{Rule: ByCover, Cover: 1, From: Existing}
		existing, _ := drawSite(t)
		d := resolve(t, x, Site{Existing: existing})
		under := x.Bottom.Cover + x.Bedding + x.Blinding
		if x.Pipe != nil {
			under += x.Pipe.Outside
		}
		least := math.Inf(1)
		for _, p := range d.Parts {
			for _, g := range existing.Profile(p.Line) {
				spare := g.Z - float64(p.bottomAtStation(p.From+unit.Station(g.Station))) - float64(under)
				if spare < -lawTolerance {
					t.Errorf("part %s lacks %v m of cover at %v", p.ID, -spare, g.Station)
				}
				least = math.Min(least, spare)
			}
		}
		near(t, "least spare cover", least, 0, lawTolerance)
	})
}
