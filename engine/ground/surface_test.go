package ground

import (
	"math"
	"math/big"
	"math/rand/v2"
	"testing"

	"spadework/engine/geom"
)

// The referee of a surface knows only its Facets and rational arithmetic.
type referee struct{ facets [][3]geom.Point3 }

func refereeOf(s Surface) (r referee) {
	s.Facets(s.Bounds().Grown(1), func(a, b, c geom.Point3) bool {
		r.facets = append(r.facets, [3]geom.Point3{a, b, c})
		return true
	})
	return r
}

func ratOf(v float64) *big.Rat { return new(big.Rat).SetFloat64(v) }

// lin is k + m·t.
type lin struct{ k, m *big.Rat }

func (l lin) at(t *big.Rat) *big.Rat {
	v := new(big.Rat).Mul(l.m, t)
	return v.Add(v, l.k)
}

// linBetween is the linear function with values f at 0 and g at 1.
func linBetween(f, g *big.Rat) lin { return lin{f, new(big.Rat).Sub(g, f)} }

// cross2 is the exact (b−a)×(p−a).
func cross2(a, b geom.Point, p geom.Point) *big.Rat {
	d := func(u, v float64) *big.Rat { return new(big.Rat).Sub(ratOf(u), ratOf(v)) }
	l := new(big.Rat).Mul(d(b.X, a.X), d(p.Y, a.Y))
	return l.Sub(l, new(big.Rat).Mul(d(b.Y, a.Y), d(p.X, a.X)))
}

// rise is how far p is over the plane of a facet, times twice the facet's area.
func rise(f [3]geom.Point3, p geom.Point3) *big.Rat {
	sum := new(big.Rat)
	for i := range f {
		a, b := f[(i+1)%3], f[(i+2)%3]
		w := cross2(a.Plan(), b.Plan(), p.Plan())
		sum.Add(sum, w.Mul(w, new(big.Rat).Sub(ratOf(p.Z), ratOf(f[i].Z))))
	}
	return sum
}

// firstHit tries every facet: the share of the way at which the sight line is
// first at the ground or under it, nil for nowhere.
func (r referee) firstHit(from, to geom.Point3) *big.Rat {
	var first *big.Rat
	way := geom.BoxOf(from.Plan(), to.Plan())
	for _, f := range r.facets {
		if !geom.BoxOf(f[0].Plan(), f[1].Plan(), f[2].Plan()).Meets(way) {
			continue
		}
		lo, hi := new(big.Rat), big.NewRat(1, 1)
		empty := false
		for i := range f {
			a, b := f[i].Plan(), f[(i+1)%3].Plan()
			side := linBetween(cross2(a, b, from.Plan()), cross2(a, b, to.Plan()))
			empty = empty || !clipPositive(side, lo, hi)
		}
		if empty || lo.Cmp(hi) > 0 {
			continue
		}
		over := linBetween(rise(f, from), rise(f, to))
		var t *big.Rat
		switch {
		case over.at(lo).Sign() <= 0:
			t = lo
		case over.at(hi).Sign() <= 0:
			t = new(big.Rat).Quo(over.k, over.m)
			t.Neg(t)
		default:
			continue
		}
		if first == nil || t.Cmp(first) < 0 {
			first = t
		}
	}
	return first
}

// clipPositive narrows lo..hi to where l ≥ 0; false if that is nowhere.
func clipPositive(l lin, lo, hi *big.Rat) bool {
	if l.m.Sign() == 0 {
		return l.k.Sign() >= 0
	}
	zero := new(big.Rat).Quo(l.k, l.m)
	zero.Neg(zero)
	if l.m.Sign() > 0 && zero.Cmp(lo) > 0 {
		lo.Set(zero)
	}
	if l.m.Sign() < 0 && zero.Cmp(hi) < 0 {
		hi.Set(zero)
	}
	return lo.Cmp(hi) <= 0
}

