package beam

import (
	"math"

	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// ToleranceShare is the part of a dig's tolerance that the beam's departure from
// the bottom may take, so that one rod still serves; the rest is left to the
// laser, the reading and the cutting.
const ToleranceShare = 0.25

// OneRodCheck says whether one grade rod serves a run or a bottom, and how far
// out it would be.
type OneRodCheck struct {
	Fits      bool
	Rod       unit.Reading // the one rod that fits best
	Low, High unit.Reading // smallest and largest exact rod on the bottom
	// TooHigh and TooLow are the worst a bottom dug to Rod lies over and under
	// its grade, never negative.
	TooHigh, TooLow unit.Length
}

// OneRod tells whether one grade rod is right for the whole bottom of a run, its
// width included, within allowed: as a rule the tolerance's ToleranceShare.
// Along and across a straight run the exact rod is a convex parabola, so its
// extremes are taken at the corners and the vertex, not by sampling. A bottom
// dug to Rod is too high by exact rod − Rod.
func OneRod(pl Plane, run Run, allowed Band) (OneRodCheck, *phrase.Fault) {
	if f := run.check(); f != nil {
		return OneRodCheck{}, f
	}
	if f := checkPlaneAndBand(pl, allowed); f != nil {
		return OneRodCheck{}, f
	}
	low, high := pl.rodRange(run)
	if f := finite(named{"rod", low}, named{"rod", high}); f != nil {
		return OneRodCheck{}, f
	}
	return bestRod(low, high, allowed), nil
}

// LevelUnder tells whether a level bottom of a greatest size (its diagonal) has
// one rod under the plane: |g| × size ≤ ToleranceShare of the smaller side of
// its tolerance. Curvature over one bottom is left out: 0.07 mm in 30 m.
func LevelUnder(pl Plane, size unit.Length, tolerance Band) (fits bool, rise unit.Length, f *phrase.Fault) {
	if f := checkPlaneAndBand(pl, tolerance); f != nil {
		return false, 0, f
	}
	if f := finite(named{"size", float64(size)}); f != nil {
		return false, 0, f
	}
	if f := notNegative(named{"size", float64(size)}); f != nil {
		return false, 0, f
	}
	rise = unit.Length(pl.Gradient.Length() * float64(size))
	limit := min(tolerance.Above, tolerance.Below)
	return float64(rise) <= ToleranceShare*float64(limit), rise, nil
}

// checkPlaneAndBand refuses a plane or a band that is not finite or a band under
// zero.
func checkPlaneAndBand(pl Plane, b Band) *phrase.Fault {
	if f := finite(named{"setup.at", pl.At.X}, named{"setup.at", pl.At.Y}, named{"hi", float64(pl.HI)},
		named{"dial.grade", pl.Gradient.X}, named{"dial.grade", pl.Gradient.Y},
		named{"tolerance.above", float64(b.Above)}, named{"tolerance.below", float64(b.Below)}); f != nil {
		return f
	}
	return notNegative(named{"tolerance.above", float64(b.Above)}, named{"tolerance.below", float64(b.Below)})
}

// rodRange is the smallest and largest exact rod on the bottom of a run.
func (pl Plane) rodRange(run Run) (low, high float64) {
	u, length, half := run.Direction(), float64(run.Length()), float64(run.Width)/2
	rod := func(t, n float64) float64 {
		p := run.At(unit.Station(t)).Add(u.Right().Scale(n))
		return float64(pl.GradeRod(p, run.Bottom(unit.Station(t))))
	}
	low, high = math.Inf(1), math.Inf(-1)
	for _, t := range []float64{0, length} {
		for _, n := range []float64{-half, half} {
			r := rod(t, n)
			low, high = min(low, r), max(high, r)
		}
	}
	k := pl.Curvature.Drop(1)
	if k == 0 {
		return low, high
	}
	// rod(t, n) = const + a·t + b·n + k·((t − t0)² + (n − n0)²), lowest at its vertex.
	a := pl.Gradient.Dot(u) + float64(run.Fall())
	b := pl.Gradient.Dot(u.Right())
	t0, n0 := u.Dot(pl.At.Sub(run.From)), u.Right().Dot(pl.At.Sub(run.From))
	t := min(max(t0-a/(2*k), 0), length)
	n := min(max(n0-b/(2*k), -half), half)
	return min(low, rod(t, n)), high
}

// bestRod is the rod that leaves the same room on both sides of the allowed
// band, and what it leaves at worst.
func bestRod(low, high float64, allowed Band) OneRodCheck {
	least, most := high-float64(allowed.Above), low+float64(allowed.Below)
	rod := (least + most) / 2
	return OneRodCheck{
		Fits:    least <= most+rounding,
		Rod:     unit.Reading(rod),
		Low:     unit.Reading(low),
		High:    unit.Reading(high),
		TooHigh: unit.Length(max(high-rod, 0)),
		TooLow:  unit.Length(max(rod-low, 0)),
	}
}

// rounding is the difference in metres under which two heights are one: what
// float64 leaves of a site's figures, a thousandth of the micrometre they are
// snapped to.
const rounding = 1e-9
