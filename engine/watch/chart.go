package watch

import "math"

// Shewhart is a chart that signals a value beyond ±L standard deviations (W. A.
// Shewhart 1931).
type Shewhart struct{ L float64 }

// Signals says that z, in standard deviations off its aim, is beyond the limits;
// NaN signals.
func (c Shewhart) Signals(z float64) bool { return !(math.Abs(z) <= c.L) }

// Cusum is the two-sided tabular cumulative sum with allowance K and limit H, in the
// unit of its values (E. S. Page, Biometrika 41, 1954; D. C. Montgomery, Statistical
// Quality Control, ch. 9). Upper and Lower are its sums, both ≥ 0, zero at first.
type Cusum struct{ K, H, Upper, Lower float64 }

// Add is the chart after a value off its aim.
func (c Cusum) Add(x float64) Cusum {
	c.Upper = math.Max(0, c.Upper+x-c.K)
	c.Lower = math.Max(0, c.Lower-x-c.K)
	return c
}

// Signals says that a sum is over the limit; NaN signals.
func (c Cusum) Signals() bool { return !(c.Upper <= c.H && c.Lower <= c.H) }

// Ewma is the exponentially weighted moving average with weight Lambda, in (0, 1],
// and limits of ±C of its lasting standard deviations (S. W. Roberts, Technometrics
// 1, 1959). Mean is in standard deviations off the aim, zero at first.
type Ewma struct{ Lambda, C, Mean float64 }

// Add is the chart after a value in standard deviations off its aim.
func (c Ewma) Add(z float64) Ewma {
	c.Mean += float64(c.Lambda * (z - c.Mean))
	return c
}

// Limit is how far the mean may go: C·√(λ/(2 − λ)).
func (c Ewma) Limit() float64 { return c.C * math.Sqrt(c.Lambda/(2-c.Lambda)) }

// Signals says that the mean is beyond the limits; NaN signals.
func (c Ewma) Signals() bool { return !(math.Abs(c.Mean) <= c.Limit()) }
