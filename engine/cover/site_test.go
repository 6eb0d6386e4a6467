package cover

import (
	"bufio"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"strings"
	"testing"
)

// kind is a kind of instance in testdata/covers: a 500 × 400 m site with
// blocking rectangles; a candidate place is a set of the elements in its disc
// of sight. Sizes and radii are those the files tell; the last is larger.
type kind struct {
	name           string
	across, along  int // grid of places, of which sets stay
	sets, elements int
	radius         float64
	rectangles     int
}

var kinds = []kind{
	{"a50x200", 9, 7, 50, 200, 80, 6},
	{"b200x1000", 18, 14, 200, 1000, 70, 10},
	{"c400x5000", 25, 20, 400, 5000, 60, 14},
	{"d1000x20000", 40, 32, 1000, 20000, 50, 18},
}

type spot struct{ x, y float64 }

type rectangle struct{ x0, y0, x1, y1 float64 }

// blocks says whether the rectangle and the segment from a to b meet.
func (r rectangle) blocks(a, b spot) bool {
	t0, t1 := 0.0, 1.0
	dx, dy := b.x-a.x, b.y-a.y
	for _, s := range [4][2]float64{{-dx, a.x - r.x0}, {dx, r.x1 - a.x}, {-dy, a.y - r.y0}, {dy, r.y1 - a.y}} {
		switch {
		case s[0] < 0:
			t0 = max(t0, s[1]/s[0])
		case s[0] > 0:
			t1 = min(t1, s[1]/s[0])
		case s[1] < 0:
			return false
		}
	}
	return t0 <= t1
}

// site is the ground behind an instance.
type site struct {
	blocks []rectangle
	places []spot
	points []spot
	radius float64
}

// sees says whether a place has a point in its disc of sight.
func (s site) sees(a, b spot) bool {
	dx, dy := b.x-a.x, b.y-a.y
	return dx*dx+dy*dy <= s.radius*s.radius && !s.hides(a, b)
}

func (s site) hides(a, b spot) bool {
	for _, r := range s.blocks {
		if r.blocks(a, b) {
			return true
		}
	}
	return false
}

// problem lists what each place sees.
func (s site) problem() Problem {
	p := Problem{Elements: len(s.points)}
	for _, a := range s.places {
		set := []int32{}
		for e, b := range s.points {
			if s.sees(a, b) {
				set = append(set, int32(e))
			}
		}
		p.Sets = append(p.Sets, set)
	}
	return p
}

// fresh makes a site of the kind; the same seed makes the same site. Every
// point is seen from some place.
func (k kind) fresh(seed uint64) Problem {
	r := rand.New(rand.NewPCG(seed, 6))
	s := site{radius: k.radius}
	for range k.rectangles + 1 {
		w, h := 8+32*r.Float64(), 8+32*r.Float64()
		x, y := (500-w)*r.Float64(), (400-h)*r.Float64()
		s.blocks = append(s.blocks, rectangle{x, y, x + w, y + h})
	}
	s.places = k.grid(s, r)
	for len(s.points) < k.elements {
		p := spot{math.Round(50000*r.Float64()) / 100, math.Round(40000*r.Float64()) / 100}
		seen := false
		for _, a := range s.places {
			seen = seen || s.sees(a, p)
		}
		if seen {
			s.points = append(s.points, p)
		}
	}
	return s.problem()
}

// grid of places outside the rectangles, as many as the kind has, row by row.
func (k kind) grid(s site, r *rand.Rand) []spot {
	var all []spot
	for iy := range k.along {
		for ix := range k.across {
			p := spot{(float64(ix) + 0.5) * 500 / float64(k.across), (float64(iy) + 0.5) * 400 / float64(k.along)}
			if !s.hides(p, p) {
				all = append(all, p)
			}
		}
	}
	for len(all) > k.sets {
		i := r.IntN(len(all))
		all = append(all[:i], all[i+1:]...)
	}
	return all
}

// readProblem reads a file of testdata/covers.
func readProblem(t testing.TB, name string) Problem {
	t.Helper()
	f, err := os.Open("../../testdata/covers/" + name + ".txt")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	in := bufio.NewReader(f)
	for {
		line, err := in.ReadString('\n')
		if err != nil {
			t.Fatal(err)
		}
		if strings.HasPrefix(line, "#") {
			continue
		}
		var sets int
		var p Problem
		if _, err := fmt.Sscan(line, &sets, &p.Elements); err != nil {
			t.Fatal(err)
		}
		readSets(t, in, sets, &p)
		return p
	}
}

// readSets reads the lines "cost count elements…".
func readSets(t testing.TB, in *bufio.Reader, sets int, p *Problem) {
	t.Helper()
	for range sets {
		var cost int64
		var n int
		if _, err := fmt.Fscan(in, &cost, &n); err != nil {
			t.Fatal(err)
		}
		set := make([]int32, n)
		for i := range set {
			if _, err := fmt.Fscan(in, &set[i]); err != nil {
				t.Fatal(err)
			}
		}
		p.Sets, p.Cost = append(p.Sets, set), append(p.Cost, cost)
	}
}
