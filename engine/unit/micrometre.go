package unit

import "math"

// Micrometres snaps a length to whole micrometres, halves away from zero. It
// undoes FromMicrometres for any |n| ≤ 1e13. Lengths that do not fit and NaN
// give math.MinInt64, which no length within 9e12 m does.
func Micrometres(l Length) int64 {
	n := math.Round(float64(l) * 1e6)
	if !(math.Abs(n) < 1<<63) {
		return math.MinInt64
	}
	return int64(n)
}

// FromMicrometres is the float64 nearest to n micrometres, |n| ≤ 2^53.
func FromMicrometres(n int64) Length { return Length(float64(n) / 1e6) }
