package unit

// Scale is what a number without a unit means.
type Scale uint8

// The scales of a job.
const (
	Metres Scale = iota
	Feet
	SurveyFeet // 1200/3937 m, for plan coordinates
)

// String is the scale as job files spell it: m, ft or us_survey_ft.
func (s Scale) String() string {
	switch s {
	case Feet:
		return "ft"
	case SurveyFeet:
		return "us_survey_ft"
	}
	return "m"
}

// Metres is how many metres a bare 1 is (NIST SP 811 annex B: a foot is 0.3048 m,
// a US survey foot 1200/3937 m).
func (s Scale) Metres() float64 {
	switch s {
	case Feet:
		return 0.3048
	case SurveyFeet:
		return 1200.0 / 3937.0
	}
	return 1
}

// ParseScale reads m, ft or us_survey_ft.
func ParseScale(text string) (Scale, error) {
	for _, s := range []Scale{Metres, Feet, SurveyFeet} {
		if text == s.String() {
			return s, nil
		}
	}
	return Metres, &ParseError{Kind: UnknownUnit, Quantity: "scale", Text: text, Part: text}
}
