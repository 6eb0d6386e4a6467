package level

import (
	"math"
	"strconv"
	"strings"

	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// Basis is what a misclosure limit grows with.
type Basis uint8

// The bases.
const (
	Fixed          Basis = iota // the same for every run
	RootKilometres              // √K, K the length in kilometres
	RootMiles                   // √M, M the length in miles
	RootSetups                  // √n, n the number of set-ups
	PerSetup                    // n
)

// Rule is a limit on the size of a misclosure. Limits differ by country, class
// and contract; the job brings its own.
type Rule struct {
	Size  unit.Length // at one of the basis
	Basis Basis
	text  string // as read
}

// roots are the ways to write what stands under the root. A bare m or k is
// refused: it could be metres, miles, kilometres or thousands.
var roots = [...]struct {
	basis Basis
	words []string
}{
	{RootKilometres, []string{"K", "km"}},
	{RootMiles, []string{"M", "mi", "miles"}},
	{RootSetups, []string{"n"}},
}

// sizes are the units a rule may be written in; mm before m.
var sizes = [...]struct {
	name string
	size unit.Length
}{{"mm", unit.Millimetre}, {"cm", 10 * unit.Millimetre}, {"m", unit.Metre}, {"ft", unit.Foot}, {"in", unit.Inch}}

// ParseRule reads "12 mm √K", "12 mm*sqrt(K)", "0.05 ft √M", "3 mm √n",
// "2 mm per set-up" or "10 mm"; a decimal comma will do. Anything else is a
// *phrase.Fault.
func ParseRule(text string) (Rule, error) {
	trimmed := strings.TrimSpace(text)
	digits := strings.IndexFunc(trimmed, func(r rune) bool { return !strings.ContainsRune("0123456789.,", r) })
	if digits < 0 {
		return Rule{}, badRule(text)
	}
	size, ok := decimal(trimmed[:digits])
	if !ok {
		return Rule{}, badRule(text)
	}
	rest := strings.TrimSpace(trimmed[digits:])
	for _, u := range sizes {
		after, found := strings.CutPrefix(rest, u.name)
		if !found {
			continue
		}
		if basis, ok := parseBasis(after); ok {
			return Rule{unit.Length(size * float64(u.size)), basis, trimmed}, nil
		}
	}
	return Rule{}, badRule(text)
}

func badRule(text string) error {
	return phrase.NewFault(phrase.New("level.bad_rule", phrase.With("text", text)), phrase.New("level.bad_rule.remedy"))
}

// decimal reads digits with at most one point or comma among them, above 0.
func decimal(s string) (v float64, ok bool) {
	s = strings.Replace(s, ",", ".", 1)
	if strings.HasPrefix(s, ".") || strings.HasSuffix(s, ".") {
		return 0, false
	}
	v, err := strconv.ParseFloat(s, 64)
	return v, err == nil && v > 0 && isNumber(v)
}

// parseBasis reads what follows the unit.
func parseBasis(s string) (b Basis, ok bool) {
	s = strings.TrimSpace(s)
	switch s {
	case "":
		return Fixed, true
	case "per set-up", "per setup", "per set up":
		return PerSetup, true
	}
	s = strings.TrimSpace(cutAny(s, "*", "·", "×"))
	under := cutAny(s, "√", "sqrt")
	if under == s {
		return 0, false
	}
	under = strings.TrimSpace(under)
	if strings.HasPrefix(under, "(") && strings.HasSuffix(under, ")") {
		under = strings.TrimSpace(under[1 : len(under)-1])
	}
	for _, c := range roots {
		for _, word := range c.words {
			if under == word {
				return c.basis, true
			}
		}
	}
	return 0, false
}

// cutAny is s without the first of the prefixes that it has.
func cutAny(s string, prefixes ...string) string {
	for _, p := range prefixes {
		if after, found := strings.CutPrefix(s, p); found {
			return after
		}
	}
	return s
}

// String is the rule as it was read, or in millimetres if it was not.
func (r Rule) String() string {
	if r.text != "" {
		return r.text
	}
	tail := map[Basis]string{RootKilometres: " √K", RootMiles: " √M", RootSetups: " √n", PerSetup: " per set-up"}
	return strconv.FormatFloat(float64(r.Size)*1000, 'f', -1, 64) + " mm" + tail[r.Basis]
}

// Limit is the largest misclosure allowed for a run of a length and a number of
// set-ups. What the rule needs and is not above 0 is a *phrase.Fault.
func (r Rule) Limit(length unit.Length, setups int) (unit.Length, error) {
	root := func(v float64) unit.Length { return r.Size * unit.Length(math.Sqrt(v)) }
	switch r.Basis {
	case RootKilometres, RootMiles:
		if !(length > 0) || !isNumber(float64(length)) {
			return 0, r.needs("level.rule_needs_length")
		}
		if r.Basis == RootMiles {
			return root(float64(length / unit.Mile)), nil
		}
		return root(float64(length) / 1000), nil
	case RootSetups, PerSetup:
		if setups < 1 {
			return 0, r.needs("level.rule_needs_setups")
		}
		if r.Basis == PerSetup {
			return r.Size * unit.Length(setups), nil
		}
		return root(float64(setups)), nil
	}
	return r.Size, nil
}

func (r Rule) needs(key phrase.Key) error {
	return phrase.NewFault(phrase.New(key, phrase.With("rule", r.String())), phrase.New(key+".remedy"))
}

// hair is what a misclosure may pass its limit by and still count as equal to
// it: rounding of decimal readings.
const hair = 1e-9 * unit.Metre

// Verdict is a misclosure beside its limit.
type Verdict struct {
	Misclosure, Limit unit.Length
	Within            bool // |misclosure| ≤ limit
}

// judge holds a misclosure against the limit for a length and a count.
func (r Rule) judge(misclosure, length unit.Length, setups int) (Verdict, error) {
	limit, err := r.Limit(length, setups)
	if err != nil {
		return Verdict{}, err
	}
	size := unit.Length(math.Abs(float64(misclosure)))
	return Verdict{misclosure, limit, size <= limit+hair}, nil
}

// Judge holds the misclosure of a run against the rule. A run that does not end
// on a known point, or lacks what the rule needs, is a *phrase.Fault.
func (r Rule) Judge(run *Reduction) (Verdict, error) {
	if !run.Closes {
		return Verdict{}, phrase.NewFault(phrase.New("level.open_run"), phrase.New("level.open_run.remedy"))
	}
	return r.judge(run.Misclosure, run.Length, run.Setups)
}

// JudgeLoop holds the misclosure of a loop against the rule.
func (r Rule) JudgeLoop(l Loop) (Verdict, error) { return r.judge(l.Misclosure, l.Length, l.Setups) }
