package pipe

import (
	_ "embed"
	"encoding/csv"
	"strconv"
	"strings"
	"sync"

	"spadework/engine/unit"
)

// Mark says how well a figure is known: read in the source, quoted by another
// page, or recalled. Shown beside the figure wherever it is used.
type Mark string

// The marks, best first.
const (
	Read       Mark = "read"
	SecondHand Mark = "second-hand"
	Memory     Mark = "memory"
)

// Entry is one pipe of the catalogue.
type Entry struct {
	Standard    string // "ASTM D3034"
	Series      string // "SDR 35"
	Nominal     unit.Length
	Section     Section
	OutsideMark Mark
	WallMark    Mark
	Source      string
}

// Mark is the weaker of the marks of its two figures.
func (e Entry) Mark() Mark {
	if rank(e.WallMark) > rank(e.OutsideMark) {
		return e.WallMark
	}
	return e.OutsideMark
}

// rank is the place of a mark from best (0).
func rank(m Mark) int {
	switch m {
	case Read:
		return 0
	case SecondHand:
		return 1
	}
	return 2
}

//go:embed catalogue.csv
var catalogueText string

// rows is the parsed catalogue. It is compiled in and tested, so a bad row
// panics at once.
var rows = sync.OnceValue(func() []Entry {
	out, err := readCatalogue(catalogueText)
	if err != nil {
		panic("pipe: catalogue: " + err.Error())
	}
	return out
})

// Catalogue is a copy of all entries by standard, series and nominal size.
func Catalogue() []Entry { return append([]Entry(nil), rows()...) }

// Find is the entry of a standard, series and nominal diameter within a tenth
// of an inch, of ASTM C76 by its rule. ok is false if the catalogue has none.
func Find(standard, series string, nominal unit.Length) (e Entry, ok bool) {
	if wall, found := strings.CutPrefix(series, "wall "); found && standard == concreteStandard {
		return Concrete(nominal, ConcreteWall(wall))
	}
	for _, e := range rows() {
		near := e.Nominal-nominal < unit.Inch/10 && nominal-e.Nominal < unit.Inch/10
		if near && e.Standard == standard && e.Series == series {
			return e, true
		}
	}
	return Entry{}, false
}

// readCatalogue reads the columns standard, series, nominal_in, outside_in,
// wall_in, outside_mark, wall_mark, source under one header row.
func readCatalogue(text string) ([]Entry, error) {
	r := csv.NewReader(strings.NewReader(text))
	r.FieldsPerRecord = 8
	r.Comment = '#'
	records, err := r.ReadAll()
	if err != nil {
		return nil, err
	}
	var out []Entry
	for _, rec := range records[1:] {
		e, err := readEntry(rec)
		if err != nil {
			return nil, err
		}
		out = append(out, e)
	}
	return out, nil
}

// readEntry reads one row.
func readEntry(rec []string) (Entry, error) {
	var inches [3]unit.Length
	for i := range inches {
		f, err := strconv.ParseFloat(rec[2+i], 64)
		if err != nil {
			return Entry{}, err
		}
		inches[i] = unit.Length(f) * unit.Inch
	}
	return Entry{
		Standard: rec[0], Series: rec[1], Nominal: inches[0],
		Section:     Section{Outside: inches[1], Wall: inches[2]},
		OutsideMark: Mark(rec[5]), WallMark: Mark(rec[6]), Source: rec[7],
	}, nil
}
