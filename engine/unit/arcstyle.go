package unit

import (
	"fmt"
	"math"
)

// Angle prints an angle in degrees, two decimals: 12.50°.
func (s Style) Angle(a Angle) string { return s.suffix(s.Fixed(float64(a/Degree), 2), "°") }

// Bearing prints a direction to the second of arc: as a quadrant in feet jobs,
// N 45°30'00" E, as an azimuth in metric ones, 45°30'00".
func (s Style) Bearing(a Angle) string {
	const turn = 360 * 3600
	n, ok := steps(math.Mod(float64(a/Degree), 360) * 3600)
	if !ok {
		return unknown
	}
	n = (n + turn) % turn
	if s.System == Metric {
		return dms(n)
	}
	return quadrant(n)
}

// quadrant prints whole seconds from north, 0 ≤ n < 360°, as an angle from
// north or south.
func quadrant(n int64) string {
	const right = 90 * 3600
	switch {
	case n <= right:
		return "N " + dms(n) + " E"
	case n <= 2*right:
		return "S " + dms(2*right-n) + " E"
	case n <= 3*right:
		return "S " + dms(n-2*right) + " W"
	}
	return "N " + dms(4*right-n) + " W"
}

// dms prints whole seconds of arc.
func dms(n int64) string {
	return fmt.Sprintf(`%d°%02d'%02d"`, n/3600, n/60%60, n%60)
}
