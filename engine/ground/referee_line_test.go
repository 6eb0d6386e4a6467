package ground

import (
	"fmt"
	"math"
	"math/big"
	"math/rand/v2"
	"slices"
	"testing"

	"spadework/engine/geom"
)

// site is a small ground of whole coordinates, many points of which lie on one
// line or circle, with the rounding to expect.
type site struct {
	Surface
	name string
	ref  referee
	tol  float64 // metres, in plan and height
	cut  bool    // limits cut it at rounded places
}

// far east and north, where a float64 metre ends at 1e-9.
var eastings = geom.Vector{X: 500_000, Y: 4_900_000}

func siteOf(seed uint64) site {
	r := rand.New(rand.NewPCG(seed, 31))
	var move geom.Vector
	// 1e-9 m: rounding of crossings of lines to 12 m long that meet at 1:200 or
	// more; 4e-9 m: that of four places at 4.9e6 m.
	s := site{tol: 1e-9}
	if seed%3 == 2 {
		move, s.tol = eastings, 4e-9
	}
	var err error
	switch kind := seed / 3 % 4; kind {
	case 0:
		s.Surface, err = wholeGrid(r, move)
	default:
		var o Options
		o.LongestEdge = []float64{0, 0, 3.2}[kind-1]
		if s.cut = kind == 2; s.cut {
			o.Boundary, o.Holes = wholeRing(r, move, 0, 8), []geom.Ring{wholeRing(r, move, 2, 4)}
			// Slivers beside the cuts: crossings at flat angles move along the line by
			// at most 1e-6 of its length (flatAngle).
			s.tol = 1.2e-5
		}
		s.Surface, _, err = Build(wholeShots(r, move), nil, o)
	}
	s.name = fmt.Sprintf("site %d", seed)
	if err == nil {
		s.ref = refereeOf(s.Surface)
	}
	return s
}

// sites visits n sites; those that are no ground are passed over, and counted.
func sites(t *testing.T, n uint64, visit func(s site, r *rand.Rand)) {
	t.Helper()
	used := 0
	for seed := range n {
		if s := siteOf(seed); len(s.ref.facets) > 0 {
			visit(s, rand.New(rand.NewPCG(seed, 32)))
			used++
		}
	}
	if used < int(n)*3/4 {
		t.Errorf("%d of %d sites have ground", used, n)
	}
}

func wholeShots(r *rand.Rand, move geom.Vector) (shots []Shot) {
	for range 5 + r.IntN(20) {
		p := geom.Point{X: float64(r.IntN(8)), Y: float64(r.IntN(8))}
		shots = append(shots, Shot{p.Add(move), float64(r.IntN(4))})
	}
	return shots
}

func wholeRing(r *rand.Rand, move geom.Vector, from, size int) (ring geom.Ring) {
	for _, c := range [][2]int{{0, 0}, {1, 0}, {1, 1}, {0, 1}} {
		p := geom.Point{X: float64(from + c[0]*size/2 + r.IntN(size/2+1)), Y: float64(from + c[1]*size/2 + r.IntN(size/2+1))}
		ring = append(ring, p.Add(move))
	}
	return ring
}

func wholeGrid(r *rand.Rand, move geom.Vector) (Surface, error) {
	g := GridData{Origin: geom.Point{}.Add(move), DX: float64(1 + r.IntN(2)), DY: 1, Cols: 3 + r.IntN(3), Rows: 3 + r.IntN(4)}
	for range g.Cols * g.Rows {
		z := float64(r.IntN(4))
		if r.IntN(9) == 0 {
			z = math.NaN()
		}
		g.Z = append(g.Z, z)
	}
	return NewGrid(g)
}

// line draws a line of a few legs: between places of a half lattice in and about
// the site, or along an edge of a facet, to its ends, within, or beyond.
func (s site) line(r *rand.Rand) (line []geom.Point) {
	box := s.Bounds()
	lattice := func() geom.Point {
		w, h := int(2*math.Ceil(box.Width())), int(2*math.Ceil(box.Height()))
		return geom.Point{X: math.Floor(box.Min.X) + float64(r.IntN(w+5)-2)/2, Y: math.Floor(box.Min.Y) + float64(r.IntN(h+5)-2)/2}
	}
	for len(line) < 2+r.IntN(3) {
		f := s.ref.facets[r.IntN(len(s.ref.facets))]
		i := r.IntN(3)
		a, b := f[i].Plan(), f[(i+1)%3].Plan()
		kind := r.IntN(8)
		if s.cut && kind < 4 {
			kind = 0 // other places along a rounded edge lie beside it
		}
		switch kind {
		case 0:
			line = append(line, a, b)
		case 1:
			line = append(line, a.Toward(b, -1), a.Toward(b, 2))
		case 2:
			line = append(line, a.Toward(b, 0.25), b.Toward(a, 0.25))
		case 3:
			line = append(line, a.Toward(b, 0.5), lattice())
		case 4:
			line = append(line, a)
		default:
			line = append(line, lattice())
		}
	}
	return line
}

