package gradeline

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"sort"
	"strconv"
	"strings"
	"testing"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/optimize/convex/lp"

	"spadework/engine/unit"
)

// randomProblem is a run over random ground with bends at given stations, and
// now and then fixed inverts, passes and a most fall.
func randomProblem(r *rand.Rand, points int) Problem {
	p := Problem{Width: 0.6, Cover: unit.Length(0.5 + r.Float64()), Over: 0.2, Wall: 0.01, Under: 0.11}
	s, z := 0.0, 100.0
	for range points {
		p.Covered = append(p.Covered, Point{unit.Station(s), unit.Elevation(z)})
		s += 0.5 + 10*r.Float64()
		z += 2*r.Float64() - 1.1
	}
	end := float64(p.Covered[points-1].Station)
	p.Falls = AnyFall()
	if r.IntN(3) > 0 {
		p.Falls.Least = unit.Grade(0.04*r.Float64() - 0.01)
		if r.IntN(2) > 0 {
			p.Falls.Most = p.Falls.Least + unit.Grade(0.1*r.Float64())
		}
	}
	p.Bends = AtStations
	for range r.IntN(5) {
		p.At = append(p.At, unit.Station(end*r.Float64()))
	}
	if r.IntN(3) == 0 {
		at := p.Covered[r.IntN(points)]
		p.Fixed = append(p.Fixed, Fixed{at.Station, at.Z - unit.Elevation(1.2+3*r.Float64())})
	}
	if r.IntN(3) == 0 {
		at := unit.Station(end * r.Float64())
		z := Height(p.Covered, at) - unit.Elevation(2+4*r.Float64())
		p.Passes = append(p.Passes, Pass{ID: "W", Station: at, Over: r.IntN(2) == 0, Level: z, Clearance: 0.3})
	}
	return p
}

// programme is a problem written anew as a linear programme over the heights at
// the bends: maximise cost·z under rows·z ≤ limits. It shares no code with the
// solver but the problem itself.
type programme struct {
	nodes  []float64
	cost   []float64
	rows   [][]float64
	limits []float64
	zero   float64
}

func programmeOf(p Problem) programme {
	g := programme{zero: float64(p.Covered[0].Z)}
	start, end := float64(p.Covered[0].Station), float64(p.Covered[len(p.Covered)-1].Station)
	g.nodes = []float64{start, end}
	for _, s := range p.At {
		g.nodes = append(g.nodes, float64(s))
	}
	sort.Float64s(g.nodes)
	n := len(g.nodes)
	g.cost = make([]float64, n)
	for k := 1; k < n; k++ {
		run := g.nodes[k] - g.nodes[k-1]
		g.cost[k-1] += run / 2
		g.cost[k] += run / 2
		if l := float64(p.Falls.Least); !math.IsInf(l, 0) { // z[k] − z[k−1] ≤ −least·run
			g.row(-l*run, k, 1, k-1, -1)
		}
		if m := float64(p.Falls.Most); !math.IsInf(m, 0) {
			g.row(m*run, k, -1, k-1, 1)
		}
	}
	depth := float64(p.Cover + p.Over)
	for _, c := range p.Covered {
		g.at(float64(c.Station), float64(c.Z)-depth, 1)
	}
	for _, s := range g.nodes {
		i := sort.Search(len(p.Covered)-1, func(i int) bool { return float64(p.Covered[i].Station) >= s })
		z := float64(p.Covered[i].Z)
		if i > 0 {
			a, b := p.Covered[i-1], p.Covered[i]
			z = float64(a.Z) + float64(b.Z-a.Z)*(s-float64(a.Station))/float64(b.Station-a.Station)
		}
		g.at(s, z-depth, 1)
	}
	for _, f := range p.Fixed {
		g.at(float64(f.Station), float64(f.Invert), 1)
		g.at(float64(f.Station), float64(f.Invert), -1)
	}
	for _, x := range p.Passes {
		if x.Over {
			g.at(float64(x.Station), float64(x.Level+unit.Elevation(x.Clearance+p.Wall)), -1)
		} else {
			g.at(float64(x.Station), float64(x.Level-unit.Elevation(x.Clearance+p.Over)), 1)
		}
	}
	return g
}

func (g *programme) row(limit float64, k int, a float64, j int, b float64) {
	row := make([]float64, len(g.nodes))
	row[k] += a
	row[j] += b
	g.rows, g.limits = append(g.rows, row), append(g.limits, limit)
}

