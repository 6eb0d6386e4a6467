package ground

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"spadework/engine/geom"
	"spadework/engine/phrase"
)

// layouts are the plans that break triangulations.
var layouts = map[string]func(r *rand.Rand) []geom.Point{
	"three":  func(r *rand.Rand) []geom.Point { return []geom.Point{{X: 0, Y: 0}, {X: 1, Y: 0}, {X: 0, Y: 1}} },
	"random": func(r *rand.Rand) []geom.Point { return scatter(r, 700) },
	"many":   func(r *rand.Rand) []geom.Point { return scatter(r, 5000) },
	"grid": func(r *rand.Rand) (p []geom.Point) {
		for i := range 900 {
			p = append(p, geom.Point{X: float64(i % 30), Y: float64(i / 30)})
		}
		return p
	},
	"decimal grid": func(r *rand.Rand) (p []geom.Point) {
		for i := range 900 {
			p = append(p, geom.Point{X: float64(i%30) * 0.1, Y: float64(i/30) * 0.1})
		}
		return p
	},
	"circle": func(r *rand.Rand) (p []geom.Point) {
		for i := range 500 {
			s, c := math.Sincos(float64(i) * math.Pi / 250)
			p = append(p, geom.Point{X: c, Y: s})
		}
		return p
	},
	"exact circle": func(r *rand.Rand) (p []geom.Point) { // of 325² = x² + y² in integers
		for x := -325; x <= 325; x++ {
			y := math.Sqrt(float64(325*325 - x*x))
			if y == math.Trunc(y) {
				p = append(p, geom.Point{X: float64(x), Y: y}, geom.Point{X: float64(x), Y: -y})
			}
		}
		return p
	},
	"duplicates": func(r *rand.Rand) (p []geom.Point) {
		q := scatter(r, 100)
		for range 900 {
			p = append(p, q[r.IntN(len(q))])
		}
		return p
	},
	"lines": func(r *rand.Rand) (p []geom.Point) {
		for i := range 300 {
			p = append(p, geom.Point{X: float64(i) / 8, Y: 0}, geom.Point{X: 3, Y: float64(i) / 4}, geom.Point{X: float64(i), Y: float64(i)})
		}
		return p
	},
	"nearly a line": func(r *rand.Rand) (p []geom.Point) {
		for i := range 300 {
			p = append(p, geom.Point{X: float64(i) * 0.1, Y: float64(i) * 0.3})
		}
		return append(p, geom.Point{X: 5, Y: 0})
	},
	"one apart": func(r *rand.Rand) (p []geom.Point) {
		for i := range 200 {
			p = append(p, geom.Point{X: float64(i), Y: 7})
		}
		return append(p, geom.Point{X: 30, Y: 7.000001})
	},
	"clusters": func(r *rand.Rand) (p []geom.Point) {
		for k := range 8 {
			c, size := scatter(r, 1)[0], math.Pow(10, float64(-k))
			for range 150 {
				p = append(p, c.Add(geom.Vector{X: size * r.NormFloat64(), Y: size * r.NormFloat64()}))
			}
		}
		return p
	},
}

func scatter(r *rand.Rand, n int) []geom.Point {
	p := make([]geom.Point, n)
	for i := range p {
		p[i] = geom.Point{X: r.Float64(), Y: r.Float64()}
	}
	return p
}

// frame is where and how large a plan may lie. Scaling by a power of two keeps
// what lies on one line or circle there, exactly; the others round it off.
type frame struct {
	name  string
	scale float64
	move  geom.Vector
}

var frames = []frame{
	{"as is", 1, geom.Vector{}},
	{"micro", 1e-6, geom.Vector{}},
	{"mega", 1e6, geom.Vector{}},
	{"eastings", 1, geom.Vector{X: 500_000, Y: 4_900_000}},
	{"2^-20", 1.0 / (1 << 20), geom.Vector{}},
	{"2^20", 1 << 20, geom.Vector{}},
	{"micro at eastings", 1e-6, geom.Vector{X: 500_000, Y: 4_900_000}},
}

func (f frame) place(p geom.Point) geom.Point {
	return geom.Point{X: p.X * f.scale, Y: p.Y * f.scale}.Add(f.move)
}

