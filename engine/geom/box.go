package geom

// Box is a rectangle along the axes, borders included. The zero Box is the
// origin; EmptyBox holds nothing.
type Box struct{ Min, Max Point }

// EmptyBox is the box of no points: its Min lies beyond its Max.
func EmptyBox() Box {
	const far = 1e308
	return Box{Point{far, far}, Point{-far, -far}}
}

// BoxOf is the least box around the points, EmptyBox for none.
func BoxOf(points ...Point) Box {
	b := EmptyBox()
	for _, p := range points {
		b = b.With(p)
	}
	return b
}

// Empty says that b holds no point.
func (b Box) Empty() bool { return !(b.Min.X <= b.Max.X && b.Min.Y <= b.Max.Y) }

// With is the least box around b and p.
func (b Box) With(p Point) Box {
	return Box{
		Point{min(b.Min.X, p.X), min(b.Min.Y, p.Y)},
		Point{max(b.Max.X, p.X), max(b.Max.Y, p.Y)},
	}
}

// Union is the least box around b and o.
func (b Box) Union(o Box) Box {
	if o.Empty() {
		return b
	}
	return b.With(o.Min).With(o.Max)
}

// Grown is b with every border moved outward by d metres.
func (b Box) Grown(d float64) Box {
	return Box{Point{b.Min.X - d, b.Min.Y - d}, Point{b.Max.X + d, b.Max.Y + d}}
}

// Holds says that p lies in b or on its border.
func (b Box) Holds(p Point) bool {
	return p.X >= b.Min.X && p.X <= b.Max.X && p.Y >= b.Min.Y && p.Y <= b.Max.Y
}

// Meets says that b and o share a point, borders included.
func (b Box) Meets(o Box) bool {
	return b.Min.X <= o.Max.X && o.Min.X <= b.Max.X && b.Min.Y <= o.Max.Y && o.Min.Y <= b.Max.Y
}

// Width is the extent east in metres, Height the extent north; negative for an
// empty box.
func (b Box) Width() float64  { return b.Max.X - b.Min.X }
func (b Box) Height() float64 { return b.Max.Y - b.Min.Y }

// Centre is the middle of b.
func (b Box) Centre() Point { return b.Min.Toward(b.Max, 0.5) }

// Ring is the border of b, counter-clockwise from Min.
func (b Box) Ring() Ring {
	return Ring{b.Min, {b.Max.X, b.Min.Y}, b.Max, {b.Min.X, b.Max.Y}}
}
