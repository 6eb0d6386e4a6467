package dig

import (
	"math"

	"spadework/engine/real"
	"spadework/engine/unit"
)

// Heap is a heap of loose ground at its angle of repose.
type Heap struct{ Base, Height unit.Length } // Base is the width of a ridge, the diameter of a cone

// Ridge is the heap of a loose volume along a length: B = √(4V/(L·tan R)), H =
// B·tan R/2. The zero Heap where a figure is not positive or the angle in
// radians not under a right one.
func Ridge(loose unit.Volume, length unit.Length, repose float64) Heap {
	if !(loose > 0 && length > 0 && repose > 0 && repose < math.Pi/2) {
		return Heap{}
	}
	t := tangent(repose)
	b := math.Sqrt(4 * float64(loose) / (float64(length) * t))
	return Heap{unit.Length(b), unit.Length(b * t / 2)}
}

// Cone is the round heap of a loose volume: D = (24V/(π·tan R))^(1/3), H =
// D·tan R/2.
func Cone(loose unit.Volume, repose float64) Heap {
	if !(loose > 0 && repose > 0 && repose < math.Pi/2) {
		return Heap{}
	}
	t := tangent(repose)
	d := real.Pow(24*float64(loose)/(math.Pi*t), 1.0/3)
	return Heap{unit.Length(d), unit.Length(d * t / 2)}
}

func tangent(angle float64) float64 {
	sin, cos := math.Sincos(angle)
	return sin / cos
}