// height is the elevation over p by the first facet that holds p.
func (r referee) height(p geom.Point) (float64, bool) {
	for _, f := range r.facets {
		a, b, c := f[0].Plan(), f[1].Plan(), f[2].Plan()
		if geom.Orient(a, b, p) < 0 || geom.Orient(b, c, p) < 0 || geom.Orient(c, a, p) < 0 {
			continue
		}
		sum, area := new(big.Rat), new(big.Rat)
		for i := range f {
			w := cross2(f[(i+1)%3].Plan(), f[(i+2)%3].Plan(), p)
			area.Add(area, w)
			sum.Add(sum, new(big.Rat).Mul(w, ratOf(f[i].Z)))
		}
		z, _ := sum.Quo(sum, area).Float64()
		return z, true
	}
	return math.NaN(), false
}

// rough surfaces of small whole coordinates, where lines pass through vertices
// and along edges, and of random ones.
func roughSurfaces(t *testing.T) map[string]Surface {
	r := rand.New(rand.NewPCG(11, 12))
	out := map[string]Surface{}
	var shots, whole []Shot
	for range 80 {
		shots = append(shots, Shot{geom.Point{X: 8 * r.Float64(), Y: 8 * r.Float64()}, 3 * r.Float64()})
		whole = append(whole, Shot{geom.Point{X: float64(r.IntN(9)), Y: float64(r.IntN(9))}, float64(r.IntN(3))})
	}
	line := []Breakline{{shots[0], shots[1], shots[2]}}
	g := GridData{DX: 1, DY: 1, Cols: 9, Rows: 9}
	for range 81 {
		g.Z = append(g.Z, float64(r.IntN(4)))
	}
	tin := func(s []Shot, l []Breakline, o Options) Surface {
		out, _, err := Build(s, l, o)
		if err != nil {
			t.Fatal(err)
		}
		return out
	}
	grid := func(g GridData) Surface {
		out, err := NewGrid(g)
		if err != nil {
			t.Fatal(err)
		}
		return out
	}
	out["random"] = tin(shots, line, Options{})
	out["whole"] = tin(whole, nil, Options{})
	out["limits"] = tin(whole, nil, Options{
		Boundary: geom.Ring{{X: 1, Y: 1}, {X: 7, Y: 0.5}, {X: 9, Y: 5}, {X: 3, Y: 7}},
		Holes:    []geom.Ring{{{X: 3, Y: 3}, {X: 5, Y: 3}, {X: 4, Y: 5}}},
	})
	out["grid"] = grid(g)
	g.Z = append([]float64(nil), g.Z...)
	g.Z[30], g.Z[41], g.Z[8] = math.NaN(), math.NaN(), math.NaN()
	out["grid with gaps"] = grid(g)
	g.Origin, g.DX, g.DY = geom.Point{X: 500_000.1, Y: 4_900_000.2}, 0.1, 0.3
	out["grid at eastings"] = grid(g)
	return out
}

// place draws a place in or about the box, half of them on a lattice of it.
func place(r *rand.Rand, b geom.Box) geom.Point {
	if r.IntN(2) == 0 {
		return geom.Point{X: b.Min.X + b.Width()*float64(r.IntN(11)-1)/8, Y: b.Min.Y + b.Height()*float64(r.IntN(11)-1)/8}
	}
	return geom.Point{X: b.Min.X + b.Width()*(1.2*r.Float64()-0.1), Y: b.Min.Y + b.Height()*(1.2*r.Float64()-0.1)}
}

func TestHeightAgainstReferee(t *testing.T) {
	for name, s := range roughSurfaces(t) {
		ref, r := refereeOf(s), rand.New(rand.NewPCG(13, 14))
		for range 400 {
			p := place(r, s.Bounds())
			z, ok := s.Height(p)
			want, wantOK := ref.height(p)
			// 1e-9 m: rounding of a weighted mean, coordinates to 5e6.
			if ok != wantOK || ok && !(math.Abs(z-want) <= 1e-9) {
				t.Errorf("%s: Height(%v) = %v %v, want %v %v", name, p, z, ok, want, wantOK)
			}
		}
	}
}