func (f frame) shots(s []Shot) []Shot {
	out := make([]Shot, len(s))
	for i, shot := range s {
		out[i] = Shot{f.place(shot.At), shot.Z}
	}
	return out
}

func (f frame) ring(r geom.Ring) geom.Ring {
	var out geom.Ring
	for _, p := range r {
		out = append(out, f.place(p))
	}
	return out
}

func (f frame) survey(s survey) survey {
	out := survey{shots: f.shots(s.shots)}
	for _, l := range s.lines {
		out.lines = append(out.lines, f.shots(l))
	}
	out.options = Options{
		Boundary: f.ring(s.options.Boundary), LongestEdge: s.options.LongestEdge * f.scale, Near: s.options.Near * f.scale,
	}
	for _, h := range s.options.Holes {
		out.options.Holes = append(out.options.Holes, f.ring(h))
	}
	return out
}

func raised(points []geom.Point) []Shot {
	out := make([]Shot, len(points))
	for i, p := range points {
		out[i] = Shot{p, p.X - 2*p.Y}
	}
	return out
}

func TestBuildIsDelaunay(t *testing.T) {
	for layout, points := range layouts {
		if testing.Short() && layout == "many" {
			continue
		}
		for _, frame := range frames {
			r := rand.New(rand.NewPCG(3, 4))
			p := points(r)
			r.Shuffle(len(p), func(i, j int) { p[i], p[j] = p[j], p[i] })
			s := frame.survey(survey{shots: raised(p)})
			tin, report, err := s.build()
			if fault := tooFewPoints(err); fault && frame.scale == 1e-6 {
				continue // at eastings a plan of a micrometre rounds onto one line
			}
			if err == nil {
				err = s.validate(tin, report)
			}
			if err == nil && len(p) <= 1000 {
				err = bruteDelaunay(tin)
			}
			if err != nil {
				t.Errorf("Build(%s, %s): %v", layout, frame.name, err)
			}
		}
	}
}

func tooFewPoints(err error) bool {
	var f *phrase.Fault
	return errors.As(err, &f) && f.What.Key == "ground.too_few"
}

// The validators must be able to fail.
func TestValidatorsFail(t *testing.T) {
	shots := raised(scatter(rand.New(rand.NewPCG(5, 6)), 200))
	cross := Breakline{Shot{geom.Point{X: 0.3, Y: 0.7}, 1}, Shot{geom.Point{X: 0.7, Y: 0.3}, 1}}
	s := survey{shots, []Breakline{{shots[0], shots[1]}, {Shot{geom.Point{X: 0.3, Y: 0.3}, 1}, Shot{geom.Point{X: 0.7, Y: 0.7}, 1}}, cross}, Options{
		Boundary: geom.Ring{{X: 0.1, Y: 0.1}, {X: 0.9, Y: 0.1}, {X: 0.9, Y: 0.9}, {X: 0.1, Y: 0.9}},
	}}
	freeEdge := func(t *TIN) edge {
		l := layer{TIN: t}
		for e := range t.edges() {
			if !t.isFixed(e) && l.convex(e) {
				return e
			}
		}
		panic("no free edge")
	}
	harm := map[string]func(t *TIN, r *Report){
		"flipped edge":        func(t *TIN, _ *Report) { t.flip(freeEdge(t)) },
		"moved point":         func(t *TIN, _ *Report) { t.pts[7].X += 0.5 },
		"wrong twin":          func(t *TIN, _ *Report) { t.faces[9].twin[0] = t.faces[9].twin[1] },
		"merged miscounted":   func(_ *TIN, r *Report) { r.Merged++ },
		"outside miscounted":  func(_ *TIN, r *Report) { r.Outside++ },
		"points miscounted":   func(_ *TIN, r *Report) { r.Points-- },
		"conflict miscounted": func(_ *TIN, r *Report) { r.Conflicts++ },
		"nearby miscounted":   func(_ *TIN, r *Report) { r.Nearby += 1000 },
		"crossing untold":     func(_ *TIN, r *Report) { r.Crossings = 0 },
		"height changed":      func(t *TIN, _ *Report) { t.z[7]++ },
		"free edge fixed":     func(t *TIN, _ *Report) { t.setFixed(freeEdge(t), true) },
		"ground in the hole": func(t *TIN, r *Report) {
			for f := range int32(len(t.faces)) {
				if !t.isGhost(f) && !t.known(f) {
					t.faces[f].v[3] &^= noGround
					r.Triangles++
					return
				}
			}
		},
		"crossing beside its leg": func(t *TIN, _ *Report) {
			for v, p := range t.pts {
				if t.rows[v] == far && p.Distance(geom.Point{X: 0.5, Y: 0.5}) < 0.01 {
					t.pts[v].X += 1e-12
					t.pts[v].Y += 2e-12
				}
			}
		},
		"freed leg": func(t *TIN, _ *Report) {
			for e := range t.edges() {
				t.setFixed(e, false)
			}
		},
	}
	for name, f := range harm {
		tin, r, err := s.build()
		if err == nil {
			err = s.validate(tin, r)
		}
		if err != nil {
			t.Fatalf("validate = %v before the harm", err)
		}
		f(tin, &r)
		if err := s.validate(tin, r); err == nil {
			t.Errorf("validate = nil after: %s", name)
		} else {
			t.Logf("%s: %v", name, err)
		}
	}
}

