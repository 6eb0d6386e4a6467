package reception_test

import (
	"math"
	"slices"

	"spadework/engine/geom"
	"spadework/engine/ground"
	"spadework/engine/reception"
)

// bruteForce is reception on a bare grid with curvature, in float64, by every
// crossing of the ray with the lines of the grid and the diagonals of its cells:
// nothing of the program's, fast enough for every pair.
type bruteForce struct {
	grid ground.GridData
	site reception.Site
}

// doubt is how far its heights may be off: 1e-16 of heights of some tens of
// metres over some hundred terms, with much to spare.
const doubt = 1e-9

// bend is the curvature less refraction over a metre, as the package states it.
const bend = 6.75e-8

// window is the least height that clears and the greatest that the receiver
// takes.
func (b bruteForce) window(l reception.Laser, t reception.Target) (low, high float64) {
	way := t.At.Sub(l.At)
	over := func(share float64) float64 { // of the beam over its height at the laser
		return share*(l.Gradient.X*way.X+l.Gradient.Y*way.Y) + bend*share*share*(way.X*way.X+way.Y*way.Y)
	}
	low, high = float64(t.Bottom)+float64(t.Lowest)-over(1), float64(t.Bottom)+float64(t.Highest)-over(1)
	cuts := b.cuts(l.At, t.At)
	for i, s := range cuts[1:] {
		from := cuts[i]
		if s-from < 1e-13 {
			continue
		}
		// The middle names the triangle; on it the ground is one plane, and what it
		// asks of the beam is concave along the ray.
		z := b.plane(l.At.Toward(t.At, from+(s-from)/2))
		need := func(share float64) float64 {
			return z(l.At.X+share*way.X, l.At.Y+share*way.Y) + float64(b.site.Clearance) - over(share)
		}
		low = max(low, need(from), need(s))
		fall := (need(s) - need(from)) / (s - from)
		if top := from + (s-from)/2 + fall/(2*bend*(way.X*way.X+way.Y*way.Y)); top > from && top < s {
			low = max(low, need(top))
		}
	}
	return low, high
}

// cuts are the shares of the way at which the ray changes the triangle.
func (b bruteForce) cuts(p, q geom.Point) []float64 {
	cuts := []float64{0, 1}
	cross := func(from, to float64) {
		for k := math.Ceil(min(from, to)); k <= max(from, to); k++ {
			if from != to {
				cuts = append(cuts, (k-from)/(to-from))
			}
		}
	}
	x0, x1, y0, y1 := p.X/b.grid.DX, q.X/b.grid.DX, p.Y/b.grid.DY, q.Y/b.grid.DY
	cross(x0, x1)
	cross(y0, y1)
	cross(x0-y0, x1-y1)
	slices.Sort(cuts)
	return cuts
}

// plane is the triangle of a point's cell, of the two by the diagonal from
// south-west to north-east.
func (b bruteForce) plane(p geom.Point) func(x, y float64) float64 {
	i, j := int(math.Floor(p.X/b.grid.DX)), int(math.Floor(p.Y/b.grid.DY))
	i, j = min(i, b.grid.Cols-2), min(j, b.grid.Rows-2)
	z := func(i, j int) float64 { return b.grid.Z[j*b.grid.Cols+i] }
	u0, v0 := float64(i), float64(j)
	u, v := p.X/b.grid.DX-u0, p.Y/b.grid.DY-v0
	sw, ne := z(i, j), z(i+1, j+1)
	if u >= v { // the south-east one
		se := z(i+1, j)
		return func(x, y float64) float64 {
			return sw + (x/b.grid.DX-u0)*(se-sw) + (y/b.grid.DY-v0)*(ne-se)
		}
	}
	nw := z(i, j+1)
	return func(x, y float64) float64 {
		return sw + (y/b.grid.DY-v0)*(nw-sw) + (x/b.grid.DX-u0)*(ne-nw)
	}
}

// wrong says what a window has wrong, "" for nothing; sure is false where the
// difference is under what float64 tells.
func (b bruteForce) wrong(l reception.Laser, t reception.Target, w reception.Window) (what string, sure bool) {
	low, high := b.window(l, t)
	switch {
	case math.Abs(high-low) <= doubt:
		return "", false
	case w.Open() != (low < high):
		return "open or shut wrongly", true
	case !w.Open():
		return "", true
	case !(math.Abs(float64(w.Low)-low) <= doubt):
		return "wrong low end", true
	case !(math.Abs(float64(w.High)-high) <= doubt):
		return "wrong high end", true
	}
	return "", true
}
