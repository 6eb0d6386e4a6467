package exchange

import (
	"bytes"
	"strings"
	"unicode/utf8"

	"spadework/engine/job"
	"spadework/engine/phrase"
)

// Limits of a table, so that a hostile file cannot eat the memory. A ground
// survey of 5 million shots is about 250 MB.
const (
	maxTableBytes  = 512 << 20
	maxTableFields = 256
)

// ReadTable reads comma, semicolon or tab parted text (RFC 4180, with a byte
// order mark and either line end allowed). The first line that is not empty is
// the header. Every cell keeps its place.
//
// The separator is the one of ; tab , that stands in the header line outside
// quotes, in that order. With ; or tab, figures may have a decimal comma if no
// figure in the file has a point.
func ReadTable(file string, data []byte) (*job.Rows, *phrase.Fault) {
	if len(data) > maxTableBytes {
		return nil, tableFault("exchange.table_too_long", phrase.Place{File: file},
			phrase.With("limit", maxTableBytes>>20))
	}
	data = bytes.TrimPrefix(data, []byte("\xef\xbb\xbf"))
	if !utf8.Valid(data) {
		return nil, notUTF8(file, data)
	}
	s := &tableScanner{file: file, text: string(data), line: 1}
	s.separator = findSeparator(s.text)
	rows := &job.Rows{File: file}
	for {
		row, more := s.row()
		if s.fault != nil {
			return nil, s.fault
		}
		if f := addRow(rows, row); f != nil {
			return nil, f
		}
		if !more {
			break
		}
	}
	if rows.Header == nil {
		return nil, tableFault("exchange.table_empty", phrase.Place{File: file})
	}
	rows.DecimalComma = s.separator != ',' && !anyPoint(rows)
	return rows, nil
}

// addRow takes a row as the header, as data or, if it is empty, not at all.
func addRow(rows *job.Rows, row []job.Cell) *phrase.Fault {
	if blankRow(row) {
		return nil
	}
	at := phrase.Place{File: rows.File, Line: row[0].Line, Column: row[0].Column}
	switch {
	case rows.Header == nil:
		rows.Header = row
		if len(row) > maxTableFields {
			return tableFault("exchange.table_too_wide", at, phrase.With("limit", maxTableFields))
		}
	case len(row) > len(rows.Header) && !blankRow(row[len(rows.Header):]):
		return tableFault("exchange.table_long_row", at,
			phrase.With("count", len(row)), phrase.With("header", len(rows.Header)))
	default:
		rows.Rows = append(rows.Rows, row[:min(len(row), len(rows.Header))])
	}
	return nil
}

func blankRow(row []job.Cell) bool {
	for _, c := range row {
		if c.Text != "" {
			return false
		}
	}
	return true
}

// findSeparator looks at the first line that is not empty.
func findSeparator(text string) byte {
	for line := range strings.SplitSeq(text, "\n") {
		if strings.TrimSpace(line) == "" {
			continue
		}
		bare := outsideQuotes(line)
		for _, c := range []byte{';', '\t'} {
			if strings.IndexByte(bare, c) >= 0 {
				return c
			}
		}
		break
	}
	return ','
}

// outsideQuotes drops what stands in quotes.
func outsideQuotes(line string) string {
	var b strings.Builder
	for i, part := range strings.Split(line, `"`) {
		if i%2 == 0 {
			b.WriteString(part)
		}
	}
	return b.String()
}

// anyPoint says that some figure of the table has a decimal point.
func anyPoint(rows *job.Rows) bool {
	for _, row := range rows.Rows {
		for _, c := range row {
			if strings.Contains(c.Text, ".") && strings.Trim(c.Text, "+-0123456789.") == "" {
				return true
			}
		}
	}
	return false
}

func notUTF8(file string, data []byte) *phrase.Fault {
	line, column := 1, 1
	for len(data) > 0 {
		r, n := utf8.DecodeRune(data)
		if r == utf8.RuneError && n == 1 {
			break
		}
		column++
		if r == '\n' {
			line, column = line+1, 1
		}
		data = data[n:]
	}
	return tableFault("exchange.table_utf8", phrase.Place{File: file, Line: line, Column: column})
}

func tableFault(key phrase.Key, at phrase.Place, args ...phrase.Arg) *phrase.Fault {
	return phrase.NewFault(phrase.New(key, args...), phrase.New(key+".remedy", args...)).At(at)
}
