package unit

// lengthUnit is a unit that lengths are written in.
type lengthUnit struct {
	size   ratio // metres, in lowest terms
	name   string
	system System
}

// The units of length. Sources stand at the constants of quantity.go.
var (
	kilometres  = lengthUnit{ratio{1000, 1}, "km", Metric}
	metres      = lengthUnit{ratio{1, 1}, "m", Metric}
	decimetres  = lengthUnit{ratio{1, 10}, "dm", Metric}
	centimetres = lengthUnit{ratio{1, 100}, "cm", Metric}
	millimetres = lengthUnit{ratio{1, 1000}, "mm", Metric}
	miles       = lengthUnit{ratio{201168, 125}, "mi", Imperial}
	yards       = lengthUnit{ratio{1143, 1250}, "yd", Imperial}
	feet        = lengthUnit{ratio{381, 1250}, "ft", Imperial}
	inches      = lengthUnit{ratio{127, 5000}, "in", Imperial}
	surveyFeet  = lengthUnit{ratio{1200, 3937}, "us_survey_ft", Imperial}
)

// unit is what a bare number is in.
func (s Scale) unit() lengthUnit {
	switch s {
	case Feet:
		return feet
	case SurveyFeet:
		return surveyFeet
	}
	return metres
}

// lengthUnit reads the unit at token i.
func (ts *tokens) lengthUnit(i int) (u lengthUnit, ok bool) {
	switch ts.kind(i) {
	case '\'':
		return feet, true
	case '"':
		return inches, true
	}
	return lengthWord(ts.word(i))
}

// lengthWord is the unit of a word, English or Spanish.
func lengthWord(word []byte) (u lengthUnit, ok bool) {
	switch string(word) {
	case "in", "inch", "inches", "pulg", "pulgada", "pulgadas":
		return inches, true
	case "ft", "foot", "feet", "pie", "pies":
		return feet, true
	case "us_survey_ft", "usft", "ftus", "sft", "us_ft":
		return surveyFeet, true
	case "yd", "yds", "yard", "yards", "yarda", "yardas":
		return yards, true
	case "mi", "mile", "miles", "milla", "millas":
		return miles, true
	case "m", "metre", "metres", "meter", "meters", "metro", "metros":
		return metres, true
	case "mm", "millimetre", "millimetres", "millimeter", "millimeters", "milímetro", "milímetros", "milimetros":
		return millimetres, true
	case "cm", "centimetre", "centimetres", "centimeter", "centimeters", "centímetro", "centímetros", "centimetros":
		return centimetres, true
	case "dm":
		return decimetres, true
	case "km", "kilometre", "kilometres", "kilometer", "kilometers", "kilómetro", "kilómetros":
		return kilometres, true
	}
	return lengthUnit{}, false
}
