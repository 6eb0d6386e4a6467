package safety

import (
	"errors"
	"math"
	"slices"
	"strconv"
	"strings"

	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// override replaces one rule of b.
func (b *Book) override(o Override, earlier []Override, path string) error {
	i := b.index(o.Rule)
	switch {
	case i < 0:
		f := overrideFault("safety.override_unknown", o)
		f.Code = phrase.NotFound
		return f.At(phrase.Place{Path: path + ".rule"})
	case slices.ContainsFunc(earlier, func(e Override) bool { return e.Rule == o.Rule }):
		f := overrideFault("safety.override_twice", o)
		f.Code = phrase.Conflict
		return f.At(phrase.Place{Path: path + ".rule"})
	case strings.TrimSpace(o.Source) == "":
		return overrideFault("safety.override_source", o).At(phrase.Place{Path: path + ".source"})
	}
	r := b.own(i)
	if err := r.take(o); err != nil {
		return err.At(phrase.Place{Path: path + ".value"})
	}
	r.Source, r.Mark, r.On, r.Borrowed = o.Source, Stated, b.set != NoSet, false
	b.rules[i] = r
	return nil
}

// own is rule i of b, or the set's own recalled rule that it stands for.
func (b *Book) own(i int) Rule {
	for _, r := range data() {
		if r.Set == b.set && r.ID == b.rules[i].ID {
			return r
		}
	}
	return b.rules[i]
}

// take sets the limit of r to an override's value.
func (r *Rule) take(o Override) *phrase.Fault {
	value := strings.TrimSpace(o.Value)
	switch {
	case value == "" && r.Mark == Memory:
		return nil
	case value == "":
		return overrideFault("safety.override_empty", o)
	case r.Limit.Unit == NoUnit:
		return overrideFault("safety.override_duty", o)
	}
	l, ok := readValue(value, r.Limit.Unit)
	if !ok {
		f := overrideFault("safety.override_value", o)
		f.Remedy = phrase.New("safety.override_value.remedy", phrase.With("example", r.Limit.String()))
		return f
	}
	r.Limit = l
	return nil
}

// readValue reads a value that must carry the unit's kind; ok is false for any
// other, a bare number, one below zero and one that is not finite.
func readValue(text string, u Unit) (l Limit, ok bool) {
	l = Limit{Unit: u, Words: text}
	switch u {
	case Feet, Inches, Metres:
		l.Unit = Metres
		l.Number, ok = readLength(text)
	case Ratio:
		v, err := unit.ParseBatter(text)
		l.Number, ok = v.Ratio(), err == nil
	case Grade:
		v, err := unit.ParseSlope(text)
		l.Number, ok = float64(v.Grade()), err == nil
	case Degrees:
		v, err := unit.ParseAngle(text)
		l.Number, ok = float64(v/unit.Degree), err == nil && v > 0 && v <= 90*unit.Degree
	default:
		figure, has := strings.CutSuffix(text, string(u))
		v, err := strconv.ParseFloat(strings.TrimSpace(figure), 64)
		l.Number, ok = v, has && err == nil
	}
	return l, ok && l.Number >= 0 && !math.IsInf(l.Number, 0)
}

// readLength reads a length with its unit: a bare number, which means another
// length in another scale, is refused.
func readLength(text string) (float64, bool) {
	m, errM := unit.ParseLength(text, unit.Metres)
	ft, errFt := unit.ParseLength(text, unit.Feet)
	var bare *unit.ParseError
	if errors.As(errM, &bare) || errors.As(errFt, &bare) {
		return 0, false
	}
	_, err := strconv.ParseFloat(text, 64) // "0" is the same length in any scale
	return float64(m), m == ft && err != nil
}

// overrideFault is a fault of an override with its remedy.
func overrideFault(key phrase.Key, o Override) *phrase.Fault {
	return phrase.NewFault(
		phrase.New(key, phrase.With("rule", o.Rule), phrase.With("value", o.Value)),
		phrase.New(key+".remedy", phrase.With("rule", o.Rule)))
}

// Weaker says that the limit lets more pass than other, which has the same
// kind of unit; false for duties.
func (r Rule) Weaker(other Rule) bool {
	size := func(l Limit) float64 {
		if m := l.Unit.metres(); m != 0 {
			return l.Number * float64(m)
		}
		return l.Number
	}
	mine, theirs := size(r.Limit), size(other.Limit)
	switch r.ID {
	case "influence_trench", "influence_footing": // a steeper line lets a dig come nearer
		return mine > theirs
	case "eye_low", "line_plant_rate", "service_width", "state_zone":
		return mine < theirs
	case "eye_high":
		return mine < theirs
	case "trench_width", "forms_width":
		return mine < theirs // fewer digs count as trenches
	}
	if r.Breaks == Under {
		return mine < theirs
	}
	return r.Breaks != None && mine > theirs
}
