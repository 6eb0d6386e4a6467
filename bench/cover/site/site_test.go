package site

import (
	"bufio"
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"
)

// readGround reads the places behind a file of testdata/covers.
func readGround(t *testing.T, path string) ground {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	var s ground
	for in := bufio.NewScanner(f); in.Scan(); {
		line := in.Text()
		var r rectangle
		var p spot
		switch line[0] {
		case '#':
			_, radius, _ := strings.Cut(line, "radius ")
			_, err = fmt.Sscan(radius, &s.radius)
		case 'R':
			_, err = fmt.Sscan(line[1:], &r.x0, &r.y0, &r.x1, &r.y1)
			s.blocks = append(s.blocks, r)
		case 'C':
			_, err = fmt.Sscan(line[1:], &p.x, &p.y)
			s.places = append(s.places, p)
		case 'E':
			_, err = fmt.Sscan(line[1:], &p.x, &p.y)
			s.points = append(s.points, p)
		default:
			err = fmt.Errorf("line %q", line)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	return s
}

// The disc of sight here gives the sets of the files from the places behind
// them, so fresh instances are of the same kind. Source: testdata/covers.
func TestSightAgreesWithTheFiles(t *testing.T) {
	for _, k := range Kinds[:3] {
		want, err := Read("../../../testdata/covers/" + k.Name + ".txt")
		if err != nil {
			t.Fatal(err)
		}
		s := readGround(t, "../../../testdata/covers/"+k.Name+".geo")
		if s.radius != k.radius || len(s.blocks) != k.rectangles || len(s.places) != k.sets || len(s.points) != k.elements {
			t.Fatalf("%s: %d rectangles, %d places, %d points, radius %v, want %+v", k.Name, len(s.blocks), len(s.places), len(s.points), s.radius, k)
		}
		got := s.instance()
		if got.Elements != want.Elements || !slices.EqualFunc(got.Sets, want.Sets, slices.Equal) {
			t.Errorf("%s: the sets seen differ from the file's", k.Name)
		}
	}
}

func TestFreshIsTheSameForTheSameSeed(t *testing.T) {
	a, b, c := Kinds[0].Fresh(7), Kinds[0].Fresh(7), Kinds[0].Fresh(8)
	if a.Text() != b.Text() || a.Text() == c.Text() {
		t.Error("Fresh(7) twice and Fresh(8) = want two equal, one other")
	}
	if a.Elements != 200 || len(a.Sets) != 50 {
		t.Errorf("Fresh(7) has %d sets, %d elements, want 50, 200", len(a.Sets), a.Elements)
	}
}
