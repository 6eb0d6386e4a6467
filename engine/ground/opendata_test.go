package ground

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"spadework/engine/geom"
)

// rows reads a CSV file of numbers without its header.
func rows(t *testing.T, name string) (out [][]float64) {
	t.Helper()
	data, err := os.ReadFile("testdata/" + name)
	if err != nil {
		t.Fatal(err)
	}
	for _, line := range strings.Split(strings.TrimSpace(string(data)), "\n")[1:] {
		var row []float64
		for _, word := range strings.Split(strings.TrimSpace(line), ",") {
			v, err := strconv.ParseFloat(word, 64)
			if err != nil {
				t.Fatal(err)
			}
			row = append(row, v)
		}
		out = append(out, row)
	}
	return out
}

// CGAL's example surface terr_trian: its triangles are ours, but for the choice
// where four points lie on one circle.
func TestTerrTrian(t *testing.T) {
	shots := terrTrian(t)
	tin, report, err := Build(shots, nil, Options{})
	if err != nil {
		t.Fatal(err)
	}
	if err := validate(tin, report, shots, nil); err != nil {
		t.Error(err)
	}
	ours := map[string]bool{}
	for f := range int32(len(tin.faces)) {
		if v := tin.faces[f].v; !tin.isGhost(f) {
			ours[triple(tin.rows[v[0]], tin.rows[v[1]], tin.rows[v[2]])] = true
		}
	}
	same, tied := 0, 0
	for _, r := range rows(t, "cgal_terr_trian_triangles.csv") {
		a, b, c := shots[int(r[0])].At, shots[int(r[1])].At, shots[int(r[2])].At
		switch {
		case ours[triple(int32(r[0]), int32(r[1]), int32(r[2]))]:
			same++
		case onCircle(shots, a, b, c) > 3:
			tied++
		default:
			t.Errorf("triangle %v %v %v of the reference is not in the mesh", a, b, c)
		}
	}
	if same+tied != 512 || report.Triangles != 512 || same < 200 { // the points lie on a lattice
		t.Errorf("%d triangles, %d as the reference, %d with a tie, want 512", report.Triangles, same, tied)
	}
}

func triple(a, b, c int32) string {
	s := []int32{a, b, c}
	slices.Sort(s)
	return fmt.Sprint(s)
}

// onCircle counts the points on the circle through a, b, c; 0 if one is inside.
func onCircle(shots []Shot, a, b, c geom.Point) int {
	if geom.Orient(a, b, c) < 0 {
		b, c = c, b
	}
	n := 0
	for _, s := range shots {
		switch geom.InCircle(a, b, c, s.At) {
		case 1:
			return 0
		case 0:
			n++
		}
	}
	return n
}