// piece is a facet's part of a leg: shares lo to hi, at height z of the share.
type piece struct {
	lo, hi *big.Rat
	z      lin
}

func (p piece) holds(t *big.Rat) bool { return p.lo.Cmp(t) <= 0 && t.Cmp(p.hi) <= 0 }

// pieces cuts every facet, its border included, by the leg a–b.
func (r referee) pieces(a, b geom.Point) (out []piece) {
	for _, f := range r.facets {
		if !geom.BoxOf(f[0].Plan(), f[1].Plan(), f[2].Plan()).Meets(geom.BoxOf(a, b)) {
			continue
		}
		p := piece{new(big.Rat), big.NewRat(1, 1), lin{new(big.Rat), new(big.Rat)}}
		area, holds := cross2(f[0].Plan(), f[1].Plan(), f[2].Plan()), true
		for i := range f {
			u, v := f[(i+1)%3].Plan(), f[(i+2)%3].Plan()
			w := linBetween(cross2(u, v, a), cross2(u, v, b))
			holds = holds && clipPositive(w, p.lo, p.hi)
			z := new(big.Rat).Quo(ratOf(f[i].Z), area)
			p.z.k.Add(p.z.k, new(big.Rat).Mul(w.k, z))
			p.z.m.Add(p.z.m, new(big.Rat).Mul(w.m, z))
		}
		if holds && p.lo.Cmp(p.hi) <= 0 {
			out = append(out, p)
		}
	}
	return out
}

// leg is the breaks of a–b: its ends and wherever a facet begins or ends.
func (r referee) leg(a, b geom.Point, station float64) (out []ProfilePoint) {
	pieces := r.pieces(a, b)
	cuts := []*big.Rat{new(big.Rat)}
	if a != b {
		cuts = append(cuts, big.NewRat(1, 1))
		for _, p := range pieces {
			cuts = append(cuts, p.lo, p.hi)
		}
	}
	slices.SortFunc(cuts, (*big.Rat).Cmp)
	cuts = slices.CompactFunc(cuts, func(x, y *big.Rat) bool { return x.Cmp(y) == 0 })
	for i, t := range cuts {
		share, _ := t.Float64()
		x, _ := linBetween(ratOf(a.X), ratOf(b.X)).at(t).Float64()
		y, _ := linBetween(ratOf(a.Y), ratOf(b.Y)).at(t).Float64()
		p := ProfilePoint{Station: station + share*a.Distance(b), At: geom.Point{X: x, Y: y}, Z: math.NaN(), Gap: i+1 < len(cuts)}
		for _, q := range pieces {
			if q.holds(t) {
				p.Z, _ = q.z.at(t).Float64()
				p.Known = true
				p.Gap = p.Gap && !q.holds(cuts[i+1])
			}
		}
		out = append(out, p)
	}
	return out
}

// profile is the exact breaks of a line, each rounded once.
func (r referee) profile(line []geom.Point) (out []ProfilePoint) {
	station := 0.0
	for i, b := range line {
		a := line[max(0, i-1)]
		if i == 0 && len(line) > 1 {
			continue
		}
		leg := r.leg(a, b, station)
		if len(out) > 0 { // the joint, told by the leg that begins there
			out = out[:len(out)-1]
		}
		out = append(out, leg...)
		station += a.Distance(b)
	}
	return out
}

// withoutIdle leaves out points within a gap, where the line crosses edges that no
// facet has.
func withoutIdle(p []ProfilePoint, ends []geom.Point) (out []ProfilePoint) {
	for i, q := range p {
		idle := !q.Known && i > 0 && q.Gap && p[i-1].Gap
		if !idle || slices.Contains(ends, q.At) {
			out = append(out, q)
		}
	}
	return out
}

// joined takes points closer than tol as one: slivers beside rounded cuts.
func joined(p []ProfilePoint, tol float64) (out []ProfilePoint) {
	for i, q := range p {
		k := len(out) - 1
		if i == 0 || q.Station-p[i-1].Station > tol {
			out = append(out, q)
			continue
		}
		if !q.Known {
			q.Z, q.Known = out[k].Z, out[k].Known
		}
		q.At, q.Station = out[k].At, out[k].Station
		out[k] = q
	}
	return out
}

func sameProfile(got, want []ProfilePoint, tol float64) bool {
	return slices.EqualFunc(got, want, func(g, w ProfilePoint) bool {
		return g.Known == w.Known && g.Gap == w.Gap && math.IsNaN(g.Z) == !g.Known &&
			g.At.Distance(w.At) <= tol && math.Abs(g.Station-w.Station) <= tol &&
			(!g.Known || math.Abs(g.Z-w.Z) <= 4*tol) // slopes to 1:3
	})
}

