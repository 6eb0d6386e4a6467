package ground

import (
	"math"
	"math/big"
	"math/rand/v2"
	"testing"

	"spadework/engine/geom"
)

// cut is a facet's part of a contour, higher ground on its left: place numbers.
type cut struct{ from, to int }

// contours is all cuts at one elevation, and how often each is there.
type contours struct {
	places []geom.Point
	number map[[2]string]int
	cuts   map[cut]int
	sides  map[[2]geom.Point]int // of facets, by their ends in order
	rim    map[int]bool          // places on a side that one facet alone has
}

// contours cuts every facet by the plane z in rationals.
func (r referee) contours(z float64) contours {
	c := contours{number: map[[2]string]int{}, cuts: map[cut]int{}, sides: map[[2]geom.Point]int{}, rim: map[int]bool{}}
	for _, f := range r.facets {
		for i := range f {
			c.sides[side(f[i], f[(i+1)%3])]++
		}
	}
	for _, f := range r.facets {
		var ends []int
		for i := range f {
			a, b := f[i], f[(i+1)%3]
			if (a.Z >= z) == (b.Z >= z) {
				continue
			}
			k := c.place(a, b, z)
			c.rim[k] = c.rim[k] || c.sides[side(a, b)] == 1
			ends = append(ends, k)
		}
		// Around the facet the side that goes down comes before the side that goes
		// up unless the first corner is low; high ground is left from down to up.
		if len(ends) == 2 && ends[0] != ends[1] {
			down := cut{ends[0], ends[1]}
			if f[0].Z < z {
				down = cut{ends[1], ends[0]}
			}
			c.cuts[down]++
		}
	}
	return c
}

func side(a, b geom.Point3) [2]geom.Point {
	p, q := a.Plan(), b.Plan()
	if q.X < p.X || q.X == p.X && q.Y < p.Y {
		p, q = q, p
	}
	return [2]geom.Point{p, q}
}

// place is the number of the exact place at height z on a–b.
func (c *contours) place(a, b geom.Point3, z float64) int {
	share := new(big.Rat).Sub(ratOf(z), ratOf(a.Z))
	share.Quo(share, new(big.Rat).Sub(ratOf(b.Z), ratOf(a.Z)))
	x, y := linBetween(ratOf(a.X), ratOf(b.X)).at(share), linBetween(ratOf(a.Y), ratOf(b.Y)).at(share)
	key := [2]string{x.RatString(), y.RatString()}
	if k, ok := c.number[key]; ok {
		return k
	}
	px, _ := x.Float64()
	py, _ := y.Float64()
	c.number[key] = len(c.places)
	c.places = append(c.places, geom.Point{X: px, Y: py})
	return len(c.places) - 1
}

// find is the place at p, −1 for none within tol.
func (c *contours) find(p geom.Point, tol float64) int {
	for k, q := range c.places {
		if p.Distance(q) <= tol {
			return k
		}
	}
	return -1
}

// judge takes one line of the contour out of the cuts and says what is wrong.
func (c *contours) judge(line []geom.Point, tol float64) string {
	last, first := -1, -1
	for i, p := range line {
		k := c.find(p, tol)
		switch {
		case k < 0:
			return "a point is on no edge at that height"
		case i == 0:
			first = k
		case c.cuts[cut{last, k}] == 0:
			return "a piece is in no facet, the wrong way round, or told twice"
		default:
			c.cuts[cut{last, k}]--
		}
		last = k
	}
	closed := len(line) > 1 && line[0] == line[len(line)-1]
	if len(line) < 2 || !closed && !(c.rim[first] && c.rim[last]) {
		return "it neither closes nor ends where the ground does"
	}
	return ""
}

// Every contour is made of the cuts of all facets, each once, higher ground on its
// left, and closes or ends at the rim. Heights are whole: whole levels pass
// through vertices, along edges and over flat facets.
func TestContourExactly(t *testing.T) {
	pieces, open, closed := 0, 0, 0
	sites(t, 144, func(s site, _ *rand.Rand) {
		if s.cut { // beside rounded cuts places lie nearer than rounding
			return
		}
		for _, z := range []float64{-1, 0, 0.5, 1, 1.1, 2, 2.75, 3, 4} {
			want := s.ref.contours(z)
			for _, line := range s.Contour(z) {
				pieces += len(line) - 1
				if line[0] == line[len(line)-1] {
					closed++
				} else {
					open++
				}
				if wrong := want.judge(line, s.tol); wrong != "" {
					t.Errorf("%s: Contour(%v) has %v: %s", s.name, z, line, wrong)
				}
			}
			for cut, n := range want.cuts {
				if n != 0 {
					t.Errorf("%s: Contour(%v) lacks the piece %v to %v", s.name, z, want.places[cut.from], want.places[cut.to])
				}
			}
		}
	})
	if pieces < 1000 || open < 200 || closed < 100 {
		t.Errorf("%d pieces, %d lines open, %d closed: the test is one-sided", pieces, open, closed)
	}
}

// No height, no contour: not a number, or over or under everything.
func TestContourOfNoHeight(t *testing.T) {
	sites(t, 12, func(s site, _ *rand.Rand) {
		for _, z := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), -5, 9} {
			if got := s.Contour(z); len(got) != 0 {
				t.Errorf("%s: Contour(%v) = %v, want none", s.name, z, got)
			}
		}
	})
}