func TestFirstHitAgainstReferee(t *testing.T) {
	for name, s := range roughSurfaces(t) {
		ref, r := refereeOf(s), rand.New(rand.NewPCG(15, 16))
		blocked := 0
		for range 300 {
			a, b := place(r, s.Bounds()), place(r, s.Bounds())
			if r.IntN(20) == 0 {
				b = a
			}
			from, to := a.Raised(float64(r.IntN(9))/2), b.Raised(float64(r.IntN(9))/2)
			got := s.FirstHit(from, to)
			want := ref.firstHit(from, to)
			if got.Blocked != (want != nil) {
				t.Errorf("%s: FirstHit(%v, %v) = %+v, want blocked %v", name, from, to, got, want != nil)
				continue
			}
			if want == nil {
				continue
			}
			blocked++
			share, _ := want.Float64()
			// 1e-6 of the way: the quotient of rounded heights at flat angles.
			if !(math.Abs(got.Share-share) <= 1e-6) {
				t.Errorf("%s: FirstHit(%v, %v) at share %v, want %v", name, from, to, got.Share, share)
			}
		}
		if blocked < 50 || blocked > 280 {
			t.Errorf("%s: %d of 300 sights blocked: the test is one-sided", name, blocked)
		}
	}
}

// A profile's points lie on the surface, and between two of them it is straight
// or a gap.
func TestProfileAgainstReferee(t *testing.T) {
	for name, s := range roughSurfaces(t) {
		ref, r := refereeOf(s), rand.New(rand.NewPCG(17, 18))
		for range 60 {
			line := []geom.Point{place(r, s.Bounds()), place(r, s.Bounds()), place(r, s.Bounds())}
			prof := s.Profile(line)
			if prof[0].At != line[0] || prof[len(prof)-1].At != line[2] {
				t.Fatalf("%s: Profile(%v) runs from %v to %v", name, line, prof[0].At, prof[len(prof)-1].At)
			}
			for i, p := range prof {
				if i == 0 {
					continue
				}
				o := prof[i-1]
				if !(p.Station >= o.Station) {
					t.Fatalf("%s: Profile(%v) station %v after %v", name, line, p.Station, o.Station)
				}
				if p.Station-o.Station < 1e-6*s.Bounds().Width() {
					continue // the middle of so short a piece rounds across edges
				}
				mid := o.At.Toward(p.At, 0.5)
				z, ok := ref.height(mid)
				if ok == o.Gap && !onRim(ref, mid) {
					t.Errorf("%s: Profile(%v) after %v: gap %v, ground there %v", name, line, o.At, o.Gap, ok)
				}
				// 1e-6 m: points rounded to the lines they lie on, at slopes to 30.
				if ok && !o.Gap && !(math.Abs((o.Z+p.Z)/2-z) <= 1e-6) {
					t.Errorf("%s: Profile(%v) between %v and %v is %v, want %v", name, line, o, p, (o.Z+p.Z)/2, z)
				}
			}
		}
	}
}

// onRim says that p lies within 1e-7 m of where the ground ends, so that
// rounding decides whether it is on it.
func onRim(r referee, p geom.Point) bool {
	seen := map[bool]bool{}
	for _, d := range []geom.Vector{{X: 1e-7}, {X: -1e-7}, {Y: 1e-7}, {Y: -1e-7}, {X: 1e-7, Y: 1e-7}, {X: -1e-7, Y: -1e-7}, {X: 1e-7, Y: -1e-7}, {X: -1e-7, Y: 1e-7}} {
		_, ok := r.height(p.Add(d))
		seen[ok] = true
	}
	return len(seen) == 2
}

