package machine

import (
	"math"

	"spadework/engine/unit"
)

// TipError is the standard errors of the teeth's place.
type TipError struct{ Up, Along unit.Length }

// SensorError is what gravity-referenced angle sensors of a standard error each
// make of the teeth's place in a pose, to first order: σz² = σ² Σ (Li cos φi)²
// with φ from horizontal, along likewise with sin.
func (l Linkage) SensorError(p Pose, sigma unit.Angle) TipError {
	var up, along float64
	for _, link := range []struct {
		length unit.Length
		angle  unit.Angle
	}{{l.Boom, p.Boom}, {l.Stick, p.Boom + p.Stick}, {l.Bucket, p.Absolute()}} {
		v := polar(float64(link.length), float64(link.angle))
		up += float64(v.X * v.X)
		along += float64(v.Y * v.Y)
	}
	return TipError{unit.Length(float64(sigma) * math.Sqrt(up)), unit.Length(float64(sigma) * math.Sqrt(along))}
}

// TiltError is how far the teeth rise at a distance from the swing centre if
// the machine's frame tips by an angle, to first order.
func TiltError(distance unit.Length, tilt unit.Angle) unit.Length {
	return distance * unit.Length(tilt)
}
