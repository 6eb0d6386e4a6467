package unit

// Speed is in metres per second.
type Speed float64

// Flow is in cubic metres per second.
type Flow float64

// CubicFootPerSecond is exact by the foot; MillionGallonsPerDay by the US gallon
// of 231 cubic inches: 1 cfs = 0.646317 of it.
const (
	CubicFootPerSecond   Flow = 0.3048 * 0.3048 * 0.3048
	LitrePerSecond       Flow = 1e-3
	GallonPerMinute      Flow = 231 * 0.0254 * 0.0254 * 0.0254 / 60
	MillionGallonsPerDay Flow = 1e6 * 231 * 0.0254 * 0.0254 * 0.0254 / 86400
)

// FootPerSecond is exact by the foot.
const FootPerSecond Speed = 0.3048

// Speed prints a speed with its unit, two decimals: 2.19 ft/s, 0.67 m/s.
func (s Style) Speed(v Speed) string {
	if s.System == Imperial {
		return s.suffix(s.Fixed(float64(v/FootPerSecond), 2), " ft/s")
	}
	return s.suffix(s.Fixed(float64(v), 2), " m/s")
}

// Flow prints a flow with its unit: 0.76 ft³/s, 21.6 L/s.
func (s Style) Flow(q Flow) string {
	if s.System == Imperial {
		return s.suffix(s.Fixed(float64(q/CubicFootPerSecond), 2), " ft³/s")
	}
	return s.suffix(s.Fixed(float64(q/LitrePerSecond), 1), " L/s")
}