// gridFile reads one of the grids: six lines of head, whole metres, row 0 north.
func gridFile(t *testing.T, name string, dx, dy float64) *Grid {
	t.Helper()
	data, err := os.ReadFile("testdata/" + name)
	if err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(strings.TrimSpace(string(data)), "\n")[6:]
	g := GridData{DX: dx, DY: dy, Rows: len(lines)}
	for i := range lines {
		words := strings.Fields(lines[len(lines)-1-i])
		g.Cols = len(words)
		for _, w := range words {
			v, err := strconv.ParseFloat(w, 64)
			if err != nil {
				t.Fatal(err)
			}
			g.Z = append(g.Z, v)
		}
	}
	s, err := NewGrid(g)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// A cell's two triangles by the south-west–north-east diagonal, worked out
// here from the four nodes; by the plane formula, and by the bilinear one on the
// diagonal itself and at cell borders, where the two surfaces agree.
func TestGridHeightOnSRTM(t *testing.T) {
	g := gridFile(t, "srtm_N57E011_crop251.asc", 50, 93)
	r := rand.New(rand.NewPCG(23, 24))
	for range 20000 {
		i, j, u, v := r.IntN(250), r.IntN(250), r.Float64(), r.Float64()
		sw, se, ne, nw := g.Z[j*251+i], g.Z[j*251+i+1], g.Z[(j+1)*251+i+1], g.Z[(j+1)*251+i]
		want := sw + u*(se-sw) + v*(ne-se)
		if v > u {
			want = sw + v*(nw-sw) + u*(ne-nw)
		}
		p := geom.Point{X: (float64(i) + u) * 50, Y: (float64(j) + v) * 93}
		if z, ok := g.Height(p); !ok || !(math.Abs(z-want) <= 1e-8) { // 1e-8 m: coordinates to 2e4
			t.Fatalf("Height(%v) = %v %v, want %v", p, z, ok, want)
		}
		bilinear := (1-u)*sw + u*se // on the south border of the cell
		if z, ok := g.Height(geom.Point{X: p.X, Y: float64(j) * 93}); !ok || !(math.Abs(z-bilinear) <= 1e-8) {
			t.Fatalf("Height on the border under %v = %v %v, want %v", p, z, ok, bilinear)
		}
	}
}

// Sights over real ground against heights taken densely along them. Where the
// line clears or cuts the samples by less than 1 cm the samples cannot tell.
func TestSightOnJacksboro(t *testing.T) {
	g := gridFile(t, "jacksboro_srtm_3arcsec.asc", 75, 93)
	r := rand.New(rand.NewPCG(25, 26))
	blocked := 0
	for range 300 {
		a := geom.Point{X: 75 * 402 * r.Float64(), Y: 93 * 343 * r.Float64()}
		b := geom.Point{X: 75 * 402 * r.Float64(), Y: 93 * 343 * r.Float64()}
		za, _ := g.Height(a)
		zb, _ := g.Height(b)
		from, to := a.Raised(za+200*r.Float64()), b.Raised(zb+200*r.Float64())
		clearance := math.Inf(1)
		for k := range 5001 {
			p := from.Toward(to, float64(k)/5000)
			z, _ := g.Height(p.Plan())
			clearance = min(clearance, p.Z-z)
		}
		hit := g.FirstHit(from, to)
		if clearance < 0 && !hit.Blocked || clearance > 3 && hit.Blocked { // 3 m: ground between samples 9 m apart
			t.Errorf("FirstHit(%v, %v) = %+v, least clearance of samples %v", from, to, hit, clearance)
		}
		if hit.Blocked {
			blocked++
			if z, ok := g.Height(hit.At.Plan()); !ok || !(math.Abs(z-hit.At.Z) <= 1e-6) {
				t.Errorf("FirstHit(%v, %v) at %v, ground there %v", from, to, hit.At, z)
			}
		}
	}
	if blocked < 30 || blocked > 270 {
		t.Errorf("%d of 300 sights blocked: the test is one-sided", blocked)
	}
}

// 40 578 coast segments, which do not cross, and the same moved over them, so
// that they do: every one in the mesh, crossings as another count finds them.
func TestNorway(t *testing.T) {
	for _, moves := range [][]geom.Vector{{{}}, {{}, {X: 0.0137, Y: 0.0071}}} {
		lines := norway(t, moves...)
		tin, report, err := Build(nil, lines, Options{})
		if err != nil {
			t.Fatal(err)
		}
		if !testing.Short() {
			if err := validate(tin, report, nil, lines); err != nil {
				t.Error(err)
			}
		}
		want := properCrossings(lines)
		if report.Crossings != want || len(moves) > 1 && want < 1000 {
			t.Errorf("Build(norway × %d) counts %d crossings, want %d", len(moves), report.Crossings, want)
		}
		t.Logf("%d triangles, %d merged, %d crossings", report.Triangles, report.Merged, report.Crossings)
	}
}

// properCrossings counts pairs of segments that cross inside both, by buckets.
func properCrossings(lines []Breakline) int {
	const cell = 0.05
	type pair struct{ i, j int }
	buckets, met := map[[2]int][]int{}, map[pair]bool{}
	for j, l := range lines {
		a, b := l[0].At, l[1].At
		box := geom.BoxOf(a, b)
		for x := int(math.Floor(box.Min.X / cell)); x <= int(math.Floor(box.Max.X/cell)); x++ {
			for y := int(math.Floor(box.Min.Y / cell)); y <= int(math.Floor(box.Max.Y/cell)); y++ {
				for _, i := range buckets[[2]int{x, y}] {
					if geom.Meet(lines[i][0].At, lines[i][1].At, a, b) == geom.Crossing {
						met[pair{i, j}] = true
					}
				}
				buckets[[2]int{x, y}] = append(buckets[[2]int{x, y}], j)
			}
		}
	}
	return len(met)
}