// at asks sign·z(s) ≤ sign·z.
func (g *programme) at(s, z, sign float64) {
	k := sort.SearchFloat64s(g.nodes, s)
	k = min(max(k, 1), len(g.nodes)-1)
	t := (s - g.nodes[k-1]) / (g.nodes[k] - g.nodes[k-1])
	g.row(sign*(z-g.zero), k, sign*t, k-1, sign*(1-t))
}

// value is the greatest ∫ z of a line, by the figures of its vertices.
func (g *programme) value(l Line) float64 {
	var sum float64
	for k, s := range g.nodes {
		sum += g.cost[k] * (float64(l.At(unit.Station(s))) - g.zero)
	}
	return sum
}

// simplex solves it with gonum; feasible is false if there is no line.
func (g *programme) simplex() (best float64, feasible bool, err error) {
	// z = u − v with u, v ≥ 0 is what lp.Convert does.
	c := make([]float64, len(g.cost))
	for i, v := range g.cost {
		c[i] = -v
	}
	rows := mat.NewDense(len(g.rows), len(g.nodes), nil)
	for i, r := range g.rows {
		rows.SetRow(i, r)
	}
	cc, a, b := lp.Convert(c, rows, g.limits, nil, nil)
	f, _, err := lp.Simplex(cc, a, b, 1e-10, nil)
	switch err {
	case nil:
		return -f, true, nil
	case lp.ErrInfeasible:
		return 0, false, nil
	}
	return 0, false, err
}

// TestBendsGivenAgainstTheSimplexMethod compares the optimum with the simplex
// method of gonum (v0.17.0) on random grounds. Where gonum gives up (a singular
// basis) the ground is not counted; the counts must reach 500 all the same.
func TestBendsGivenAgainstTheSimplexMethod(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 1))
	solved, clashes, left := 0, 0, 0
	for i := 0; solved < 600 && i < 4000; i++ {
		p := randomProblem(r, 3+r.IntN(25))
		g := programmeOf(p)
		want, feasible, err := g.simplex()
		if err != nil {
			left++
			continue
		}
		l, clash := Find(p)
		if (clash == nil) != feasible {
			t.Fatalf("ground %d: Find gives %v, the simplex method says feasible = %v", i, clash, feasible)
		}
		if !feasible {
			clashes++
			continue
		}
		solved++
		keeps(t, p, l)
		if got := g.value(l); !(math.Abs(got-want) <= 1e-6) {
			t.Errorf("ground %d: ∫ line = %.9f, want %.9f (tol 1e-6 m²: of the simplex method)", i, got, want)
		}
	}
	t.Logf("%d solved alike, %d without a line alike, %d left by the simplex method", solved, clashes, left)
	if solved < 500 || clashes < 20 {
		t.Errorf("compared %d grounds and %d clashes, want 500 and 20", solved, clashes)
	}
}

// keeps fails if a line breaks a rule of its problem by more than a tenth of a
// micrometre, at the ground's breaks, at the line's own and between.
func keeps(t *testing.T, p Problem, l Line) {
	t.Helper()
	const tol = 1e-7
	stations := []unit.Station{}
	for _, c := range p.Covered {
		stations = append(stations, c.Station)
	}
	for _, v := range l.Vertices {
		stations = append(stations, v.Station)
	}
	for _, s := range stations {
		if cover := Height(p.Covered, s).Above(l.At(s)) - p.Over; !(cover >= p.Cover-tol) {
			t.Errorf("cover at %v = %.9f, want at least %.9f", s, cover, p.Cover)
		}
	}
	for i := 1; i < len(l.Vertices); i++ {
		a, b := l.Vertices[i-1], l.Vertices[i]
		run := unit.Length(b.Station - a.Station)
		drop := a.Invert.Above(b.Invert)
		if !(drop >= p.Falls.Least.Over(run)-tol && drop <= p.Falls.Most.Over(run)+tol) {
			t.Errorf("fall %v to %v = %.9f m over %.3f m, want %v to %v", a.Station, b.Station, drop, run, p.Falls.Least, p.Falls.Most)
		}
	}
	for _, f := range p.Fixed {
		if off := l.At(f.Station).Above(f.Invert); !(math.Abs(float64(off)) <= tol) {
			t.Errorf("line at %v is %.9f off its fixed invert", f.Station, off)
		}
	}
	for _, x := range p.Passes {
		off := l.At(x.Station).Above(x.Level) - p.Wall
		if !x.Over {
			off = x.Level.Above(l.At(x.Station)) - p.Over
		}
		if !(off >= x.Clearance-tol) {
			t.Errorf("line passes %s with %.9f, want at least %.9f", x.ID, off, x.Clearance)
		}
	}
}

