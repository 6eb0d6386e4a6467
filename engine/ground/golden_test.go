package ground

import (
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"hash"
	"math"
	"testing"

	"spadework/engine/geom"
)

// golden are the reference grounds and the hash of their triangles and of what
// is read from them, every bit of it. The same hashes must come out natively,
// without FMA and in wasm:
//
//	GODEBUG=cpu.fma=off go test -run Golden ./engine/ground
//	GOOS=js GOARCH=wasm go test -run Golden -exec "$(go env GOROOT)/lib/wasm/go_js_wasm_exec" ./engine/ground
var golden = []struct {
	name   string
	ground func(t *testing.T) Surface
	z      []float64 // of contours
	hash   string
}{
	{"terr_trian", func(t *testing.T) Surface { return built(t, survey{shots: terrTrian(t)}) },
		[]float64{20, 45.5}, "5305922dc35965f7c116c0ef128ef1064f91e2fa90dea3a788f58643191ca6c9"},
	{"terr_trian, limited", func(t *testing.T) Surface { return built(t, limitedTerrTrian(t)) },
		[]float64{20, 45.5}, "a86cea82f019b0b0b1a8eeb67ed76abc73db0a3da7abed6a6726847a25a595da"},
	{"norway", func(t *testing.T) Surface { return built(t, survey{lines: norway(t, geom.Vector{})}) },
		nil, "8d950b996bf351c63a6a83a9f1a977db3d3c30320893ccd46a43cb9a559ba073"},
	{"norway over itself", func(t *testing.T) Surface {
		return built(t, survey{lines: norway(t, geom.Vector{}, geom.Vector{X: 0.0137, Y: 0.0071})})
	}, []float64{0.5}, "053edc90de64fd0a99fcb7eb5699345c8c68c325d4e63904400e16519ecb4d3e"},
	{"srtm N57E011", func(t *testing.T) Surface { return gridFile(t, "srtm_N57E011_crop251.asc", 50, 93) },
		[]float64{20, 50.5}, "fa342ce3769194e4df36349f17610bf305c709e5edc8b1bcccf706a5c3ba43d7"},
	{"srtm N57E011 as shots", func(t *testing.T) Surface {
		return built(t, survey{shots: shotsOf(gridFile(t, "srtm_N57E011_crop251.asc", 50, 93), geom.Vector{X: 612_000.5, Y: 6_400_000.25})})
	}, []float64{20, 50.5}, "16e06137540f812e03fd82b4e983dd4dc0ffe1397ab7b148e563cb822c34904c"},
	{"jacksboro", func(t *testing.T) Surface { return gridFile(t, "jacksboro_srtm_3arcsec.asc", 75, 93) },
		[]float64{500}, "dc3db032d130a2f7c8858b351ba754aeb84129a2c881fd0c00ff5732768e45e3"},
	{"jacksboro as shots", func(t *testing.T) Surface {
		return built(t, survey{shots: shotsOf(gridFile(t, "jacksboro_srtm_3arcsec.asc", 75.3, 92.7), geom.Vector{})})
	}, []float64{500}, "367236c1689b490f8311755a90c73a8314fc9fa921781103817feb876db1a213"},
}

func terrTrian(t *testing.T) (shots []Shot) {
	for _, r := range rows(t, "cgal_terr_trian_points.csv") {
		shots = append(shots, Shot{geom.Point{X: r[0], Y: r[1]}, r[2]})
	}
	return shots
}

// limitedTerrTrian has a boundary that leaves the survey, a hole and two
// breaklines that cross both.
func limitedTerrTrian(t *testing.T) survey {
	s := survey{shots: terrTrian(t)}
	box := geom.EmptyBox()
	for _, p := range s.shots {
		box = box.With(p.At)
	}
	at := func(x, y float64) geom.Point {
		return geom.Point{X: box.Min.X + x*box.Width(), Y: box.Min.Y + y*box.Height()}
	}
	s.options.Boundary = geom.Ring{at(0.1, -0.2), at(0.9, 0.13), at(1.3, 0.8), at(0.31, 0.93)}
	s.options.Holes = []geom.Ring{{at(0.4, 0.4), at(0.61, 0.43), at(0.47, 0.62)}}
	s.lines = []Breakline{{{at(0.05, 0.37), 30}, {at(0.97, 0.59), 41.7}}, {{at(0.52, 0.04), 12}, {at(0.43, 0.97), 55}}}
	return s
}

