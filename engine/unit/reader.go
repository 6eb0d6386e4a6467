package unit

// Reader reads texts of one document: what its bare numbers mean and which
// decimal mark it is known to use. The Parse functions are a Reader that does
// not know the mark: to them 1,234 is ambiguous.
type Reader struct {
	Bare  Scale
	Comma bool // the comma is the decimal mark and a lone point groups thousands
}

// ParseLength reads a length as people write it.
func ParseLength(text string, bare Scale) (Length, error) { return Reader{Bare: bare}.Length(text) }

// ParseCoordinate reads a plan coordinate or an elevation to whole micrometres.
func ParseCoordinate(text string, bare Scale) (int64, error) {
	return Reader{Bare: bare}.Coordinate(text)
}

// ParseStation reads 8+50, 0+125 or a plain length.
func ParseStation(text string, bare Scale) (Station, error) { return Reader{Bare: bare}.Station(text) }

// ParseSlope reads a grade as written.
func ParseSlope(text string) (Slope, error) { return Reader{}.Slope(text) }

// ParseRatio is ParseSlope where a bare number is rise over run.
func ParseRatio(text string) (Slope, error) { return Reader{}.Ratio(text) }

// ParseBatter reads the slope of a side, horizontal to vertical.
func ParseBatter(text string) (Batter, error) { return Reader{}.Batter(text) }

// ParseAngle reads degrees, or degrees, minutes and seconds.
func ParseAngle(text string) (Angle, error) { return Reader{}.Angle(text) }

// ParseBearing reads a quadrant bearing or an azimuth.
func ParseBearing(text string) (Angle, error) { return Reader{}.Bearing(text) }

// ParseAccuracy reads the stated accuracy of a laser.
func ParseAccuracy(text string) (Grade, error) { return Reader{}.Accuracy(text) }
