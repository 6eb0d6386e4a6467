package geom

import (
	"math"
	"math/rand/v2"
	"testing"
)

var (
	square = Ring{{0, 0}, {4, 0}, {4, 4}, {0, 4}}
	lShape = Ring{{0, 0}, {6, 0}, {6, 2}, {2, 2}, {2, 5}, {0, 5}}
	bowtie = Ring{{0, 0}, {4, 4}, {4, 0}, {0, 4}}
	east   = Vector{500_000, 4_900_000}
)

func moved(r Ring, v Vector) Ring {
	out := make(Ring, len(r))
	for i, p := range r {
		out[i] = p.Add(v)
	}
	return out
}

// Areas and centroids worked by hand from rectangles.
func TestRingAreaCentroid(t *testing.T) {
	cases := []struct {
		name     string
		ring     Ring
		area     float64
		centroid Point
	}{
		{"none", nil, 0, Point{}},
		{"two", Ring{{0, 0}, {2, 2}}, 0, Point{1, 1}},
		{"square", square, 16, Point{2, 2}},
		{"L", lShape, 18, Point{(12*3 + 6*1) / 18.0, (12*1 + 6*3.5) / 18.0}},
		{"clockwise", square.Reversed(), -16, Point{2, 2}},
		{"eastings", moved(square, east), 16, Point{2, 2}.Add(east)},
	}
	for _, c := range cases {
		if got := c.ring.Area(); got != c.area {
			t.Errorf("Area(%s) = %v, want %v", c.name, got, c.area)
		}
		if got := c.ring.Centroid(); !(got.Distance(c.centroid) <= 1e-9) { // 1e-9 m: eastings to 5e6
			t.Errorf("Centroid(%s) = %v, want %v", c.name, got, c.centroid)
		}
	}
	if got := square.Perimeter(); got != 16 {
		t.Errorf("Perimeter = %v, want 16", got)
	}
	if r := square.Reversed(); r[0] != square[0] || r[1] != square[3] {
		t.Errorf("Reversed = %v, want from the same corner", r)
	}
}

func TestRingContains(t *testing.T) {
	cases := []struct {
		ring Ring
		p    Point
		want Side
	}{
		{square, Point{2, 2}, Inside},
		{square, Point{0, 0}, OnEdge},
		{square, Point{4, 2}, OnEdge},
		{square, Point{2, 4}, OnEdge},
		{square, Point{2, 0}, OnEdge},
		{square, Point{5, 4}, Outside},
		{square, Point{-1, 0}, Outside},
		{square, Point{5, 0}, Outside},
		{square, Point{math.Nextafter(4, 5), 2}, Outside},
		{square, Point{math.Nextafter(4, 3), 2}, Inside},
		{lShape, Point{4, 3}, Outside},
		{lShape, Point{2, 2}, OnEdge},
		{lShape, Point{1, 2}, Inside},
		{bowtie, Point{1, 2}, Inside},
		{bowtie, Point{2, 3}, Outside},
		{Ring{}, Point{}, Outside},
	}
	for _, c := range cases {
		for name, r := range map[string]Ring{"": c.ring, "reversed ": c.ring.Reversed()} {
			if got := r.Contains(c.p); got != c.want {
				t.Errorf("Contains(%s%v, %v) = %v, want %v", name, c.ring, c.p, got, c.want)
			}
		}
	}
}

// Against the winding of triangles: a point is inside a star-shaped ring iff it
// is in one of the triangles from its centre.
func TestRingContainsStar(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 8))
	for range 200 {
		var ring Ring
		for i := range 12 {
			s, c := math.Sincos(float64(i) * math.Pi / 6)
			d := 1 + 3*r.Float64()
			ring = append(ring, Point{d * c, d * s})
		}
		for range 100 {
			p := Point{8*r.Float64() - 4, 8*r.Float64() - 4}
			want := false
			for i := range ring {
				a, b := ring.Side(i)
				o := Point{}
				want = want || Orient(o, a, p) >= 0 && Orient(a, b, p) >= 0 && Orient(b, o, p) >= 0
			}
			if got := ring.Contains(p) != Outside; got != want {
				t.Fatalf("Contains(%v, %v) = %v, want %v", ring, p, got, want)
			}
		}
	}
}

