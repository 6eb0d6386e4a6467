package job

import (
	"strconv"

	"spadework/engine/geom"
	"spadework/engine/phrase"
)

// Underlay is a picture of a drawing that lies under the map, held by two points
// known on both.
type Underlay struct {
	ID    string
	Image string     // SHA-256 of the picture as the server keeps it, hexadecimal
	Size  [2]float64 // pixels, right and down
	Known [2]KnownPoint
}

// KnownPoint is a point of a picture whose place is known.
type KnownPoint struct {
	On [2]float64 // pixels from the upper left corner, right and down
	At geom.Point
}

// mostPixels is the longest side of a picture that a browser draws.
const mostPixels = 32_768

// underlay reads [[underlay]].
func (d *decoder) underlay(t *table) Underlay {
	out := Underlay{ID: d.id(t, "underlay"), Image: t.text("image"), Size: t.pixels("size")}
	for _, key := range []string{"image", "size", "known"} {
		t.need(key)
	}
	known := t.list("known")
	if t.r.fault == nil && len(known) != 2 {
		t.fail("known", phrase.New("job.two_points", phrase.With("got", len(known))), phrase.New("job.two_points.remedy"))
		return out
	}
	for i, k := range known {
		out.Known[i] = KnownPoint{On: k.pixels("on"), At: k.point("at")}
		k.need("on")
		k.need("at")
		k.done()
	}
	if len(known) == 2 && t.r.fault == nil && (out.Known[0].At == out.Known[1].At || out.Known[0].On == out.Known[1].On) {
		t.fail("known", phrase.New("job.same_point"), phrase.New("job.two_points.remedy"))
	}
	t.done()
	return out
}

// pixels reads [right, down] of a picture.
func (t *table) pixels(key string) [2]float64 {
	n := t.take(key)
	if n == nil {
		return [2]float64{}
	}
	var out [2]float64
	if n.kind == arrayNode && len(n.items) == 2 {
		x, errX := strconv.ParseFloat(n.items[0].text, 64)
		y, errY := strconv.ParseFloat(n.items[1].text, 64)
		if out = [2]float64{x, y}; errX == nil && errY == nil && x >= 0 && y >= 0 && x <= mostPixels && y <= mostPixels {
			return out
		}
	}
	t.r.wrongKind(n, t.sub(key), "job.kind_pixels")
	return [2]float64{}
}
