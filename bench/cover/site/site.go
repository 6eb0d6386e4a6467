// Package site makes the instances that the cover solver is judged on.
package site

import (
	"bufio"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"strconv"
	"strings"
)

// Kind is a kind of instance in testdata/covers: a 500 × 400 m site with
// blocking rectangles; a candidate place is a set of the elements in its disc
// of sight. Sizes and radii are those the files tell; the last is larger.
type Kind struct {
	Name           string
	across, along  int // grid of places, of which sets stay
	sets, elements int
	radius         float64
	rectangles     int
}

// Kinds are those of the files, and a larger one.
var Kinds = []Kind{
	{"a50x200", 9, 7, 50, 200, 80, 6},
	{"b200x1000", 18, 14, 200, 1000, 70, 10},
	{"c400x5000", 25, 20, 400, 5000, 60, 14},
	{"d1000x20000", 40, 32, 1000, 20000, 50, 18},
}

// Instance is a covering problem of unit cost.
type Instance struct {
	Elements int
	Sets     [][]int32
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

// ground is the site behind an instance.
type ground struct {
	blocks []rectangle
	places []spot
	points []spot
	radius float64
}

// sees says whether a place has a point in its disc of sight.
func (s ground) sees(a, b spot) bool {
	dx, dy := b.x-a.x, b.y-a.y
	return dx*dx+dy*dy <= s.radius*s.radius && !s.hides(a, b)
}

func (s ground) hides(a, b spot) bool {
	for _, r := range s.blocks {
		if r.blocks(a, b) {
			return true
		}
	}
	return false
}

// problem lists what each place sees.
func (s ground) instance() Instance {
	p := Instance{Elements: len(s.points)}
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

// Fresh makes a site of the kind; the same seed makes the same site. Every
// point is seen from some place.
func (k Kind) Fresh(seed uint64) Instance {
	r := rand.New(rand.NewPCG(seed, 6))
	s := ground{radius: k.radius}
	for range k.rectangles {
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
	return s.instance()
}

// grid of places outside the rectangles, as many as the kind has, row by row.
func (k Kind) grid(s ground, r *rand.Rand) []spot {
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

// Read reads a file like those of testdata/covers: lines "sets elements", then
// "cost count elements…" for each set; every cost must be 1.
func Read(path string) (Instance, error) {
	f, err := os.Open(path)
	if err != nil {
		return Instance{}, err
	}
	defer f.Close()
	in := bufio.NewReaderSize(f, 1<<20)
	for {
		line, err := in.ReadString('\n')
		if err != nil {
			return Instance{}, err
		}
		if strings.HasPrefix(line, "#") {
			continue
		}
		var sets int
		var p Instance
		if _, err := fmt.Sscan(line, &sets, &p.Elements); err != nil {
			return p, err
		}
		for range sets {
			set, err := readSet(in)
			if err != nil {
				return p, err
			}
			p.Sets = append(p.Sets, set)
		}
		return p, nil
	}
}

func readSet(in *bufio.Reader) ([]int32, error) {
	line, err := in.ReadString('\n')
	if err != nil {
		return nil, err
	}
	words := strings.Fields(line)
	if len(words) < 2 || words[0] != "1" || words[1] != strconv.Itoa(len(words)-2) {
		return nil, fmt.Errorf("set %q: want cost 1, a count and as many elements", line)
	}
	set := make([]int32, len(words)-2)
	for i, w := range words[2:] {
		e, err := strconv.ParseInt(w, 10, 32)
		if err != nil {
			return nil, err
		}
		set[i] = int32(e)
	}
	return set, nil
}

// Text writes an instance as Read reads it.
func (p Instance) Text() string {
	var b strings.Builder
	fmt.Fprintln(&b, len(p.Sets), p.Elements)
	for _, set := range p.Sets {
		fmt.Fprint(&b, "1 ", len(set))
		for _, e := range set {
			fmt.Fprint(&b, " ", e)
		}
		fmt.Fprintln(&b)
	}
	return b.String()
}

// LP writes an instance in the LP format that the referees read.
func (p Instance) LP() string {
	rows := make([][]int, p.Elements)
	var b strings.Builder
	b.WriteString("Minimize\n obj:")
	for j, set := range p.Sets {
		fmt.Fprintf(&b, " + x%d", j)
		if j%16 == 15 {
			b.WriteString("\n")
		}
		for _, e := range set {
			rows[e] = append(rows[e], j)
		}
	}
	b.WriteString("\nSubject To\n")
	for e, row := range rows {
		fmt.Fprintf(&b, " r%d:", e)
		for k, j := range row {
			fmt.Fprintf(&b, " + x%d", j)
			if k%16 == 15 {
				b.WriteString("\n")
			}
		}
		b.WriteString(" >= 1\n")
	}
	b.WriteString("Binary\n")
	for j := range p.Sets {
		fmt.Fprintf(&b, " x%d\n", j)
	}
	b.WriteString("End\n")
	return b.String()
}
