package exchange

import (
	"errors"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"spadework/engine/geom"
	"spadework/engine/ground"
	"spadework/engine/phrase"
)

// Layout after the format's description at Esri, "Esri ASCII raster format".
func TestReadASCIIGrid(t *testing.T) {
	const values = "1 2 3\n-5 4.5 1e1\n"
	cases := []struct {
		name, head string
		origin     geom.Point
		dx, dy     float64
	}{
		{"corner", "ncols 3\nnrows 2\nxllcorner 10\nyllcorner 20\ncellsize 2\nNODATA_value -5\n", geom.Point{X: 11, Y: 21}, 2, 2},
		{"centre", "NCOLS 3\r\nNROWS 2\r\nXLLCENTER 10\r\nYLLCENTER 20\r\nCELLSIZE 2\r\nnodata_value -5\r\n", geom.Point{X: 10, Y: 20}, 2, 2},
		{"dx dy", "ncols 3\nnrows 2\nxllcorner 10\nyllcorner 20\ndx 2\ndy 4\nNODATA_value -5\n", geom.Point{X: 11, Y: 22}, 2, 4},
	}
	for _, c := range cases {
		g, err := ReadASCIIGrid([]byte(c.head + values))
		if err != nil {
			t.Errorf("ReadASCIIGrid(%s) = %v", c.name, err)
			continue
		}
		if g.Origin != c.origin || g.DX != c.dx || g.DY != c.dy || g.Cols != 3 || g.Rows != 2 {
			t.Errorf("ReadASCIIGrid(%s) = %+v, want origin %v spacing %v %v", c.name, g, c.origin, c.dx, c.dy)
		}
		want := []float64{math.NaN(), 4.5, 10, 1, 2, 3}
		for i, w := range want {
			if !(g.Z[i] == w || math.IsNaN(w) && math.IsNaN(g.Z[i])) {
				t.Errorf("ReadASCIIGrid(%s).Z[%d] = %v, want %v", c.name, i, g.Z[i], w)
			}
		}
	}
}

func TestReadASCIIGridFaults(t *testing.T) {
	good := "ncols 2\nnrows 2\nxllcorner 0\nyllcorner 0\ncellsize 1\n1 2\n3 4\n"
	cases := []struct {
		from, to     string
		line, column int
	}{
		{"nrows", "rows", 2, 1},
		{"nrows 2", "ncols 2", 2, 1},
		{"cellsize 1", "cellsize one", 5, 10},
		{"cellsize 1", "cellsize 0", 6, 1},
		{"cellsize 1", "dx 1", 6, 1},
		{"ncols 2", "ncols 2.5", 6, 1},
		{"ncols 2", "ncols 1e9", 6, 1},
		{"3 4", "3 4 5", 7, 5},
		{"3 4", "3 ñ4", 7, 3},
		{"3 4", "3 nan", 7, 3},
		{"3 4", "3 inf", 7, 3},
	}
	for _, c := range cases {
		_, err := ReadASCIIGrid([]byte(strings.Replace(good, c.from, c.to, 1)))
		var f *phrase.Fault
		if !errors.As(err, &f) {
			t.Errorf("ReadASCIIGrid(%q) = %v, want a fault", c.to, err)
			continue
		}
		if f.Place.Line != c.line || f.Place.Column != c.column {
			t.Errorf("ReadASCIIGrid(%q) = %s at %d:%d, want %d:%d", c.to, f.What.Key, f.Place.Line, f.Place.Column, c.line, c.column)
		}
	}
}

// Sizes and extremes as told in the note beside the data.
func TestReadASCIIGridOpenData(t *testing.T) {
	cases := []struct {
		file       string
		cols, rows int
		low, high  float64
	}{
		{"jacksboro_srtm_3arcsec.asc", 403, 344, 236, 1076},
		{"srtm_N57E011_crop251.asc", 251, 251, -2, 163},
	}
	for _, c := range cases {
		data, err := os.ReadFile("../engine/ground/testdata/" + c.file)
		if err != nil {
			t.Fatal(err)
		}
		g, err := ReadASCIIGrid(data)
		if err != nil {
			t.Fatal(err)
		}
		low, high := math.Inf(1), math.Inf(-1)
		for _, z := range g.Z {
			low, high = math.Min(low, z), math.Max(high, z)
		}
		if g.Cols != c.cols || g.Rows != c.rows || low != c.low || high != c.high {
			t.Errorf("ReadASCIIGrid(%s) = %d × %d, %v to %v; want %d × %d, %v to %v", c.file, g.Cols, g.Rows, low, high, c.cols, c.rows, c.low, c.high)
		}
	}
}

// The same cells as GDAL reads them (gdallocationinfo 3.6.2): rows from the north,
// a corner in the header half a cell from the first node.
func TestReadASCIIGridAgainstGDAL(t *testing.T) {
	const dir = "../engine/ground/testdata/"
	nodes, err := os.ReadFile(dir + "gdal_nodes.csv")
	if err != nil {
		t.Fatal(err)
	}
	grids := map[string]*ground.Grid{}
	lines := strings.Split(strings.TrimSpace(string(nodes)), "\n")[1:]
	for _, line := range lines {
		cell := strings.Split(line, ",")
		if grids[cell[0]] == nil {
			data, err := os.ReadFile(dir + cell[0])
			if err != nil {
				t.Fatal(err)
			}
			g, err := ReadASCIIGrid(data)
			if err == nil {
				grids[cell[0]], err = ground.NewGrid(g)
			}
			if err != nil {
				t.Fatal(err)
			}
		}
		var v [3]float64
		for i := range v {
			if v[i], err = strconv.ParseFloat(cell[i+1], 64); err != nil {
				t.Fatal(err)
			}
		}
		z, ok := grids[cell[0]].Height(geom.Point{X: v[0], Y: v[1]})
		if !ok { // a node of the rim, rounded out of the survey
			box := grids[cell[0]].Bounds()
			z, ok = grids[cell[0]].Height(geom.Point{X: min(max(v[0], box.Min.X), box.Max.X), Y: min(max(v[1], box.Min.Y), box.Max.Y)})
		}
		// 1 mm: places written to 1e-10 of a degree, a millionth of a cell, on
		// slopes up to 100 m a cell.
		if !ok || !(math.Abs(z-v[2]) <= 1e-3) {
			t.Errorf("%s: Height(%v, %v) = %v %v, want %v", cell[0], v[0], v[1], z, ok, v[2])
		}
	}
	if len(lines) != 300 || len(grids) != 2 {
		t.Errorf("%d nodes of %d grids compared, want 300 of 2", len(lines), len(grids))
	}
}

func FuzzReadASCIIGrid(f *testing.F) {
	f.Add([]byte("ncols 2\nnrows 2\nxllcorner 0\nyllcorner 0\ncellsize 1\n1 2\n3 4\n"))
	f.Add([]byte("ncols 1e300\nnrows 1e300\nxllcenter 0\nyllcenter 0\ndx 1\ndy 2\nnodata_value nan\nnan"))
	f.Fuzz(func(t *testing.T, data []byte) {
		g, err := ReadASCIIGrid(data)
		var fault *phrase.Fault
		if err != nil && !errors.As(err, &fault) {
			t.Errorf("ReadASCIIGrid = %T, want a fault", err)
		}
		if err == nil && (len(g.Z) != g.Cols*g.Rows || !(g.DX > 0 && g.DY > 0)) {
			t.Errorf("ReadASCIIGrid = %d values for %d × %d", len(g.Z), g.Cols, g.Rows)
		}
	})
}