func TestSelfIntersects(t *testing.T) {
	cases := []struct {
		name string
		ring Ring
		i, j int
		ok   bool
	}{
		{"square", square, 0, 0, false},
		{"L", lShape, 0, 0, false},
		{"triangle", Ring{{0, 0}, {1, 0}, {0, 1}}, 0, 0, false},
		{"bowtie", bowtie, 0, 2, true},
		{"spike", Ring{{0, 0}, {4, 0}, {2, 0}, {2, 3}}, 0, 1, true},
		{"touch", Ring{{0, 0}, {4, 0}, {4, 4}, {2, 0}, {0, 4}}, 0, 2, true},
		{"repeated", Ring{{0, 0}, {4, 0}, {4, 0}, {0, 4}}, 0, 2, true},
	}
	for _, c := range cases {
		if i, j, ok := c.ring.SelfIntersects(); i != c.i || j != c.j || ok != c.ok {
			t.Errorf("SelfIntersects(%s) = %d %d %v, want %d %d %v", c.name, i, j, ok, c.i, c.j, c.ok)
		}
	}
}

func TestMeet(t *testing.T) {
	cases := []struct {
		a, b, c, d Point
		want       Meeting
	}{
		{Point{0, 0}, Point{4, 4}, Point{0, 4}, Point{4, 0}, Crossing},
		{Point{0, 0}, Point{4, 4}, Point{2, 2}, Point{4, 0}, Touching},
		{Point{0, 0}, Point{4, 4}, Point{4, 4}, Point{5, 0}, Touching},
		{Point{0, 0}, Point{4, 4}, Point{1, 1}, Point{9, 9}, Overlapping},
		{Point{0, 0}, Point{4, 4}, Point{4, 4}, Point{9, 9}, Touching},
		{Point{0, 0}, Point{4, 4}, Point{5, 5}, Point{9, 9}, Apart},
		{Point{0, 0}, Point{4, 4}, Point{1, 2}, Point{0, 4}, Apart},
	}
	for _, c := range cases {
		if got := Meet(c.a, c.b, c.c, c.d); got != c.want {
			t.Errorf("Meet(%v, %v, %v, %v) = %v, want %v", c.a, c.b, c.c, c.d, got, c.want)
		}
		if got := Meet(c.d, c.c, c.b, c.a); got != c.want {
			t.Errorf("Meet(%v, %v, %v, %v) = %v, want %v", c.d, c.c, c.b, c.a, got, c.want)
		}
	}
}

func near(a, b Ring) bool {
	if len(a) != len(b) {
		return false
	}
	for i := range a {
		if !(a[i].Distance(b[i]) <= 1e-9) {
			return false
		}
	}
	return true
}

func TestRectangle(t *testing.T) {
	got := Rectangle(Point{10, 20}, Vector{0, 5}, 6, 2) // along north: the right side is east
	if want := (Ring{{11, 17}, {11, 23}, {9, 23}, {9, 17}}); !near(got, want) || got.Area() != 12 {
		t.Errorf("Rectangle = %v, want %v", got, want)
	}
	if got := Rectangle(Point{}, Vector{}, 1, 1); got != nil {
		t.Errorf("Rectangle along nothing = %v, want nil", got)
	}
}

func TestBand(t *testing.T) {
	cases := []struct {
		name  string
		line  []Point
		width float64
		want  Ring
	}{
		{"straight", []Point{{0, 0}, {10, 0}}, 2, Ring{{0, -1}, {10, -1}, {10, 1}, {0, 1}}},
		{"corner", []Point{{0, 0}, {10, 0}, {10, 10}}, 2, Ring{{0, -1}, {11, -1}, {11, 10}, {9, 10}, {9, 1}, {0, 1}}},
		{"repeated point", []Point{{0, 0}, {0, 0}, {10, 0}}, 2, Ring{{0, -1}, {10, -1}, {10, 1}, {0, 1}}},
		{"in line", []Point{{0, 0}, {5, 0}, {10, 0}}, 2, Ring{{0, -1}, {5, -1}, {10, -1}, {10, 1}, {5, 1}, {0, 1}}},
		{"one point", []Point{{0, 0}}, 2, nil},
		{"back", []Point{{0, 0}, {10, 0}, {5, 0}}, 2, nil},
		{"no width", []Point{{0, 0}, {10, 0}}, 0, nil},
	}
	for _, c := range cases {
		if got := Band(c.line, c.width); !near(got, c.want) {
			t.Errorf("Band(%s) = %v, want %v", c.name, got, c.want)
		}
	}
}

