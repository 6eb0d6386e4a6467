package exchange

import (
	"math"
	"strconv"
	"strings"

	"spadework/engine/geom"
	"spadework/engine/ground"
	"spadework/engine/phrase"
)

// ReadASCIIGrid reads an ESRI ASCII grid (the raster format of .asc files):
// a head of ncols, nrows, xllcorner and yllcorner or xllcenter and yllcenter,
// cellsize or dx and dy, and NODATA_value (−9999 if not given), in any order
// and case, then the elevations row by row from the north, line breaks
// anywhere. A corner is moved to the middle of its cell: each value is a node.
// No data becomes NaN.
//
// An unknown, repeated or missing key, a value that is no number, too few or
// too many values are a *phrase.Fault with line and column. The size told by
// the head is believed only as far as the file is long enough for it.
func ReadASCIIGrid(data []byte) (ground.GridData, error) {
	s := gridScanner{text: string(data), line: 1, column: 1}
	h, err := s.head()
	if err != nil {
		return ground.GridData{}, err
	}
	g, err := h.frame(len(data))
	if err != nil {
		return g, err
	}
	return g, s.values(&g, h.noData())
}

// gridKeys are the keys of the head.
var gridKeys = []string{"ncols", "nrows", "xllcorner", "yllcorner", "xllcenter", "yllcenter", "cellsize", "dx", "dy", "nodata_value"}

// defaultNoData is what the format takes where NODATA_value is not given.
const defaultNoData = -9999

// gridHead is the values of the head by key.
type gridHead map[string]float64

// gridScanner splits the text into words with their places.
type gridScanner struct {
	text         string
	at           int
	line, column int // of at, from 1
	place        phrase.Place
}

// next is the next word, "" at the end.
func (s *gridScanner) next() string {
	for s.at < len(s.text) && isBlank(s.text[s.at]) {
		if s.text[s.at] == '\n' {
			s.line, s.column = s.line+1, 0
		}
		s.at++
		s.column++
	}
	s.place = phrase.Place{Line: s.line, Column: s.column}
	start := s.at
	for s.at < len(s.text) && !isBlank(s.text[s.at]) {
		if s.text[s.at]&0xC0 != 0x80 { // count characters, not their later bytes
			s.column++
		}
		s.at++
	}
	return s.text[start:s.at]
}

func isBlank(c byte) bool { return c == ' ' || c == '\t' || c == '\n' || c == '\r' }

// head reads keys and values until a word begins like a number.
func (s *gridScanner) head() (gridHead, error) {
	h := gridHead{}
	for {
		before := *s
		word := s.next()
		key := strings.ToLower(word)
		if word == "" || !isLetter(word[0]) || key == "nan" {
			*s = before
			return h, nil
		}
		if !known(key) {
			return nil, s.fault("asciigrid.key", phrase.With("key", clipped(word)), phrase.With("keys", gridKeys))
		}
		if _, twice := h[key]; twice {
			return nil, s.fault("asciigrid.twice", phrase.With("key", key))
		}
		v, ok := number(s.next())
		if !ok && key != "nodata_value" {
			return nil, s.fault("asciigrid.head_number", phrase.With("key", key))
		}
		h[key] = v // NaN for a NODATA_value that is no number: nan
	}
}

func isLetter(c byte) bool { return c|0x20 >= 'a' && c|0x20 <= 'z' }

func known(key string) bool {
	for _, k := range gridKeys {
		if k == key {
			return true
		}
	}
	return false
}

// number reads a decimal number; hexadecimal, Inf and NaN are none.
func number(word string) (float64, bool) {
	if strings.Trim(word, "+-.0123456789eE") != "" {
		return math.NaN(), false
	}
	v, err := strconv.ParseFloat(word, 64)
	if err != nil {
		return math.NaN(), false
	}
	return v, true
}

// clipped is a word short enough to quote.
func clipped(word string) string {
	if r := []rune(word); len(r) > 40 {
		return string(r[:40]) + "…"
	}
	return word
}

func (s *gridScanner) fault(key phrase.Key, args ...phrase.Arg) error {
	return gridFault(key, args...).At(s.place)
}

func gridFault(key phrase.Key, args ...phrase.Arg) *phrase.Fault {
	return phrase.NewFault(phrase.New(key, args...), phrase.New("asciigrid.remedy"))
}

func (h gridHead) noData() float64 {
	if v, ok := h["nodata_value"]; ok {
		return v
	}
	return defaultNoData
}

// frame is the grid of the head without elevations. A file of n bytes holds at
// most (n+1)/2 values.
func (h gridHead) frame(n int) (g ground.GridData, err error) {
	cols, rows := h["ncols"], h["nrows"]
	if !(cols >= 2 && rows >= 2 && cols == math.Trunc(cols) && rows == math.Trunc(rows)) {
		return g, gridFault("asciigrid.size", phrase.With("cols", cols), phrase.With("rows", rows))
	}
	if cols*rows > float64(n+1)/2 {
		return g, gridFault("asciigrid.too_short", phrase.With("cols", cols), phrase.With("rows", rows), phrase.With("bytes", n))
	}
	g.Cols, g.Rows = int(cols), int(rows)
	if g.DX, g.DY, err = h.spacing(); err != nil {
		return g, err
	}
	g.Origin, err = h.origin(g.DX, g.DY)
	return g, err
}

// spacing is cellsize both ways, or dx and dy.
func (h gridHead) spacing() (dx, dy float64, err error) {
	size, square := h["cellsize"]
	dx, east := h["dx"]
	dy, north := h["dy"]
	if square == (east || north) || east != north {
		return 0, 0, gridFault("asciigrid.spacing")
	}
	if square {
		dx, dy = size, size
	}
	if !(dx > 0 && dy > 0) {
		return 0, 0, gridFault("asciigrid.spacing_sign", phrase.With("dx", dx), phrase.With("dy", dy))
	}
	return dx, dy, nil
}

// origin is the south-west node.
func (h gridHead) origin(dx, dy float64) (geom.Point, error) {
	x, cornerX := h["xllcorner"]
	y, cornerY := h["yllcorner"]
	u, centreX := h["xllcenter"]
	v, centreY := h["yllcenter"]
	switch {
	case cornerX && cornerY && !centreX && !centreY:
		return geom.Point{X: x + dx/2, Y: y + dy/2}, nil
	case centreX && centreY && !cornerX && !cornerY:
		return geom.Point{X: u, Y: v}, nil
	}
	return geom.Point{}, gridFault("asciigrid.origin")
}

// values reads the elevations, from the north row down.
func (s *gridScanner) values(g *ground.GridData, noData float64) error {
	g.Z = make([]float64, g.Cols*g.Rows)
	for row := g.Rows - 1; row >= 0; row-- {
		for col := range g.Cols {
			word := s.next()
			if word == "" {
				return s.fault("asciigrid.few", phrase.With("read", (g.Rows-1-row)*g.Cols+col), phrase.With("cols", g.Cols), phrase.With("rows", g.Rows))
			}
			v, ok := number(word)
			if !ok && !(math.IsNaN(noData) && strings.EqualFold(word, "nan")) {
				return s.fault("asciigrid.number", phrase.With("value", clipped(word)))
			}
			if v == noData {
				v = math.NaN()
			}
			g.Z[row*g.Cols+col] = v
		}
	}
	if word := s.next(); word != "" {
		return s.fault("asciigrid.many", phrase.With("value", clipped(word)), phrase.With("cols", g.Cols), phrase.With("rows", g.Rows))
	}
	return nil
}
