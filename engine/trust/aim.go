package trust

import (
	"math"

	"spadework/engine/beam"
	"spadework/engine/real"
	"spadework/engine/unit"
)

// AimRule is how a job picks the height to aim at. The zero rule takes the
// height of greatest chance that the finished bottom is in.
type AimRule struct {
	// Risk is the chosen chance of over-dig at the first pass: an aim that runs a
	// greater one is raised. 0 is not chosen.
	Risk unit.Chance
	// Over is the cost of a cubic metre dug under the design, Trim that of one
	// trimming; where both are over zero the least expected cost decides.
	Over, Trim float64
}

// Aim is the height over the design to work to, + up. area is of the bottom and
// counts where costs decide. NaN where the outlook is not known.
func (r AimRule) Aim(o Outlook, t beam.Band, area unit.Area) unit.Length {
	if !o.Known {
		return unit.Length(math.NaN())
	}
	aim := o.Best(t)
	if r.Over > 0 && r.Trim > 0 && area > 0 {
		aim = o.cheapest(t, r, float64(area))
	}
	if r.Risk > 0 {
		aim = max(aim, o.ForRisk(t, r.Risk))
	}
	return aim
}

// Best is the aim of the greatest chance that the finished bottom is in: the
// middle of the tolerance, less what the bottom departs by itself.
func (o Outlook) Best(t beam.Band) unit.Length { return (t.Above-t.Below)/2 - o.Mean }

// ForRisk is the lowest aim whose first pass goes under the lowest bottom
// allowed with no more than a chance, 0 < risk < 1.
func (o Outlook) ForRisk(t beam.Band, risk unit.Chance) unit.Length {
	return -t.Below - o.Mean - unit.Length(float64(o.First)*real.NormalQuantile(float64(risk)))
}

// Cost is what an aim is expected to cost: the volume that the first pass digs
// under the design, and a trimming where it ends too high.
func (r AimRule) Cost(o Outlook, t beam.Band, area unit.Area, aim unit.Length) float64 {
	m, s := float64(o.Mean+aim), float64(o.First)
	if s == 0 {
		cost := r.Over * float64(area) * math.Max(-m, 0)
		if m > float64(t.Above) {
			cost += r.Trim
		}
		return cost
	}
	under := float64(s*real.NormalDensity(m/s)) - float64(m*real.NormalCDF(-m/s))
	trim := real.NormalCDF((m - float64(t.Above)) / s)
	return float64(r.Over*float64(area)*under) + float64(r.Trim*trim)
}

// cheapest is the aim of least expected cost within the tolerance, to a tenth of
// a millimetre: the cost may have two valleys, so it is walked along.
func (o Outlook) cheapest(t beam.Band, r AimRule, area float64) unit.Length {
	const step = unit.Millimetre / 10
	best, least := -t.Below, math.Inf(1)
	steps := min(math.Ceil(float64((t.Above+t.Below)/step)), 20_000)
	for i := 0.0; i <= steps; i++ {
		aim := -t.Below + (t.Above+t.Below)*unit.Length(i/math.Max(steps, 1))
		if c := r.Cost(o, t, unit.Area(area), aim); c < least {
			best, least = aim, c
		}
	}
	return best
}

// Shows says that an aim is worth telling: at least half a dead band, or what a
// crew without a receiver reads, and half a step of the rod.
func (w Way) Shows(aim unit.Length) bool {
	return aim != 0 && math.Abs(float64(aim)) >= float64(max(w.DeadBand, w.Reading, w.Shown))/2
}
