package ground

import (
	"math"

	"spadework/engine/geom"
)

// Level is flat ground at elevation z everywhere. Its Bounds are without end,
// its Facets two triangles over the asked box, and it has no contours.
func Level(z float64) Surface { return level(z) }

type level float64

func (l level) Height(p geom.Point) (float64, bool) {
	if math.IsNaN(p.X + p.Y) {
		return math.NaN(), false
	}
	return float64(l), true
}

func (l level) Slope(p geom.Point) (geom.Vector, bool) {
	_, ok := l.Height(p)
	return geom.Vector{}, ok
}

func (l level) Profile(line []geom.Point) []ProfilePoint {
	var out []ProfilePoint
	station := 0.0
	for i, p := range line {
		if i > 0 {
			station += line[i-1].Distance(p)
		}
		out = append(out, ProfilePoint{Station: station, At: p, Z: float64(l), Known: true})
	}
	return out
}

func (l level) FirstHit(from, to geom.Point3) Sight {
	z := float64(l)
	if !isSight(from, to) {
		return Sight{Unknown: true}
	}
	if from.Z <= z {
		return Sight{Blocked: true, At: from}
	}
	if to.Z <= z {
		share := (from.Z - z) / (from.Z - to.Z)
		return Sight{Blocked: true, At: from.Toward(to, share), Share: share}
	}
	return Sight{}
}

func (l level) Contour(float64) [][]geom.Point { return nil }

func (l level) LowestOn(ring geom.Ring) Lowest {
	if len(ring) == 0 {
		return Lowest{Z: math.NaN(), Missing: true}
	}
	return Lowest{Z: float64(l), At: ring[0], OK: true}
}

func (l level) Facets(box geom.Box, visit func(a, b, c geom.Point3) bool) {
	if box.Empty() {
		return
	}
	z := float64(l)
	r := box.Ring()
	a, b, c, d := r[0].Raised(z), r[1].Raised(z), r[2].Raised(z), r[3].Raised(z)
	if visit(a, b, c) {
		visit(a, c, d)
	}
}

func (l level) Bounds() geom.Box {
	inf := math.Inf(1)
	return geom.Box{Min: geom.Point{X: -inf, Y: -inf}, Max: geom.Point{X: inf, Y: inf}}
}