// TestStraightAgainstAllPairs compares one straight grade with the best of all
// lines through two limits: the corners of a programme of two unknowns.
func TestStraightAgainstAllPairs(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 2))
	solved := 0
	for i := 0; solved < 500; i++ {
		p := randomProblem(r, 2+r.IntN(12))
		p.Bends, p.At = Straight, nil
		g := programmeOf(p)
		best := math.Inf(-1)
		for a := range g.rows {
			for b := range a {
				det := g.rows[a][0]*g.rows[b][1] - g.rows[a][1]*g.rows[b][0]
				if math.Abs(det) < 1e-12 {
					continue
				}
				x := (g.limits[a]*g.rows[b][1] - g.limits[b]*g.rows[a][1]) / det
				y := (g.rows[a][0]*g.limits[b] - g.rows[b][0]*g.limits[a]) / det
				good := true
				for k, row := range g.rows {
					good = good && row[0]*x+row[1]*y <= g.limits[k]+1e-8
				}
				if good {
					best = max(best, g.cost[0]*x+g.cost[1]*y)
				}
			}
		}
		l, clash := Find(p)
		if clash != nil {
			if !math.IsInf(best, -1) {
				t.Errorf("ground %d: %v, but a line is there", i, clash)
			}
			continue
		}
		solved++
		keeps(t, p, l)
		if got := g.value(l); !(math.Abs(got-best) <= 1e-6) {
			t.Errorf("ground %d: ∫ line = %.9f, want %.9f (tol 1e-6 m²: rows kept to 1e-8)", i, got, best)
		}
	}
}

// TestBendsAtBreaksAgainstADenseDynamicProgramme compares lines that may bend
// at every break of the ground with a dynamic programme over whole centimetres,
// which holds the optimum when all figures are whole centimetres.
func TestBendsAtBreaksAgainstADenseDynamicProgramme(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 3))
	for i := range 600 {
		n := 2 + r.IntN(30)
		least, most := r.IntN(5)-1, 0
		most = least + r.IntN(12)
		top := make([]int, n) // highest line, cm
		z := 500
		p := Problem{Width: 1, Falls: Falls{unit.Grade(least) / 100, unit.Grade(most) / 100}, Bends: AtStations}
		for k := range n {
			z += r.IntN(31) - 17
			top[k] = z
			p.Covered = append(p.Covered, Point{unit.Station(k), unit.Elevation(z) / 100})
			p.At = append(p.At, unit.Station(k))
		}
		const deep = 1500
		value := make([]int, deep) // of a line that ends at top − d, twice the area
		for d := range value {
			value[d] = top[0] - d
		}
		for k := 1; k < n; k++ {
			next := make([]int, deep)
			for d := range next {
				next[d] = math.MinInt32
				for fall := least; fall <= most; fall++ {
					before := top[k-1] - (top[k] - d + fall)
					if before >= 0 && before < deep && value[before] > math.MinInt32 {
						next[d] = max(next[d], value[before]+(2-k/(n-1))*(top[k]-d))
					}
				}
			}
			value = next
		}
		best := math.MinInt32
		for _, v := range value {
			best = max(best, v)
		}
		l, clash := Find(p)
		if clash != nil {
			t.Fatal(clash)
		}
		keeps(t, p, l)
		g := programmeOf(p)
		if got := 200 * (g.value(l) + g.zero*float64(n-1)); !(math.Abs(got-float64(best)) <= 1e-6) {
			t.Errorf("ground %d: 2∫ line = %.6f, want %d (tol 1e-6 cm·m: rounding)", i, got, best)
		}
	}
}

