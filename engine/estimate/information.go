package estimate

// Information is a Gaussian belief about n unknowns as information matrix and
// vector. The zero information knows nothing, which is allowed: what has not
// been determined yet has no value.
type Information struct {
	n      int
	matrix Matrix
	vector []float64
	square float64 // Σ weight·value²
	logs   float64 // Σ log(weight/2π)
}

// NewInformation knows nothing about n unknowns.
func NewInformation(n int) *Information { panic("not yet") }

// Clone is a copy that shares nothing.
func (in *Information) Clone() *Information { panic("not yet") }

// Observe adds one observation; a prior is an observation of an unknown itself.
// A bad observation changes nothing and is a *BadObservation.
func (in *Information) Observe(o Observation) error { panic("not yet") }

// Belief is what the information says. It does not change with later
// observations.
func (in *Information) Belief() *Belief { panic("not yet") }

// Value is an estimate with its variance.
type Value struct{ Mean, Variance float64 }

// Belief is a solved Information.
type Belief struct{}

// Of is the value of a linear function of the unknowns; ok is false while the
// observations leave it open.
func (b *Belief) Of(terms ...Term) (v Value, ok bool) { panic("not yet") }

// Mean is the unknowns; ok is false while any is open.
func (b *Belief) Mean() (x []float64, ok bool) { panic("not yet") }

// Covariance between two linear functions; ok is false while either is open.
func (b *Belief) Covariance(f, g []Term) (c float64, ok bool) { panic("not yet") }

// Open lists the unknowns not yet determined, in rising order.
func (b *Belief) Open() []int { panic("not yet") }

// LogEvidence is the logarithm of the density of all values observed so far,
// priors among them; ok is false while any unknown is open. Under a flat prior
// it compares hypotheses that share it.
func (b *Belief) LogEvidence() (l float64, ok bool) { panic("not yet") }