func TestBuildCounts(t *testing.T) {
	shot := func(x, y, z float64) Shot { return Shot{geom.Point{X: x, Y: y}, z} }
	shots := []Shot{
		shot(0, 0, 1), shot(10, 0, 1), shot(10, 10, 3), shot(0, 10, 3),
		shot(10, 0, 1),      // merged
		shot(0, 0, 2),       // conflict with row 0
		shot(0, 0, 1),       // merged
		shot(10, 9.9995, 3), // near row 2
	}
	lines := []Breakline{
		{shot(0, 0, 1), shot(10, 10, 3), shot(10, 10, 3)}, // a leg of no length
		{shot(10, 0, 1), shot(0, 10, 7)},                  // crosses at (5, 5): 2 and 2 … its end conflicts
	}
	tin, r, err := Build(shots, lines, Options{})
	if err != nil {
		t.Fatal(err)
	}
	if err := validate(tin, r, shots, lines); err != nil {
		t.Error(err)
	}
	if r.Merged != 6 || r.Conflicts != 2 || r.Nearby != 1 || r.Crossings != 1 || r.Dropped != 1 || r.Outside != 0 || r.Points != 6 {
		t.Errorf("Build counts %+v, want 6 merged, 2 conflicts, 1 nearby, 1 crossing, 1 dropped, 0 outside, 6 points", r)
	}
	if want := (Conflict{Pair{Row{-1, 0}, Row{-1, 5}}, 1, 2}); len(r.ConflictList) != 2 || r.ConflictList[0] != want {
		t.Errorf("Build conflicts %+v, want first %+v", r.ConflictList, want)
	}
	if want := (Pair{Row{-1, 2}, Row{-1, 7}}); len(r.NearbyList) != 1 || r.NearbyList[0] != want {
		t.Errorf("Build nearby %+v, want %+v", r.NearbyList, want)
	}
	if z, ok := tin.Height(geom.Point{X: 5, Y: 5}); z != 2 || !ok {
		t.Errorf("Height at the crossing = %v %v, want 2", z, ok)
	}
	if z, ok := tin.Height(geom.Point{}); z != 1 || !ok {
		t.Errorf("Height at the conflict = %v %v, want 1 of the earlier row", z, ok)
	}
}

// Crossing lines of different height take the mean and are told.
func TestBuildCrossingHeights(t *testing.T) {
	shot := func(x, y, z float64) Shot { return Shot{geom.Point{X: x, Y: y}, z} }
	lines := []Breakline{{shot(0, 0, 0), shot(8, 8, 8)}, {shot(0, 8, 1), shot(8, 0, 1)}}
	tin, r, err := Build(nil, lines, Options{})
	if err != nil {
		t.Fatal(err)
	}
	if len(r.CrossingList) != 1 {
		t.Fatalf("Build lists crossings %+v, want 1", r.CrossingList)
	}
	c := r.CrossingList[0]
	if c.At != (geom.Point{X: 4, Y: 4}) || c.ZA+c.ZB != 5 || math.Abs(c.ZA-c.ZB) != 3 {
		t.Errorf("crossing %+v, want at 4, 4 heights 4 and 1", c)
	}
	if z, _ := tin.Height(geom.Point{X: 4, Y: 4}); z != 2.5 {
		t.Errorf("Height at the crossing = %v, want 2.5", z)
	}
}

