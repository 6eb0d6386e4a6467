package watch

import (
	"math"

	"spadework/engine/real"
)

// Draws of a hypothesis: as many as its chance asks for, between these.
const (
	leastDraws = 8
	mostDraws  = 1024
)

func drawsOf(weight float64) int {
	return min(max(int(math.Ceil(weight*mostDraws)), leastDraws), mostDraws)
}

// uniform is a fixed value strictly between 0 and 1 for two numbers: the mixing
// step of SplitMix64 (G. L. Steele, D. Lea and C. H. Flood, OOPSLA 2014).
func uniform(i, k int) float64 {
	z := (uint64(i)<<16 + uint64(k) + 1) * 0x9e3779b97f4a7c15
	z = (z ^ z>>30) * 0xbf58476d1ce4e5b9
	z = (z ^ z>>27) * 0x94d049bb133111eb
	z ^= z >> 31
	return (float64(z>>12) + 0.5) * 0x1p-52
}

func normal(i, k int) float64 { return real.NormalQuantile(uniform(i, k)) }

// draw is the i-th draw of a hypothesis' unknowns.
func (u *unknowns) draw(i int) [maxUnknowns]float64 {
	var z [maxUnknowns]float64
	for k := range u.n {
		z[k] = normal(i, k)
	}
	u.back(&z)
	for k := range u.n {
		z[k] += u.mean[k]
	}
	return z
}