func TestLowestOn(t *testing.T) {
	for name, s := range roughSurfaces(t) {
		ref, r := refereeOf(s), rand.New(rand.NewPCG(19, 20))
		for range 60 {
			ring := geom.Ring{place(r, s.Bounds()), place(r, s.Bounds()), place(r, s.Bounds())}
			low := s.LowestOn(ring)
			all, lowest := true, math.Inf(1)
			for i := range ring {
				a, b := ring.Side(i)
				for k := range 60 {
					p := a.Toward(b, float64(k)/60)
					z, ok := ref.height(p)
					all = all && (ok || onRim(ref, p))
					lowest = min(lowest, z)
					if ok && z < low.Z-1e-6 {
						t.Errorf("%s: LowestOn(%v) = %v, but %v at %v", name, ring, low.Z, z, p)
					}
				}
			}
			if low.OK && !all {
				t.Errorf("%s: LowestOn(%v) = %+v, but part lies outside", name, ring, low)
			}
			if z, ok := ref.height(low.At); !low.Missing && ok && !(math.Abs(z-low.Z) <= 1e-6) {
				t.Errorf("%s: LowestOn(%v) = %v at %v, where it is %v", name, ring, low.Z, low.At, z)
			}
		}
	}
}

// Contours lie at their height with higher ground on the left; closed ones
// close; and each crossed edge is met as often as it must be.
func TestContour(t *testing.T) {
	for name, s := range roughSurfaces(t) {
		for _, z := range []float64{0.5, 1, 1.25, 2} {
			length := 0.0
			for _, line := range s.Contour(z) {
				for i := 1; i < len(line); i++ {
					length += line[i-1].Distance(line[i])
					if line[i-1].Distance(line[i]) < 1e-6 {
						continue
					}
					mid := line[i-1].Toward(line[i], 0.5)
					left := mid.Add(line[i].Sub(line[i-1]).Right().Unit().Scale(-1e-4 * s.Bounds().Width()))
					if h, ok := s.Height(mid); ok && !(math.Abs(h-z) <= 1e-6) {
						t.Errorf("%s: Contour(%v) passes %v at %v", name, z, mid, h)
					}
					// Along a ridge of exactly z the high side has no width.
					if z != math.Trunc(z) {
						if h, ok := s.Height(left); ok && h < z-1e-6 {
							t.Errorf("%s: Contour(%v) has %v on its left at %v", name, z, h, left)
						}
					}
				}
			}
			want := refereeOf(s).contourLength(z)
			if !(math.Abs(length-want) <= 1e-6*(1+want)) {
				t.Errorf("%s: Contour(%v) is %v m long, want %v", name, z, length, want)
			}
		}
	}
}

// contourLength adds up the cuts of all facets with corners both below z and
// not below.
func (r referee) contourLength(z float64) float64 {
	sum := 0.0
	for _, f := range r.facets {
		var cut []geom.Point
		for i := range f {
			a, b := f[i], f[(i+1)%3]
			if (a.Z >= z) != (b.Z >= z) {
				cut = append(cut, a.Plan().Toward(b.Plan(), (z-a.Z)/(b.Z-a.Z)))
			}
		}
		if len(cut) == 2 {
			sum += cut[0].Distance(cut[1])
		}
	}
	return sum
}

