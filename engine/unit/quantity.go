package unit

// Length is a distance or a height difference in metres.
type Length float64

// Elevation is a height above the job's zero level in metres. Two elevations
// differ by a Length; a sum of elevations means nothing.
type Elevation float64

// Reading is what a rod shows at the beam, in metres from its foot. It is a
// length that prints in the face of the rod in hand.
type Reading float64

// Station is a horizontal distance in metres from the first point of a line.
type Station float64

// Grade is rise over horizontal run, positive where the line rises.
type Grade float64

// Keyed is a grade as it is keyed on a laser: it prints in percent with three
// decimals and no sign after it, as dials show it.
type Keyed float64

// Angle is in radians. A bearing runs clockwise from north.
type Angle float64

// Area is in square metres.
type Area float64

// Volume is in cubic metres.
type Volume float64

// Chance is a probability from 0 to 1.
type Chance float64

// Exact by definition of the international yard and pound agreement (1959);
// the survey foot is 1200/3937 m (retired 1 January 2023, 85 FR 62698), so its
// constant is the nearest float64.
const (
	Micrometre Length = 1e-6
	Millimetre Length = 1e-3
	Metre      Length = 1
	Inch       Length = 0.0254
	Foot       Length = 0.3048
	Mile       Length = 1609.344
	SurveyFoot Length = 1200.0 / 3937
)

// Degree is one degree of arc; ArcSecond one second of it.
const (
	Degree    Angle = 3.14159265358979323846 / 180
	ArcSecond Angle = Degree / 3600
)

// CubicYard is 27 cubic feet.
const CubicYard Volume = 0.9144 * 0.9144 * 0.9144

// Above is how far e lies over o; negative where it lies under it.
func (e Elevation) Above(o Elevation) Length { return Length(e - o) }

// Plus is the elevation d over e.
func (e Elevation) Plus(d Length) Elevation { return e + Elevation(d) }

// Over is the rise of grade g along the horizontal run l.
func (g Grade) Over(l Length) Length { return Length(float64(g) * float64(l)) }
