package geom

// Plane is z = Z0 + Slope·(p − Origin): a level or sloping surface in space.
type Plane struct {
	Origin Point
	Z0     float64 // elevation at Origin, metres
	Slope  Vector  // rise per metre east and north
}

// At is the elevation of the plane over p in metres.
func (pl Plane) At(p Point) float64 { return pl.Z0 + pl.Slope.Dot(p.Sub(pl.Origin)) }
