package geom

// PointGap is the distance of p from the segment from a to b in metres, never
// negative; a segment of no length is a point. It is rounded.
func PointGap(p, a, b Point) float64 {
	d := b.Sub(a)
	t := 0.0
	if l := d.Dot(d); l > 0 {
		t = max(0, min(1, p.Sub(a).Dot(d)/l))
	}
	return p.Distance(a.Toward(b, t))
}

// SegmentGap is the distance between the segments from a to b and from c to d in
// metres: 0 exactly where they touch, by Meet, else the least distance of an end
// from the other segment.
func SegmentGap(a, b, c, d Point) float64 {
	if Meet(a, b, c, d) != Apart {
		return 0
	}
	return min(PointGap(a, c, d), PointGap(b, c, d), PointGap(c, a, b), PointGap(d, a, b))
}
