package unit

import "math/big"

// Coordinate reads a plan coordinate or an elevation to whole micrometres,
// halves of the exact value away from zero. It reads what Length reads. In a
// job in US survey feet a text that says ft is ambiguous where the two feet
// differ by more than a millimetre.
func (r Reader) Coordinate(text string) (int64, error) {
	x, err := r.exactLength(text, "coordinate")
	if err != nil {
		return 0, err
	}
	if _, _, bare := bareDecimal(text, r.Comma); !bare && r.Bare == SurveyFeet {
		if err := r.whichFoot(text, x); err != nil {
			return 0, err
		}
	}
	return x.micrometres(), nil
}

// feetDiffer is how far from zero the feet differ by a millimetre: they are to
// each other as 999 998 to 1 000 000.
const feetDiffer = 500

// whichFoot refuses an international foot far out in a job in survey feet.
func (r Reader) whichFoot(text string, x exact) error {
	if !x.over(feetDiffer) {
		return nil
	}
	s, p := r.length(text, false)
	if p.kind != "" || s.terms[0].unit.system != Imperial || s.terms[0].unit == surveyFeet {
		return nil
	}
	survey := new(big.Rat).Mul(x.rat(), big.NewRat(1_000_000, 999_998))
	ratFeet := func(v *big.Rat, u lengthUnit) string {
		return trimmed(new(big.Rat).Quo(v, u.size.rat()), 4) + " " + u.name + " (" + trimmed(v, 4) + " m)"
	}
	return &ParseError{Kind: Ambiguous, Quantity: "coordinate", Text: shorten(text),
		Readings: []string{ratFeet(survey, surveyFeet), ratFeet(x.rat(), feet)}}
}
