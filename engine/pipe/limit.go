package pipe

import (
	_ "embed"
	"encoding/csv"
	"fmt"
	"strconv"
	"strings"
	"sync"

	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// Limit is one figure of a rule with where it stands written.
type Limit struct {
	ID       string
	From, To float64 // SI; the row holds from From up to, not at, To; both 0 everywhere
	Factor   float64 // of the outside diameter
	Add      float64 // SI: metres, rise over run, metres per second
	Unit     string  // of the source: "in", "%", "ft/s" …
	Clause   string
	Title    string
	Edition  string
	Severity phrase.Severity
	Mark     Mark
	Decides  phrase.Key
	Source   string
}

//go:embed limits.csv
var limitsText string

// limits is the parsed table, compiled in and tested, so that a bad row panics
// at once.
var limits = sync.OnceValue(func() []Limit {
	out, err := readLimits(limitsText)
	if err != nil {
		panic("pipe: limits: " + err.Error())
	}
	return out
})

// Limits is a copy of all rows in the order of the data.
func Limits() []Limit { return append([]Limit(nil), limits()...) }

// limitUnits are the SI sizes of the units of the table.
var limitUnits = map[string]float64{
	"": 1, "in": 0.0254, "ft": 0.3048, "mm": 1e-3, "%": 0.01, "ft/s": 0.3048, "in/ft": 1.0 / 12, "in/100 ft": 1.0 / 1200,
}

// readLimits reads the table under its header row.
func readLimits(text string) ([]Limit, error) {
	r := csv.NewReader(strings.NewReader(text))
	r.FieldsPerRecord = 14
	r.Comment = '#'
	records, err := r.ReadAll()
	if err != nil {
		return nil, err
	}
	var out []Limit
	for _, rec := range records[1:] {
		l, err := readLimit(rec)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", rec[0], err)
		}
		out = append(out, l)
	}
	return out, nil
}

// readLimit reads one row.
func readLimit(rec []string) (Limit, error) {
	size, ok := limitUnits[rec[6]]
	span, ok2 := limitUnits[rec[3]]
	if !ok || !ok2 {
		return Limit{}, fmt.Errorf("unit %q or %q", rec[6], rec[3])
	}
	var f [4]float64
	for i, column := range []int{1, 2, 4, 5} {
		if rec[column] == "" {
			continue
		}
		v, err := strconv.ParseFloat(rec[column], 64)
		if err != nil {
			return Limit{}, err
		}
		f[i] = v
	}
	return Limit{
		ID: rec[0], From: f[0] * span, To: f[1] * span, Factor: f[2], Add: f[3] * size, Unit: rec[6],
		Clause: rec[7], Title: rec[8], Edition: rec[9], Severity: phrase.Severity(rec[10]),
		Mark: Mark(strings.ReplaceAll(rec[11], "_", "-")), Decides: phrase.Key("who." + rec[12]), Source: rec[13],
	}, nil
}

// Value is the figure for an outside diameter, which only widths and bedding
// need.
func (l Limit) Value(outside unit.Length) float64 { return l.Add + float64(l.Factor*float64(outside)) }

// Quantity is the figure in its type.
func (l Limit) Quantity(outside unit.Length) any {
	v := l.Value(outside)
	switch l.Unit {
	case "%", "in/ft", "in/100 ft":
		return unit.Grade(v)
	case "ft/s":
		return unit.Speed(v)
	}
	return unit.Length(v)
}

// limit is the only row of a rule.
func limit(id string) Limit {
	l, ok := rowFor(id, 0)
	if !ok {
		panic("pipe: no limit " + id)
	}
	return l
}

// rowFor is the row of a rule that holds for a size or slope; ok is false where
// the table has none.
func rowFor(id string, v float64) (l Limit, ok bool) {
	for _, l := range limits() {
		if l.ID != id {
			continue
		}
		if v >= l.From && (l.To == 0 || v < l.To) {
			return l, true
		}
	}
	return Limit{}, false
}

// greatest is the row of a rule that asks for most at an outside diameter.
func greatest(id string, outside unit.Length) Limit {
	var best Limit
	for _, l := range limits() {
		if l.ID == id && (best.ID == "" || l.Value(outside) > best.Value(outside)) {
			best = l
		}
	}
	return best
}
