package geom

// Point3 is a place in space, metres east, north and up.
type Point3 struct{ X, Y, Z float64 }

// Plan is p seen from above.
func (p Point3) Plan() Point { return Point{p.X, p.Y} }

// Raised is p with an elevation.
func (p Point) Raised(z float64) Point3 { return Point3{p.X, p.Y, z} }

// Toward is the point a share t of the straight way from p to q in space.
func (p Point3) Toward(q Point3, t float64) Point3 {
	return Point3{
		p.X + float64(t*(q.X-p.X)),
		p.Y + float64(t*(q.Y-p.Y)),
		p.Z + float64(t*(q.Z-p.Z)),
	}
}
