package rehearse

import "spadework/engine/real"

// Rand is a seeded source of numbers: SplitMix64 (G. L. Steele, D. Lea and C. H.
// Flood, Fast splittable pseudorandom number generators, OOPSLA 2014).
type Rand struct{ state uint64 }

// NewRand is the source of a seed.
func NewRand(seed uint64) *Rand { return &Rand{seed} }

// Next is 64 random bits.
func (r *Rand) Next() uint64 {
	r.state += 0x9e3779b97f4a7c15
	z := r.state
	z = (z ^ z>>30) * 0xbf58476d1ce4e5b9
	z = (z ^ z>>27) * 0x94d049bb133111eb
	return z ^ z>>31
}

// Uniform is a value strictly between 0 and 1.
func (r *Rand) Uniform() float64 { return (float64(r.Next()>>12) + 0.5) * 0x1p-52 }

// Normal is a standard normal value.
func (r *Rand) Normal() float64 { return real.NormalQuantile(r.Uniform()) }

// Between is a value evenly from low to high.
func (r *Rand) Between(low, high float64) float64 { return low + float64((high-low)*r.Uniform()) }

// Below is a whole number from 0 to n − 1.
func (r *Rand) Below(n int) int { return int(r.Uniform() * float64(n)) }
