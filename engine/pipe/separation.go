package pipe

import (
	"math"

	"spadework/engine/geom"
	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// Track is where a pipe lies: its axis in plan, with the elevation that counts
// at each point, straight between them. Of a water pipe that is its underside,
// of a sewer its top.
type Track struct {
	ID    string
	Line  []geom.Point3
	Half  unit.Length // half its outside width, 0 unknown
	Known bool        // the elevations are known
}

// Nearness is how a water pipe lies to a sewer.
type Nearness struct {
	Apart unit.Length // between their sides in plan, 0 where they cross
	At    geom.Point  // of the sewer, where they are nearest
	Above unit.Length // least height of the water pipe over the sewer where they are too near
	Known bool        // Above is known
}

// WaterApart is the least distance between a sewer and a water pipe in plan,
// WaterAbove the least height where they are nearer (35 Ill. Adm. Code 370.350).
func WaterApart() Limit { return limit("water_apart") }

// WaterAbove is told with WaterApart.
func WaterAbove() Limit { return limit("water_above") }

// Near measures a sewer and a water pipe.
func Near(sewer, water Track) Nearness {
	limit := WaterApart().Add + float64(sewer.Half+water.Half)
	out := Nearness{Apart: unit.Length(math.Inf(1)), Above: unit.Length(math.Inf(1)), Known: sewer.Known && water.Known}
	best := math.Inf(1)
	for i := 1; i < len(sewer.Line); i++ {
		for k := 1; k < len(water.Line); k++ {
			l := legs{sewer.Line[i-1], sewer.Line[i], water.Line[k-1], water.Line[k]}
			share, d := l.nearest()
			if d < best {
				best, out.At = d, l.a.Plan().Toward(l.b.Plan(), share)
			}
			if d < limit {
				out.Above = min(out.Above, unit.Length(l.above(share, limit)))
			}
		}
	}
	out.Apart = max(0, unit.Length(best)-sewer.Half-water.Half)
	return out
}

// legs are a leg of the sewer, a to b, and one of the water pipe, c to d.
type legs struct{ a, b, c, d geom.Point3 }

// nearest is the share of the sewer's leg next to the other leg, and how far.
func (l legs) nearest() (share, distance float64) {
	a, b, c, d := l.a.Plan(), l.b.Plan(), l.c.Plan(), l.d.Plan()
	if _, t, ok := geom.CrossingPoint(a, b, c, d); ok && geom.Meet(a, b, c, d) != geom.Apart {
		return t, 0
	}
	distance = math.Inf(1)
	take := func(t float64) {
		if far := l.distance(t); far < distance {
			share, distance = t, far
		}
	}
	take(0)
	take(1)
	take(along(a, b, c))
	take(along(a, b, d))
	return share, distance
}

// along is the share of the way from a to b next to p.
func along(a, b, p geom.Point) float64 {
	v := b.Sub(a)
	if v == (geom.Vector{}) {
		return 0
	}
	return max(0, min(1, p.Sub(a).Dot(v)/v.Dot(v)))
}

// distance is from a share of the sewer's leg to the other leg.
func (l legs) distance(t float64) float64 {
	p := l.a.Plan().Toward(l.b.Plan(), t)
	c, d := l.c.Plan(), l.d.Plan()
	return p.Distance(c.Toward(d, along(c, d, p)))
}

// height is how far the water pipe lies over the sewer at a share of its leg.
func (l legs) height(t float64) float64 {
	p := l.a.Toward(l.b, t)
	c, d := l.c.Plan(), l.d.Plan()
	return l.c.Z + float64(along(c, d, p.Plan())*(l.d.Z-l.c.Z)) - p.Z
}

// above is the least height over the piece of the sewer's leg that lies nearer
// than limit, which holds share. The distance is convex along the leg; the
// height is straight but where the nearest point reaches an end of the other.
func (l legs) above(share, limit float64) float64 {
	from, to := l.reach(share, 0, limit), l.reach(share, 1, limit)
	least := math.Inf(1)
	for _, t := range []float64{share, from, to, along(l.a.Plan(), l.b.Plan(), l.c.Plan()), along(l.a.Plan(), l.b.Plan(), l.d.Plan())} {
		if t >= from && t <= to {
			least = min(least, l.height(t))
		}
	}
	return least
}

// reach is how far toward an end of the leg it stays nearer than limit.
func (l legs) reach(share, end, limit float64) float64 {
	if l.distance(end) <= limit {
		return end
	}
	near, far := share, end
	for range 50 {
		if mid := (near + far) / 2; l.distance(mid) <= limit {
			near = mid
		} else {
			far = mid
		}
	}
	return near
}

// JudgeNear is the finding about a sewer and a water pipe, if there is one.
func JudgeNear(sewer, water Track) []phrase.Finding {
	n, apart, above := Near(sewer, water), WaterApart(), WaterAbove()
	j := judge{p: Pipeline{ID: sewer.ID}}
	with := phrase.With("water", water.ID)
	switch {
	case float64(n.Apart) >= apart.Add-same:
		return nil
	case !n.Known:
		j.find(apart, "water_unknown", "", n.Apart, with, phrase.With("above", unit.Length(above.Add)))
	case float64(n.Above) < above.Add-same:
		j.find(above, "water_near", "", n.Above, with, phrase.With("apart", n.Apart), phrase.With("least", unit.Length(apart.Add)))
	}
	return j.out
}