// Profile has every break of the rational profile, no other, and its gaps.
func TestProfileBreaksExactly(t *testing.T) {
	gaps, points := 0, 0
	sites(t, 72, func(s site, r *rand.Rand) {
		for range 6 {
			line := s.line(r)
			got, want := withoutIdle(s.Profile(line), line), withoutIdle(s.ref.profile(line), line)
			if s.cut {
				got, want = joined(got, s.tol), joined(want, s.tol)
			}
			if !sameProfile(got, want, s.tol) {
				t.Errorf("%s: Profile(%v) =\n%v, want\n%v (tol %v m)", s.name, line, got, want, s.tol)
			}
			for _, p := range want {
				points++
				if p.Gap {
					gaps++
				}
			}
		}
	})
	if gaps < 100 || points < 10*gaps/9 {
		t.Errorf("%d gaps at %d points: the test is one-sided", gaps, points)
	}
}

// lowest is the exact lowest ground on an outline.
func (r referee) lowest(ring geom.Ring) Lowest {
	low := Lowest{Z: math.Inf(1), OK: len(ring) > 0, Missing: true}
	for i := range ring {
		a, b := ring.Side(i)
		for _, p := range r.leg(a, b, 0) {
			low.OK = low.OK && p.Known && !p.Gap
			low.Missing = low.Missing && !p.Known
			if p.Z < low.Z {
				low.Z, low.At = p.Z, p.At
			}
		}
	}
	return low
}

func TestLowestOnExactly(t *testing.T) {
	whole, part, missing := 0, 0, 0
	sites(t, 72, func(s site, r *rand.Rand) {
		for range 6 {
			ring := geom.Ring(s.line(r))
			if r.IntN(6) == 0 {
				ring = ring[:1]
			}
			got, want := s.LowestOn(ring), s.ref.lowest(ring)
			switch {
			case want.OK:
				whole++
			case want.Missing:
				missing++
			default:
				part++
			}
			if got.OK != want.OK || got.Missing != want.Missing {
				t.Errorf("%s: LowestOn(%v) = %+v, want %+v", s.name, ring, got, want)
				continue
			}
			if want.Missing {
				continue
			}
			// The place may be another of the same height.
			near, _ := s.ref.nearest(ring, got.At)
			if !(math.Abs(got.Z-want.Z) <= 4*s.tol) || !(near.At.Distance(got.At) <= s.tol) || !(math.Abs(near.Z-want.Z) <= 4*s.tol) {
				t.Errorf("%s: LowestOn(%v) = %+v, want %+v (tol %v m); the break there is %+v", s.name, ring, got, want, s.tol, near)
			}
		}
	})
	if whole < 40 || part < 60 || missing < 10 {
		t.Errorf("%d outlines on the ground, %d in part, %d not: the test is one-sided", whole, part, missing)
	}
}

// nearest is the exact break of an outline on the ground nearest to p.
func (r referee) nearest(ring geom.Ring, p geom.Point) (best ProfilePoint, ok bool) {
	for i := range ring {
		a, b := ring.Side(i)
		for _, q := range r.leg(a, b, 0) {
			if q.Known && (!ok || q.At.Distance(p) < best.At.Distance(p)) {
				best, ok = q, true
			}
		}
	}
	return best, ok
}

// A line from the edge of a hole into the ground was once followed through no
// length of the hole: the outline was said to leave the survey and the sight to
// pass where nothing is known.
func TestLineFromTheEdgeOfAHole(t *testing.T) {
	nan := math.NaN()
	grid, err := NewGrid(GridData{DX: 2, DY: 2, Cols: 3, Rows: 3, Z: []float64{0, 0, 0, 0, 0, 0, 0, nan, 0}})
	if err != nil {
		t.Fatal(err)
	}
	on := geom.Point{X: 1, Y: 2} // on the north side of the south-west cell, where the hole begins
	for _, to := range []geom.Point{{X: 1, Y: 1}, {X: 0.5, Y: 0.5}, {X: 3, Y: 1}, {X: 2, Y: 0}} {
		for _, line := range [][]geom.Point{{on, to}, {to, on}} {
			for i, p := range grid.Profile(line) {
				if !p.Known || p.Gap {
					t.Errorf("Profile(%v) point %d = %+v, want ground and no gap", line, i, p)
				}
			}
			if low := grid.LowestOn(line); !low.OK {
				t.Errorf("LowestOn(%v) = %+v, want all of it on the ground", line, low)
			}
			if got := grid.FirstHit(line[0].Raised(1), line[1].Raised(1)); got != (Sight{}) {
				t.Errorf("FirstHit over %v = %+v, want clear and known", line, got)
			}
		}
	}
}
