package safety

import (
	_ "embed"
	"encoding/csv"
	"strconv"
	"strings"
	"sync"

	"spadework/engine/phrase"
)

// Mark says how well a rule's figure is known.
type Mark string

// The marks: it stood in the source named, or in a page that quotes it.
const (
	Read       Mark = "read"
	SecondHand Mark = "second_hand"
)

// Rule is one line of the rules.
type Rule struct {
	ID       string
	Clause   string
	Limit    float64 // feet, or horizontal over vertical of a slope; 0 for a duty
	Severity phrase.Severity
	Mark     Mark
	Source   string
	Decides  string // key under "who."
}

//go:embed rules.csv
var rulesText string

// rules is the data by id. It is compiled in and tested, so a bad row panics.
var rules = sync.OnceValue(func() map[string]Rule {
	r := csv.NewReader(strings.NewReader(rulesText))
	rows, err := r.ReadAll()
	if err != nil {
		panic("safety: " + err.Error())
	}
	out := map[string]Rule{}
	for _, row := range rows[1:] {
		limit, err := strconv.ParseFloat(row[2], 64)
		if err != nil {
			panic("safety: " + row[0] + ": " + err.Error())
		}
		out[row[0]] = Rule{
			ID: row[0], Clause: row[1], Limit: limit, Severity: phrase.Severity(row[3]),
			Mark: Mark(row[4]), Source: row[5], Decides: row[6],
		}
	}
	return out
})