func TestBuildFaults(t *testing.T) {
	p := func(x, y, z float64) Shot { return Shot{geom.Point{X: x, Y: y}, z} }
	nan, inf := math.NaN(), math.Inf(1)
	cases := []struct {
		name  string
		shots []Shot
		lines []Breakline
		key   phrase.Key
	}{
		{"none", nil, nil, "ground.too_few"},
		{"two", []Shot{p(0, 0, 0), p(1, 1, 1)}, nil, "ground.too_few"},
		{"one place", []Shot{p(1, 1, 0), p(1, 1, 1), p(1, 1, 2)}, nil, "ground.too_few"},
		{"two places", []Shot{p(1, 1, 0), p(2, 1, 1), p(1, 1, 2)}, nil, "ground.too_few"},
		{"one line", []Shot{p(0, 0, 0), p(1, 2, 1), p(2, 4, 2), p(-3, -6, 2)}, nil, "ground.too_few"},
		{"NaN", []Shot{p(0, 0, 0), p(1, nan, 1), p(2, 4, 2)}, nil, "ground.not_finite"},
		{"NaN height", []Shot{p(0, 0, 0), p(1, 0, nan), p(2, 4, 2)}, nil, "ground.not_finite"},
		{"Inf", []Shot{p(0, 0, 0), p(inf, 0, 1), p(2, 4, 2)}, nil, "ground.not_finite"},
		{"line", []Shot{p(0, 0, 0), p(1, 0, 1), p(2, 4, 2)}, []Breakline{{p(0, -inf, 0)}}, "ground.not_finite_line"},
	}
	for _, c := range cases {
		_, _, err := Build(c.shots, c.lines, Options{})
		var f *phrase.Fault
		if !errors.As(err, &f) || f.What.Key != c.key {
			t.Errorf("Build(%s) = %v, want %s", c.name, err, c.key)
		}
	}
}

// Random segments in a small square on a coarse lattice meet in every way:
// through points, along each other, at ends, crossing; a boundary and holes cross
// them. In every frame.
func TestBuildBreaklines(t *testing.T) {
	seeds := uint64(420)
	if testing.Short() {
		seeds = 84
	}
	for seed := range seeds {
		r := rand.New(rand.NewPCG(seed, 9))
		step := []float64{1, 0.1, 1.0 / 3}[seed%3]
		at := func() Shot {
			p := geom.Point{X: float64(r.IntN(12)) * step, Y: float64(r.IntN(12)) * step}
			if seed%2 == 0 && r.IntN(2) == 0 {
				p = geom.Point{X: 12 * step * r.Float64(), Y: 12 * step * r.Float64()}
			}
			return Shot{p, r.Float64()}
		}
		var s survey
		for range r.IntN(60) {
			s.shots = append(s.shots, at())
		}
		for range 1 + r.IntN(12) {
			var l Breakline
			for range 1 + r.IntN(5) {
				l = append(l, at())
			}
			s.lines = append(s.lines, l)
		}
		for range int(seed/3%4) * r.IntN(2) {
			s.options.Holes = append(s.options.Holes, geom.Ring{at().At, at().At, at().At})
		}
		if seed/3%4 > 1 {
			s.options.Boundary = geom.Ring{at().At, at().At, at().At, at().At, at().At}
		}
		if seed%5 == 0 {
			s.options.LongestEdge = 4 * step
		}
		frame := frames[seed%7]
		s = frame.survey(s)
		tin, report, err := s.build()
		if err == nil {
			err = s.validate(tin, report)
		}
		if err != nil && !tooFewPoints(err) {
			t.Errorf("Build(seed %d, %s) = %v", seed, frame.name, err)
		}
	}
}

// Holes whose sides run a rounding beside each other at eastings once met at ever
// new points, one float64 further each time, until the crossings allowed were
// spent: forty seconds and a fault for a survey of eight points.
const (
	walkingPoints = "@\xc0\xc5\v\xa1@@\xad\x80\x9c@\x80\xe4@\xc0\x00\x00W"
	walkingLimits = "\x01\x80S\x00\x00\xd2\x1c@[\x00\x00\x01\xc0Pp\xc0\x9a\xf4\x9eE\x80[\xc0\x80\x15\xc0\xc0J\x00\x00\x9f\x14N\x80V\x00\x81]\xe7\xa6\x82"
)

