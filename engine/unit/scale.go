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

// ParseScale reads m, ft or us_survey_ft.
func ParseScale(text string) (Scale, error) {
	for _, s := range []Scale{Metres, Feet, SurveyFeet} {
		if text == s.String() {
			return s, nil
		}
	}
	return Metres, &ParseError{Kind: UnknownUnit, Quantity: "scale", Text: text, Part: text}
}
