package safety

import (
	_ "embed"
	"encoding/csv"
	"slices"
	"strconv"
	"strings"
	"sync"

	"spadework/engine/phrase"
)

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

// Book is a rule set made up for one job. It is not changed once made. The zero
// Book is NoSet.
type Book struct {
	set   string
	rules []Rule // in the order of the data
}

// Set is the name of the rule set.
func (b Book) Set() string {
	if b.set == "" {
		return NoSet
	}
	return b.set
}

// Rule is the rule of an id; ok is false for an id the book does not have.
func (b Book) Rule(id string) (r Rule, ok bool) {
	i := b.index(id)
	if i < 0 {
		return Rule{}, false
	}
	return b.rules[i], true
}

func (b Book) index(id string) int {
	for i := range b.rules { // by place: a Rule is large to copy
		if b.rules[i].ID == id {
			return i
		}
	}
	return -1
}

// rule is a rule that is in the data; a test looks every id of the code up.
func (b Book) rule(id string) Rule {
	r, ok := b.Rule(id)
	if !ok {
		r, _ = base().Rule(id)
		r.On = false
	}
	return r
}

//go:embed rules.csv
var rulesText string

// data is every rule of every set. It is compiled in and a test reads it, so a
// bad row panics.
var data = sync.OnceValue(func() []Rule { return readRules(rulesText) })

// base is the US federal set without overrides.
var base = sync.OnceValue(func() Book { return compose(USFederal) })

// readRules reads rows of rules.csv.
func readRules(text string) []Rule {
	r := csv.NewReader(strings.NewReader(text))
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil || len(rows) < 2 {
		panic("safety: rules.csv: " + strconv.Itoa(len(rows)) + " rows")
	}
	var out []Rule
	for _, row := range rows[1:] {
		rule := Rule{
			Set: row[0], ID: row[1], Clause: row[2], Title: row[3], Edition: row[4],
			Limit: readLimit(row[1], row[5], Unit(row[6])), Breaks: Breaks(row[7]),
			Severity: phrase.Severity(row[8]), Mark: Mark(row[9]), Decides: row[10], Source: row[11],
		}
		rule.On = rule.Mark != Memory
		out = append(out, rule)
	}
	return out
}

// readLimit reads a figure and its unit; none is a duty.
func readLimit(id, figure string, u Unit) Limit {
	if figure == "" {
		return Limit{}
	}
	n, err := strconv.ParseFloat(figure, 64)
	if err != nil || u == NoUnit {
		panic("safety: rules.csv: " + id + ": limit " + figure)
	}
	return Limit{Number: n, Unit: u}
}

// compose is a set without overrides: its own rules in the place of the US
// federal ones. One from memory, being off, leaves the US federal rule in force.
func compose(set string) Book {
	b := Book{set: set}
	for _, r := range data() {
		if r.Set == USFederal {
			r.Borrowed = set != USFederal
			b.rules = append(b.rules, r)
		}
	}
	for _, r := range data() {
		if r.Set != set || set == USFederal || !r.On {
			continue
		}
		if i := b.index(r.ID); i >= 0 {
			b.rules[i] = r
			continue
		}
		b.rules = append(b.rules, r)
	}
	for i := range b.rules {
		b.rules[i].On = b.rules[i].On && set != NoSet
	}
	return b
}

// Override is a local value of a rule and where it comes from. An empty Value
// keeps the figure of a rule from memory and switches it on.
type Override struct{ Rule, Value, Source string }

// Rules is a rule set with a job's overrides; "" is the US federal set. What
// the set does not have is borrowed from the US federal rules and marked so. A
// set or rule that is not known, a rule overridden twice, a missing source, a
// value that cannot be read or has the wrong unit is a *phrase.Fault whose
// place is "set" or "override.N.rule", N from 0.
func Rules(set string, overrides ...Override) (Book, error) {
	if set == "" {
		set = USFederal
	}
	if !slices.Contains(Sets(), set) {
		f := phrase.NewFault(
			phrase.New("safety.set_unknown", phrase.With("value", set)),
			phrase.New("safety.set_unknown.remedy", phrase.With("allowed", Sets())))
		f.Code = phrase.NotFound
		return Book{}, f.At(phrase.Place{Path: "set"})
	}
	b := compose(set)
	for i, o := range overrides {
		if err := b.override(o, overrides[:i], "override."+strconv.Itoa(i)); err != nil {
			return Book{}, err
		}
	}
	return b, nil
}
