package pipe

import (
	"math"

	"spadework/engine/real"
	"spadework/engine/unit"
)

// DefaultRoughness is Manning's n where the job gives none: what the least
// slopes of the tables are worked out with (35 Ill. Adm. Code 370.320(c)).
const DefaultRoughness = 0.013

// Conduit is a round pipe that runs with a free surface: Inside > 0, N > 0, a
// slope ≥ 0 along the water. NaN and other figures give NaN.
type Conduit struct {
	Inside unit.Length
	N      float64
	Slope  unit.Grade // fall along the water
}

// Full is speed and flow with the pipe just full, by Manning's formula in
// metres: V = R^(2/3)·S^(1/2)/n, R = D/4. In feet the same formula has a factor
// of 1.486 (exactly 1.48592, the cube root of the feet in a metre).
func (c Conduit) Full() (unit.Speed, unit.Flow) {
	if !(c.Inside > 0) || !(c.N > 0) || !(c.Slope >= 0) {
		return unit.Speed(math.NaN()), unit.Flow(math.NaN())
	}
	v := real.Pow(float64(c.Inside)/4, 2.0/3) * math.Sqrt(float64(c.Slope)) / c.N
	return unit.Speed(v), unit.Flow(v * math.Pi / 4 * float64(c.Inside*c.Inside))
}

// SlopeFor is the slope at which a full pipe runs at v ≥ 0.
func SlopeFor(v unit.Speed, inside unit.Length, n float64) unit.Grade {
	root := n * float64(v) / real.Pow(float64(inside)/4, 2.0/3)
	return unit.Grade(root * root)
}

// Ratios are a part-full pipe's figures over those of the full one.
type Ratios struct{ Area, Radius, Velocity, Flow float64 }

// PartFull is the ratios at a depth of share of the inside diameter, 0 to 1,
// with n the same at every depth; NaN outside. With th the wetted angle,
// y/D = (1 − cos(th/2))/2, A = D²(th − sin th)/8, P = D·th/2.
func PartFull(share float64) Ratios {
	if !(share >= 0 && share <= 1) {
		nan := math.NaN()
		return Ratios{nan, nan, nan, nan}
	}
	return ratiosAt(2 * math.Acos(1-2*share))
}

// ratiosAt is the ratios at a wetted angle.
func ratiosAt(th float64) Ratios {
	if th <= 0 {
		return Ratios{}
	}
	var r Ratios
	r.Area = (th - math.Sin(th)) / (2 * math.Pi)
	r.Radius = 1 - math.Sin(th)/th
	r.Velocity = real.Pow(r.Radius, 2.0/3)
	r.Flow = r.Area * r.Velocity
	return r
}

// mostFlowAngle is the wetted angle at which a round pipe carries most, 1.0757
// of what it carries full, at 0.938 of the diameter: the root of
// 5th(1 − cos th) = 2(th − sin th) next to it.
const mostFlowAngle = 5.278107137933795

// MostFlow is the share of the full flow that a round pipe carries at most.
func MostFlow() float64 { return ratiosAt(mostFlowAngle).Flow }

// Depth is how deep a flow stands in the pipe and how fast it runs. Between one
// and MostFlow of the full flow two depths carry it: the lower is given. ok is
// false where the pipe cannot carry it, or a figure is no figure.
func (c Conduit) Depth(q unit.Flow) (depth unit.Length, v unit.Speed, ok bool) {
	full, most := c.Full()
	share := float64(q / most)
	if !(share >= 0) || share > MostFlow() {
		return 0, 0, false
	}
	low, high := 0.0, mostFlowAngle
	for range 60 {
		if mid := (low + high) / 2; ratiosAt(mid).Flow < share {
			low = mid
		} else {
			high = mid
		}
	}
	depth = c.Inside * unit.Length((1-math.Cos(high/2))/2)
	return depth, full * unit.Speed(ratiosAt(high).Velocity), true
}