// Boundary and holes: the ground covers boundary less holes exactly, as the
// survey lies around both.
func TestLimits(t *testing.T) {
	r := rand.New(rand.NewPCG(21, 22))
	var shots []Shot
	for range 400 {
		p := geom.Point{X: 100 * r.Float64(), Y: 100 * r.Float64()}
		shots = append(shots, Shot{p, p.X / 10})
	}
	for _, c := range []geom.Point{{X: 0, Y: 0}, {X: 100, Y: 0}, {X: 100, Y: 100}, {X: 0, Y: 100}} {
		shots = append(shots, Shot{c, c.X / 10})
	}
	o := Options{
		Boundary: geom.Ring{{X: 10, Y: 10}, {X: 90, Y: 20}, {X: 50, Y: 50}, {X: 80, Y: 95}, {X: 5, Y: 60}},
		Holes:    []geom.Ring{{{X: 20, Y: 20}, {X: 40, Y: 22}, {X: 30, Y: 50}}},
	}
	tin, report, err := Build(shots, nil, o)
	if err != nil {
		t.Fatal(err)
	}
	area := 0.0
	tin.Facets(tin.Bounds(), func(a, b, c geom.Point3) bool {
		area += geom.Ring{a.Plan(), b.Plan(), c.Plan()}.Area()
		return true
	})
	want := o.Boundary.Area() - math.Abs(o.Holes[0].Area())
	if !(math.Abs(area-want) <= 1e-6) || report.Outside == 0 {
		t.Errorf("ground covers %v m² with %d points outside, want %v m² and some", area, report.Outside, want)
	}
	for range 2000 {
		p := geom.Point{X: 100 * r.Float64(), Y: 100 * r.Float64()}
		z, ok := tin.Height(p)
		inside := o.Boundary.Contains(p) == geom.Inside && o.Holes[0].Contains(p) == geom.Outside
		if ok != inside {
			t.Errorf("Height(%v) known %v, want %v", p, ok, inside)
		}
		if ok && !(math.Abs(z-p.X/10) <= 1e-9) { // the shots lie on one plane
			t.Errorf("Height(%v) = %v, want %v", p, z, p.X/10)
		}
	}
	if z, ok := tin.Height(o.Boundary[0]); !ok || !(math.Abs(z-1) <= 1e-9) {
		t.Errorf("Height at the boundary's corner = %v %v, want 1", z, ok)
	}
}

func TestLongestEdge(t *testing.T) {
	shots := raised([]geom.Point{{X: 0, Y: 0}, {X: 1, Y: 0}, {X: 0, Y: 1}, {X: 1, Y: 1}, {X: 9, Y: 0.5}})
	tin, report, err := Build(shots, nil, Options{LongestEdge: 2})
	if err != nil {
		t.Fatal(err)
	}
	if _, ok := tin.Height(geom.Point{X: 5, Y: 0.5}); ok || report.Triangles != 2 || report.Outside != 1 {
		t.Errorf("Build with longest edge 2: %+v, height far out known %v; want 2 triangles, 1 outside, unknown", report, ok)
	}
}

func TestHeightGrid(t *testing.T) {
	for name, s := range roughSurfaces(t) {
		tin, ok := s.(*TIN)
		if !ok {
			continue
		}
		g := tin.HeightGrid(GridData{Origin: geom.Point{X: -0.5, Y: -0.5}, DX: 0.25, DY: 0.125, Cols: 41, Rows: 80})
		for i, z := range g.Z {
			p := g.Node(i%g.Cols, i/g.Cols)
			want, ok := tin.Height(p)
			if ok != !math.IsNaN(z) || ok && !(math.Abs(z-want) <= 1e-9) {
				t.Errorf("%s: HeightGrid at %v = %v, want %v", name, p, z, want)
			}
		}
	}
}

func TestLevel(t *testing.T) {
	s := Level(5)
	if z, ok := s.Height(geom.Point{X: 1e9}); z != 5 || !ok {
		t.Errorf("Level(5).Height = %v %v, want 5", z, ok)
	}
	hit := s.FirstHit(geom.Point3{Z: 7}, geom.Point3{X: 4, Z: 3})
	if !hit.Blocked || hit.At != (geom.Point3{X: 2, Z: 5}) {
		t.Errorf("Level(5).FirstHit = %+v, want at 2, 0, 5", hit)
	}
	if hit := s.FirstHit(geom.Point3{Z: 7}, geom.Point3{X: 4, Z: 5.001}); hit.Blocked {
		t.Errorf("Level(5).FirstHit over it = %+v, want clear", hit)
	}
}