func TestOffsetOutward(t *testing.T) {
	cases := []struct {
		name string
		ring Ring
		d    []float64
		want Ring // nil for a fault
	}{
		{"square", square, []float64{1, 1, 1, 1}, Ring{{-1, -1}, {5, -1}, {5, 5}, {-1, 5}}},
		{"by side", square, []float64{1, 2, 0, 3}, Ring{{-3, -1}, {6, -1}, {6, 4}, {-3, 4}}},
		{"L", lShape, []float64{1, 1, 1, 1, 1, 1}, Ring{{-1, -1}, {7, -1}, {7, 3}, {3, 3}, {3, 6}, {-1, 6}}},
		{"in line, alike", Ring{{0, 0}, {2, 0}, {4, 0}, {4, 4}, {0, 4}}, []float64{1, 1, 1, 1, 1}, Ring{{-1, -1}, {2, -1}, {5, -1}, {5, 5}, {-1, 5}}},
		{"in line, step", Ring{{0, 0}, {2, 0}, {4, 0}, {4, 4}, {0, 4}}, []float64{1, 2, 0, 0, 0}, Ring{{0, -1}, {2, -1}, {2, -2}, {4, -2}, {4, 4}, {0, 4}}},
		{"notch closes", Ring{{0, 0}, {9, 0}, {9, 5}, {5, 5}, {5, 2}, {4, 2}, {4, 5}, {0, 5}}, []float64{1, 1, 1, 1, 1, 1, 1, 1}, nil},
		{"clockwise", square.Reversed(), []float64{1, 1, 1, 1}, nil},
		{"too few distances", square, []float64{1, 1}, nil},
		{"spike", Ring{{0, 0}, {4, 0}, {4, 4}, {4, 9}, {4, 4}, {0, 4}}, []float64{1, 1, 1, 1, 1, 1}, nil},
	}
	for _, c := range cases {
		got, err := OffsetOutward(c.ring, c.d)
		if (err != nil) != (c.want == nil) || c.want != nil && !near(got, c.want) {
			t.Errorf("OffsetOutward(%s) = %v, %v, want %v", c.name, got, err, c.want)
		}
	}
}

// Law: of a convex ring offset by d all round the area grows by d times the
// perimeter and the mitres' d²·Σ tan(turn/2).
func TestOffsetOutwardArea(t *testing.T) {
	for n := 3; n < 12; n++ {
		var ring Ring
		for i := range n {
			s, c := math.Sincos(2 * math.Pi * float64(i) / float64(n))
			ring = append(ring, Point{5 * c, 5 * s}.Add(east))
		}
		d := make([]float64, n)
		for i := range d {
			d[i] = 0.75
		}
		out, err := OffsetOutward(ring, d)
		if err != nil {
			t.Fatal(err)
		}
		want := ring.Area() + 0.75*ring.Perimeter() + 0.75*0.75*float64(n)*math.Tan(math.Pi/float64(n))
		if !(math.Abs(out.Area()-want) <= 1e-6) { // 1e-6 m²: corners rounded at 5e6
			t.Errorf("OffsetOutward of %d sides covers %v m², want %v", n, out.Area(), want)
		}
	}
}

func TestBox(t *testing.T) {
	b := BoxOf(Point{1, 5}, Point{3, 2})
	if b != (Box{Point{1, 2}, Point{3, 5}}) || b.Width() != 2 || b.Height() != 3 || b.Ring().Area() != 6 {
		t.Errorf("BoxOf = %v", b)
	}
	if e := EmptyBox(); !e.Empty() || e.Holds(Point{}) || b.Union(e) != b || e.Union(b) != b {
		t.Errorf("EmptyBox holds something")
	}
	if !b.Meets(Box{Point{3, 5}, Point{9, 9}}) || b.Meets(Box{Point{3.1, 5}, Point{9, 9}}) {
		t.Errorf("Meets is wrong at the border")
	}
	if !OnSegment(Point{2, 2}, Point{0, 0}, Point{4, 4}) || OnSegment(Point{5, 5}, Point{0, 0}, Point{4, 4}) {
		t.Errorf("OnSegment is wrong")
	}
}
