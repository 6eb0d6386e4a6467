package exchange

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"spadework/engine/geom"
	"spadework/engine/ground"
	"spadework/engine/phrase"
)

// maxGridNodes keeps a hostile header from asking for the memory: 100 million
// nodes are 800 MB.
const maxGridNodes = 100_000_000

// ReadASCIIGrid reads an ESRI ASCII grid: a header of ncols, nrows, xllcorner or
// xllcenter, yllcorner or yllcenter, cellsize (or dx and dy) and NODATA_value in
// any order and case, then rows of figures from the north. A figure is the
// elevation at the centre of its cell; a corner in the header is moved there.
// No data becomes NaN. Figures are taken as metres.
func ReadASCIIGrid(data []byte) (ground.GridData, error) {
	g := &gridReader{words: newWords(data), header: map[string]float64{}}
	g.readHeader()
	out := g.frame()
	if g.fault != nil {
		return ground.GridData{}, g.fault
	}
	for row := out.Rows - 1; row >= 0 && g.fault == nil; row-- {
		for col := 0; col < out.Cols && g.fault == nil; col++ {
			out.Z[row*out.Cols+col] = g.node()
		}
	}
	if w, ok := g.words.next(); ok && g.fault == nil {
		g.fail(w, "exchange.grid_rest", phrase.With("value", w.text))
	}
	if g.fault != nil {
		return ground.GridData{}, g.fault
	}
	return out, nil
}

// gridReader reads one grid; the first fault wins.
type gridReader struct {
	words  *words
	header map[string]float64
	noData float64
	hasNo  bool
	fault  *phrase.Fault
}

func (g *gridReader) fail(at word, key phrase.Key, args ...phrase.Arg) {
	if g.fault == nil {
		g.fault = tableFault(key, phrase.Place{Line: at.line, Column: at.column}, args...)
	}
}

var gridKeys = []string{"ncols", "nrows", "xllcorner", "xllcenter", "yllcorner", "yllcenter", "cellsize", "dx", "dy", "nodata_value"}

// readHeader reads pairs of a key and a figure until a figure stands where a
// key would.
func (g *gridReader) readHeader() {
	for g.fault == nil {
		w, ok := g.words.peek()
		if !ok {
			g.fail(w, "exchange.grid_short")
			return
		}
		key := strings.ToLower(w.text)
		if strings.IndexAny(key[:1], "+-.0123456789") == 0 {
			return
		}
		g.words.next()
		if !slices.Contains(gridKeys, key) {
			g.fail(w, "exchange.grid_key", phrase.With("value", w.text), phrase.With("allowed", strings.Join(gridKeys, ", ")))
			return
		}
		if _, twice := g.header[key]; twice {
			g.fail(w, "exchange.grid_twice", phrase.With("value", w.text))
			return
		}
		g.header[key] = g.figure()
	}
}

// figure reads one finite number.
func (g *gridReader) figure() float64 {
	w, ok := g.words.next()
	if !ok {
		g.fail(w, "exchange.grid_short")
		return 0
	}
	v, err := strconv.ParseFloat(w.text, 64)
	if err != nil || v-v != 0 {
		g.fail(w, "exchange.grid_figure", phrase.With("value", w.text))
	}
	return v
}

// node reads one elevation; no data is NaN.
func (g *gridReader) node() float64 {
	v := g.figure()
	if g.hasNo && v == g.noData {
		return math.NaN()
	}
	return v
}

// frame makes the grid that the header describes.
func (g *gridReader) frame() ground.GridData {
	at, _ := g.words.peek()
	cols, rows := g.size("ncols", at), g.size("nrows", at)
	dx, dy := g.spacing(at)
	x := g.edge("xllcorner", "xllcenter", dx, at)
	y := g.edge("yllcorner", "yllcenter", dy, at)
	g.noData, g.hasNo = g.header["nodata_value"], has(g.header, "nodata_value")
	if g.fault != nil {
		return ground.GridData{}
	}
	if cols > maxGridNodes/rows {
		g.fail(at, "exchange.grid_large", phrase.With("limit", maxGridNodes))
		return ground.GridData{}
	}
	// A header may promise more than the file holds: each figure takes two bytes.
	if cols*rows > len(g.words.rest)/2+1 {
		g.fail(at, "exchange.grid_short")
		return ground.GridData{}
	}
	return ground.GridData{
		Origin: geom.Point{X: x, Y: y}, DX: dx, DY: dy, Cols: cols, Rows: rows, Z: make([]float64, cols*rows),
	}
}

func has(m map[string]float64, key string) bool {
	_, ok := m[key]
	return ok
}

// size reads a whole number of nodes, at least 2.
func (g *gridReader) size(key string, at word) int {
	v, ok := g.header[key]
	if !ok {
		g.fail(at, "exchange.grid_missing", phrase.With("key", key))
		return 2
	}
	if v != math.Trunc(v) || v < 2 || v > maxGridNodes {
		g.fail(at, "exchange.grid_size", phrase.With("key", key), phrase.With("value", v))
		return 2
	}
	return int(v)
}

// spacing is the distance of nodes east and north.
func (g *gridReader) spacing(at word) (dx, dy float64) {
	dx, dy = g.header["cellsize"], g.header["cellsize"]
	if has(g.header, "dx") {
		dx = g.header["dx"]
	}
	if has(g.header, "dy") {
		dy = g.header["dy"]
	}
	if !(dx > 0) || !(dy > 0) {
		g.fail(at, "exchange.grid_spacing")
		return 1, 1
	}
	return dx, dy
}

// edge is the coordinate of the first node, from the corner or centre given.
func (g *gridReader) edge(corner, centre string, d float64, at word) float64 {
	c, hasCorner := g.header[corner]
	m, hasCentre := g.header[centre]
	switch {
	case hasCorner && hasCentre:
		g.fail(at, "exchange.grid_two_edges", phrase.With("a", corner), phrase.With("b", centre))
	case hasCentre:
		return m
	case hasCorner:
		return c + d/2
	default:
		g.fail(at, "exchange.grid_missing", phrase.With("key", corner))
	}
	return 0
}