func TestBuildDoesNotWalkAlongFlatSides(t *testing.T) {
	s := frames[3].survey(fuzzedSurvey([]byte(walkingPoints), []byte(walkingLimits)))
	tin, report, err := s.build()
	if err != nil {
		t.Fatalf("Build(walking sides) = %v, want ground", err)
	}
	if err := s.validate(tin, report); err != nil {
		t.Error(err)
	}
	if got := tin.added(); got > 200 {
		t.Errorf("Build(walking sides) adds %d vertices, want at most 200", got)
	}
}

// FuzzBuild turns bytes into points on a lattice, or one float64 beside it,
// lines between them and limits, in one of the frames. The lattice begins at 1:
// readers snap to a micrometre, and Build promises nothing for distances near the
// smallest float64.
func FuzzBuild(f *testing.F) {
	for i := range frames {
		f.Add(uint8(i), []byte("the quick brown fox jumps over the lazy dog"), []byte("lawn"))
		f.Add(uint8(i), []byte{0, 0, 1, 0, 255, 1, 255, 0, 1, 255, 255, 2, 7, 7, 2, 9, 9, 0, 4, 4, 0}, []byte{0, 1, 1, 90, 2, 80, 80, 5, 60})
		f.Add(uint8(i), []byte("\x00\x000\x0000\x00070"), []byte{}) // a survey 5e-324 m wide made the index of hints infinite
	}
	// two legs along one line, a rounding apart: the crossing was put beyond both
	f.Add(uint8(0), []byte("$$$$$$$$$$NNNNNNN$\x1f$$D$$$$$$$$$$$$$\x1e$$$$$$$$$$$7777\xb0477777777\"4002DDDDD\x0e\x0e\x0e\x0e\x0e\x0e\x0e\x0e\x0e\x0e\x0e\x0eDDD$D$$$$47000#$$\xb077DD0"), []byte{})
	f.Add(uint8(3), []byte(walkingPoints), []byte(walkingLimits))
	// a sliver a rounding wide, crossed by a hole's side at a flat angle
	f.Add(uint8(51), []byte("\xff10000007"), []byte("01007\xe310"))
	f.Fuzz(func(t *testing.T, where uint8, points, limits []byte) {
		if len(points) > 900 || len(limits) > 60 {
			return
		}
		s := frames[int(where)%len(frames)].survey(fuzzedSurvey(points, limits))
		tin, report, err := s.build()
		if err == nil {
			err = s.validate(tin, report)
		}
		var fault *phrase.Fault
		if err != nil && !errors.As(err, &fault) {
			t.Error(err)
		}
	})
}

// fuzzedSurvey reads three bytes a point, and from limits the longest edge and
// rings of five corners, the first of them the boundary if that byte is odd.
func fuzzedSurvey(points, limits []byte) (s survey) {
	for ; len(points) >= 3; points = points[3:] {
		p := Shot{geom.Point{X: 1 + float64(points[0])*0.1, Y: 1 + float64(points[1])*0.1}, float64(points[2])}
		if points[2]&4 != 0 {
			p.At.X = math.Nextafter(p.At.X, 100)
		}
		switch k := len(s.lines) - 1; {
		case points[2]&3 == 1 || points[2]&3 == 2 && k < 0:
			s.lines = append(s.lines, Breakline{p})
		case points[2]&3 == 2:
			s.lines[k] = append(s.lines[k], p)
		default:
			s.shots = append(s.shots, p)
		}
	}
	if len(limits) == 0 {
		return s
	}
	kind := limits[0]
	s.options.LongestEdge = float64(kind>>1) * 0.2
	for limits = limits[1:]; len(limits) >= 6; limits = limits[min(len(limits), 10):] {
		var ring geom.Ring
		for i := 0; i+1 < min(len(limits), 10); i += 2 {
			ring = append(ring, geom.Point{X: 1 + float64(limits[i])*0.1, Y: 1 + float64(limits[i+1])*0.1})
		}
		if kind&1 != 0 && s.options.Boundary == nil {
			s.options.Boundary = ring
			continue
		}
		s.options.Holes = append(s.options.Holes, ring)
	}
	return s
}
