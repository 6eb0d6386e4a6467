package level

import "spadework/engine/unit"

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

// Rule is a limit on the size of a misclosure.
type Rule struct {
	Size  unit.Length // at one of the basis
	Basis Basis
	text  string
}

// ParseRule reads "12 mm √K", "0.05 ft sqrt(M)", "3 mm √n", "2 mm per set-up" or
// "10 mm". Anything else is a *phrase.Fault.
func ParseRule(text string) (Rule, error) { panic("not yet") }

// String is the rule as it was read.
func (r Rule) String() string { return r.text }

// Limit is the largest misclosure allowed for a run of a length and a number of
// set-ups. What the rule needs and is not above 0 is a *phrase.Fault.
func (r Rule) Limit(length unit.Length, setups int) (unit.Length, error) { panic("not yet") }

// Verdict is a misclosure beside its limit.
type Verdict struct {
	Misclosure, Limit unit.Length
	Within            bool // |misclosure| ≤ limit
}

// Judge holds the misclosure of a run against the rule.
func (r Rule) Judge(run *Reduction) (Verdict, error) { panic("not yet") }
