package plan

import (
	"math"

	"spadework/engine/dig"
	"spadework/engine/geom"
	"spadework/engine/job"
	"spadework/engine/unit"
)

// Depth is how far the bottom of a dig lies under existing ground.
type Depth struct{ Min, Mean, Max unit.Length }

// coveredShare is how much of a bottom's area the survey must cover for a depth
// to be told; the rest is what clipping loses to rounding.
const coveredShare = 1 - 1e-9

// depthOf measures the depth of a dig over the area of its bottoms, facet by
// facet: on each, ground less bottom is a plane, so that minimum and maximum lie
// at corners and the mean is exact. nil where the ground is not known all over.
func depthOf(d dig.Dig, existing *job.Ground) *Depth {
	if existing == nil {
		return nil
	}
	sum := depthSum{min: math.Inf(1), max: math.Inf(-1)}
	var area float64
	for _, part := range d.Parts {
		area += part.Outline.Area()
		existing.Facets(part.Outline.Bounds(), func(a, b, c geom.Point3) bool {
			sum.facet(part, a, b, c)
			return true
		})
	}
	if !(sum.area >= area*coveredShare) || area == 0 {
		return nil
	}
	return &Depth{Min: unit.Length(sum.min), Mean: unit.Length(sum.volume / sum.area), Max: unit.Length(sum.max)}
}

// depthSum gathers depths over pieces of bottom.
type depthSum struct{ area, volume, min, max float64 }

// facet adds the piece of a part's bottom under one triangle of ground.
func (s *depthSum) facet(part dig.Part, a, b, c geom.Point3) {
	piece := clip(part.Outline, a.Plan(), b.Plan())
	piece = clip(piece, b.Plan(), c.Plan())
	piece = clip(piece, c.Plan(), a.Plan())
	if len(piece) < 3 {
		return
	}
	ground := planeThrough(a, b, c)
	depth := func(p geom.Point) float64 { return ground.At(p) - part.Bottom.At(p) }
	for _, p := range piece {
		s.min, s.max = math.Min(s.min, depth(p)), math.Max(s.max, depth(p))
	}
	for i := 2; i < len(piece); i++ {
		t := geom.Ring{piece[0], piece[i-1], piece[i]}
		area := t.Area()
		s.area += area
		s.volume += area * (depth(t[0]) + depth(t[1]) + depth(t[2])) / 3
	}
}

// clip keeps the part of a ring left of the line from a to b (Sutherland and
// Hodgman 1974). For a ring that is not convex the pieces hang together by edges
// that lie on the line, which add nothing to an area integral.
func clip(ring geom.Ring, a, b geom.Point) geom.Ring {
	dir := b.Sub(a)
	side := func(p geom.Point) float64 { return dir.Cross(p.Sub(a)) }
	out := make(geom.Ring, 0, len(ring)+2)
	for i, p := range ring {
		q := ring[(i+1)%len(ring)]
		sp, sq := side(p), side(q)
		if sp >= 0 {
			out = append(out, p)
		}
		if (sp > 0 && sq < 0) || (sp < 0 && sq > 0) {
			out = append(out, p.Toward(q, sp/(sp-sq)))
		}
	}
	return out
}

// planeThrough is the plane of three points that are not in a line.
func planeThrough(a, b, c geom.Point3) geom.Plane {
	u, v := b.Plan().Sub(a.Plan()), c.Plan().Sub(a.Plan())
	det := u.Cross(v)
	du, dv := b.Z-a.Z, c.Z-a.Z
	return geom.Plane{Origin: a.Plan(), Z0: a.Z, Slope: geom.Vector{
		X: (du*v.Y - dv*u.Y) / det,
		Y: (dv*u.X - du*v.X) / det,
	}}
}