// TestBendsAnywhereIsTheHighestLine compares with the definition: at every
// station the lowest of what the cover at any other station leaves under the
// falls, on a fine comb of stations.
func TestBendsAnywhereIsTheHighestLine(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 5))
	for i := range 500 {
		p := randomProblem(r, 2+r.IntN(20))
		p.Bends, p.At, p.Fixed, p.Passes = Anywhere, nil, nil, nil
		l, clash := Find(p)
		if clash != nil {
			t.Fatal(clash)
		}
		keeps(t, p, l)
		end := float64(p.Covered[len(p.Covered)-1].Station)
		comb := []unit.Station{}
		for k := range 60 {
			comb = append(comb, unit.Station(end*float64(k)/59))
		}
		all := append([]unit.Station{}, comb...)
		for _, c := range p.Covered {
			all = append(all, c.Station)
		}
		for _, s := range comb {
			want := math.Inf(1)
			for _, o := range all {
				top := float64(Height(p.Covered, o)) - float64(p.Cover+p.Over)
				switch {
				case o == s:
				case o < s:
					top -= float64(p.Falls.Least) * float64(s-o)
				default:
					top += float64(p.Falls.Most) * float64(o-s)
				}
				want = min(want, top)
			}
			if got := float64(l.At(s)); !(math.Abs(got-want) <= 1e-8) {
				t.Errorf("ground %d: line at %v = %.9f, want %.9f (tol 1e-8 m: rounding)", i, s, got, want)
			}
		}
		if !l.Proven {
			t.Errorf("ground %d: not proven", i)
		}
	}
}

// TestAgainstGLPK hands random grounds to glpsol (GLPK) where it is installed;
// the long checks have it.
func TestAgainstGLPK(t *testing.T) {
	solver, err := exec.LookPath("glpsol")
	if err != nil {
		t.Skip("glpsol is not installed")
	}
	r := rand.New(rand.NewPCG(4, 6))
	folder := t.TempDir()
	solved, clashes := 0, 0
	count := 60
	if os.Getenv("SPADEWORK_LONG") != "" {
		count = 700
	}
	for i := range count {
		p := randomProblem(r, 3+r.IntN(60))
		g := programmeOf(p)
		want, feasible := g.glpk(t, solver, folder)
		l, clash := Find(p)
		if (clash == nil) != feasible {
			t.Fatalf("ground %d: Find gives %v, GLPK says feasible = %v", i, clash, feasible)
		}
		if !feasible {
			clashes++
			continue
		}
		solved++
		keeps(t, p, l)
		if got := g.value(l); !(math.Abs(got-want) <= 1e-5) {
			t.Errorf("ground %d: ∫ line = %.9f, want %.9f (tol 1e-5 m²: GLPK prints nine digits)", i, got, want)
		}
	}
	t.Logf("%d solved alike, %d without a line alike", solved, clashes)
	if solved < count/2 {
		t.Errorf("compared %d grounds, want %d", solved, count/2)
	}
}

// glpk solves the programme with glpsol, which reads the CPLEX LP format.
func (g *programme) glpk(t *testing.T, solver, folder string) (best float64, feasible bool) {
	t.Helper()
	var b strings.Builder
	terms := func(row []float64) {
		for k, v := range row {
			fmt.Fprintf(&b, " %+.17g z%d", v, k)
		}
	}
	b.WriteString("Maximize\n area:")
	terms(g.cost)
	b.WriteString("\nSubject To\n")
	for i, row := range g.rows {
		terms(row)
		fmt.Fprintf(&b, " <= %.17g\n", g.limits[i])
	}
	b.WriteString("Bounds\n")
	for k := range g.nodes {
		fmt.Fprintf(&b, " z%d free\n", k)
	}
	b.WriteString("End\n")
	in, out := filepath.Join(folder, "in.lp"), filepath.Join(folder, "out.txt")
	if err := os.WriteFile(in, []byte(b.String()), 0o644); err != nil {
		t.Fatal(err)
	}
	if said, err := exec.Command(solver, "--lp", in, "-o", out).CombinedOutput(); err != nil {
		t.Fatalf("glpsol: %v\n%s", err, said)
	}
	data, err := os.ReadFile(out)
	if err != nil {
		t.Fatal(err)
	}
	text := string(data)
	if !strings.Contains(text, "Status:     OPTIMAL") {
		return 0, false
	}
	_, rest, _ := strings.Cut(text, "Objective:")
	_, rest, _ = strings.Cut(rest, "= ")
	figure, _, _ := strings.Cut(rest, " ")
	best, err = strconv.ParseFloat(figure, 64)
	if err != nil {
		t.Fatalf("glpsol's objective: %v", err)
	}
	return best, true
}
