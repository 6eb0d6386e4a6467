package unit

import (
	"errors"
	"strings"
)

// Accuracy reads the stated accuracy of a laser as a grade, rise over run: an
// angle in seconds of arc, 20" or 10 arcsec, or a height in a distance,
// 1/16 in per 100 ft, 1.5 mm per 30 m, 0.05 mm/m, 1.5 mm @ 30 m. A leading ± is
// allowed. It is above 0 and at most 1 %.
func (r Reader) Accuracy(text string) (Grade, error) {
	figure := strings.TrimSpace(text)
	for _, sign := range []string{"±", "+/-"} {
		figure = strings.TrimPrefix(figure, sign)
	}
	g, p := r.seconds(figure)
	if _, _, bare := bareDecimal(figure, r.Comma); bare {
		p = problem{kind: MissingUnit, alts: []alternative{{text: figure + "\""}, {text: figure + " mm per 100 m"}}}
	}
	if p.kind == WrongUnit {
		v, err := r.slopeRatio(figure, "accuracy", false)
		if err != nil {
			return 0, withText(err, text)
		}
		g, p = Grade(v.float64()), problem{}
	}
	switch {
	case p.kind != "":
	case !(g > 0):
		p = problem{kind: Negative}
	case g > 0.01:
		p = problem{kind: TooLarge, limit: "1 %"}
	}
	if p.kind != "" {
		return 0, p.error(text, "accuracy")
	}
	return g, nil
}

// withText puts the whole text into the error of a part of it.
func withText(err error, text string) error {
	var e *ParseError
	if errors.As(err, &e) {
		out := *e
		out.Text = shorten(text)
		return &out
	}
	return err
}

// seconds reads seconds of arc; WrongUnit means that the text is something
// else. A fraction with " alone may be of an inch, so it is not taken.
func (r Reader) seconds(figure string) (Grade, problem) {
	var ts tokens
	if p := ts.read(figure, r.Comma); p.kind != "" {
		return 0, ts.quote(p)
	}
	i, neg := ts.sign()
	second := ts.kind(i+1) == '"' || arcWord(ts.word(i+1)) == 2
	if ts.n != i+2 || ts.kind(i) != numberToken || !second {
		return 0, problem{kind: WrongUnit}
	}
	x := exact{neg: neg}
	var ok bool
	if x.r, ok = ts.list[i].d.ratio(); !ok {
		return 0, problem{kind: Digits}
	}
	return Grade(x.float64() * float64(ArcSecond)), problem{}
}
