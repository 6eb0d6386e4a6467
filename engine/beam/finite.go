package beam

import (
	"math"

	"spadework/engine/phrase"
)

// named is a figure under the name the job file gives it.
type named struct {
	what  string
	value float64
}

// finite is the fault of the first figure that is NaN or infinite.
func finite(figures ...named) *phrase.Fault {
	for _, n := range figures {
		if math.IsNaN(n.value) || math.IsInf(n.value, 0) {
			return phrase.NewFault(
				phrase.New("beam.not_finite", phrase.With("what", n.what), phrase.With("value", n.value)),
				phrase.New("beam.not_finite_remedy", phrase.With("what", n.what)))
		}
	}
	return nil
}

// notNegative is the fault of the first figure under zero.
func notNegative(figures ...named) *phrase.Fault {
	for _, n := range figures {
		if n.value < 0 {
			return phrase.NewFault(
				phrase.New("beam.negative", phrase.With("what", n.what), phrase.With("value", n.value)),
				phrase.New("beam.negative_remedy", phrase.With("what", n.what)))
		}
	}
	return nil
}

// versine is 1 − cos t without the loss of digits for a small t.
func versine(t float64) float64 {
	s := math.Sin(t / 2)
	return 2 * float64(s*s)
}
