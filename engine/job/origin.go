package job

import (
	"spadework/engine/geom"
	"spadework/engine/unit"
)

// Origin is where the job's local frame lies in job coordinates: whole metres
// near the first benchmark. Local coordinates are differences of whole
// micrometres, so a site at 4 900 000 north computes as one at zero.
type Origin struct {
	X, Y int64 // micrometres, multiples of 1 000 000
}

// local is the place of job coordinates in micrometres, in local metres.
func (o Origin) local(x, y int64) geom.Point {
	return geom.Point{
		X: float64(unit.FromMicrometres(x - o.X)),
		Y: float64(unit.FromMicrometres(y - o.Y)),
	}
}

// Local is the place of job coordinates in metres.
func (o Origin) Local(at [2]unit.Length) geom.Point {
	return o.local(unit.Micrometres(at[0]), unit.Micrometres(at[1]))
}

// Job is a local place in job coordinates turned to metres.
func (o Origin) Job(p geom.Point) geom.Point {
	return geom.Point{
		X: float64(unit.FromMicrometres(o.X)) + p.X,
		Y: float64(unit.FromMicrometres(o.Y)) + p.Y,
	}
}

// wholeMetre rounds micrometres to a whole metre, halves up.
func wholeMetre(um int64) int64 {
	const metre = 1_000_000
	q := (um + metre/2) / metre
	if um+metre/2 < 0 && (um+metre/2)%metre != 0 {
		q--
	}
	return q * metre
}
