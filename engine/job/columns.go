package job

import (
	_ "embed"
	"slices"
	"strings"
	"sync"

	"spadework/engine/phrase"
)

//go:embed headers.txt
var headersText string

// headerWords maps a squeezed header to the names it may stand for.
var headerWords = sync.OnceValue(func() map[string][]string {
	out := map[string][]string{}
	for line := range strings.Lines(headersText) {
		name, words, ok := strings.Cut(strings.TrimSpace(line), ":")
		if !ok || strings.HasPrefix(name, "#") {
			continue
		}
		for word := range strings.SplitSeq(words, ",") {
			key := squeeze(word)
			out[key] = append(out[key], name)
		}
	}
	return out
})

// squeeze drops what does not count in a header.
func squeeze(s string) string {
	return strings.Map(func(r rune) rune {
		if strings.ContainsRune(" \t._-", r) {
			return -1
		}
		return r
	}, strings.ToLower(strings.TrimSpace(s)))
}

// Columns tells which column of a table holds which value.
type Columns map[string]int

// Mapping says which header holds which value, and which headers to leave out.
type Mapping struct {
	Names  map[string]string // name to header
	Ignore []string          // headers
}

// FindColumns matches the header of a table to the names allowed. The mapping
// goes first. A header that stands for nothing allowed is a fault, so that no
// column is left out but by will.
func FindColumns(rows *Rows, allowed []string, mapping Mapping) (Columns, *phrase.Fault) {
	out := Columns{}
	for i, cell := range rows.Header {
		if mapping.ignores(cell.Text) {
			continue
		}
		name := mapping.name(cell.Text, allowed)
		if name == "" {
			name = known(cell.Text, allowed)
		}
		if name == "" {
			return nil, phrase.NewFault(
				phrase.New("job.unknown_column", phrase.With("header", cell.Text)),
				phrase.New("job.unknown_column.remedy", phrase.With("allowed", strings.Join(allowed, ", ")))).At(rows.place(cell))
		}
		if _, twice := out[name]; twice {
			return nil, phrase.NewFault(
				phrase.New("job.column_twice", phrase.With("name", name), phrase.With("header", cell.Text)),
				phrase.New("job.column_twice.remedy", phrase.With("name", name))).At(rows.place(cell))
		}
		out[name] = i
	}
	return out, nil
}

// name is the allowed name that the mapping gives to a header.
func (m Mapping) name(header string, allowed []string) string {
	for _, name := range allowed {
		if h, ok := m.Names[name]; ok && squeeze(h) == squeeze(header) {
			return name
		}
	}
	return ""
}

func (m Mapping) ignores(header string) bool {
	return slices.ContainsFunc(m.Ignore, func(h string) bool { return squeeze(h) == squeeze(header) })
}

// known is the allowed name that a header stands for.
func known(header string, allowed []string) string {
	for _, name := range headerWords()[squeeze(header)] {
		if slices.Contains(allowed, name) {
			return name
		}
	}
	return ""
}

// Cell is the value of a column in a row, empty if the row or table lacks it.
func (c Columns) Cell(row []Cell, name string) Cell {
	i, ok := c[name]
	if !ok || i >= len(row) {
		return Cell{}
	}
	return row[i]
}

// Need faults a table that lacks a column.
func (c Columns) Need(rows *Rows, names ...string) *phrase.Fault {
	for _, name := range names {
		if _, ok := c[name]; !ok {
			return phrase.NewFault(
				phrase.New("job.missing_column", phrase.With("name", name)),
				phrase.New("job.missing_column.remedy", phrase.With("name", name))).
				At(phrase.Place{File: rows.File, Line: rows.Header[0].Line})
		}
	}
	return nil
}