func norway(t *testing.T, moves ...geom.Vector) (lines []Breakline) {
	for k, m := range moves {
		for _, r := range rows(t, "cgal_norway_segments.csv") {
			a, b := geom.Point{X: r[0], Y: r[1]}, geom.Point{X: r[2], Y: r[3]}
			lines = append(lines, Breakline{{a.Add(m), float64(k)}, {b.Add(m), float64(k)}})
		}
	}
	return lines
}

// shotsOf is the nodes of a grid as shots.
func shotsOf(g *Grid, move geom.Vector) (shots []Shot) {
	for i, z := range g.Z {
		shots = append(shots, Shot{g.Node(i%g.Cols, i/g.Cols).Add(move), z})
	}
	return shots
}

func built(t *testing.T, s survey) *TIN {
	t.Helper()
	tin, report, err := s.build()
	if err == nil && len(tin.pts) < 10_000 { // the large ones are validated elsewhere
		err = s.validate(tin, report)
	}
	if err != nil {
		t.Fatal(err)
	}
	return tin
}

func TestGolden(t *testing.T) {
	for _, g := range golden {
		if got := hashOf(g.ground(t), g.z); got != g.hash {
			t.Errorf("hash of %s = %s, want %s", g.name, got, g.hash)
		}
	}
}

// hashOf is the SHA-256 of a surface's triangles and answers.
func hashOf(s Surface, contours []float64) string {
	w := bitWriter{sha256.New()}
	w.point(s.Bounds().Min)
	w.point(s.Bounds().Max)
	s.Facets(s.Bounds().Grown(1), func(a, b, c geom.Point3) bool {
		w.place(a)
		w.place(b)
		w.place(c)
		return true
	})
	box := s.Bounds().Grown(s.Bounds().Width() / 50)
	at := func(i, j int) geom.Point {
		return geom.Point{X: box.Min.X + float64(float64(i)*box.Width()/97), Y: box.Min.Y + float64(float64(j)*box.Height()/89)}
	}
	for i := range 98 {
		for j := range 90 {
			z, ok := s.Height(at(i, j))
			slope, _ := s.Slope(at(i, j))
			w.number(z)
			w.yes(ok)
			w.point(geom.Point(slope))
		}
	}
	for i := range 40 {
		line := []geom.Point{at(i, 2*i), at(97-2*i, 45+i), at(50, i)}
		for _, p := range s.Profile(line) {
			w.point(p.At)
			w.number(p.Z)
			w.number(p.Station)
			w.yes(p.Known)
			w.yes(p.Gap)
		}
		low := s.LowestOn(line)
		w.place(low.At.Raised(low.Z))
		w.yes(low.OK)
		hit := s.FirstHit(line[0].Raised(30*float64(i)), line[1].Raised(25*float64(i)))
		w.place(hit.At)
		w.number(hit.Share)
		w.yes(hit.Blocked)
		w.yes(hit.Unknown)
	}
	for _, z := range contours {
		for _, line := range s.Contour(z) {
			for _, p := range line {
				w.point(p)
			}
		}
	}
	return hex.EncodeToString(w.Sum(nil))
}

// bitWriter hashes the bits of numbers.
type bitWriter struct{ hash.Hash }

// number writes v; all NaN are one, their bits are not ours.
func (w bitWriter) number(v float64) {
	bits := math.Float64bits(v)
	if v != v {
		bits = 1
	}
	w.Write(binary.LittleEndian.AppendUint64(nil, bits))
}

func (w bitWriter) point(p geom.Point) {
	w.number(p.X)
	w.number(p.Y)
}

func (w bitWriter) place(p geom.Point3) {
	w.point(p.Plan())
	w.number(p.Z)
}

func (w bitWriter) yes(b bool) {
	if b {
		w.number(1)
	} else {
		w.number(0)
	}
}
