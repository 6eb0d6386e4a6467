package exchange

import (
	"strings"
	"unicode/utf8"

	"spadework/engine/job"
	"spadework/engine/phrase"
)

// tableScanner walks the text of a table cell by cell.
type tableScanner struct {
	file      string
	text      string // what is left
	separator byte
	line      int
	column    int // characters of the line already read
	fault     *phrase.Fault
}

// row reads one row; more is false at the end of the text.
func (s *tableScanner) row() (row []job.Cell, more bool) {
	s.column = 0
	for {
		cell, end := s.cell()
		row = append(row, cell)
		if s.fault != nil || end == 0 {
			return row, false
		}
		if end == '\n' {
			return row, true
		}
	}
}

// cell reads one cell and what ends it: the separator, a newline, or 0 for the
// end of the text.
func (s *tableScanner) cell() (job.Cell, byte) {
	blank := len(s.text) - len(strings.TrimLeft(s.text, " "))
	s.text, s.column = s.text[blank:], s.column+blank
	if strings.HasPrefix(s.text, `"`) && s.opensQuoted() {
		return s.quoted()
	}
	cell := job.Cell{Line: s.line, Column: s.column + 1}
	i := strings.IndexAny(s.text, string([]byte{s.separator, '\n'}))
	if i < 0 {
		i = len(s.text)
	}
	cell.Text = strings.TrimSpace(s.text[:i])
	return cell, s.advance(i)
}

// opensQuoted says that the quote at the front begins a quoted cell.
func (s *tableScanner) opensQuoted() bool { return strings.Contains(s.text[1:], `"`) }

// advance moves over i bytes without a newline and the byte that ends the cell.
func (s *tableScanner) advance(i int) byte {
	s.column += utf8.RuneCountInString(s.text[:i]) + 1
	if i == len(s.text) {
		s.text = ""
		return 0
	}
	end := s.text[i]
	s.text = s.text[i+1:]
	if end == '\n' {
		s.line++
	}
	return end
}

// quoted reads a quoted cell, in which "" is a quote and lines may break.
func (s *tableScanner) quoted() (job.Cell, byte) {
	cell := job.Cell{Line: s.line, Column: s.column + 1}
	var b strings.Builder
	rest := s.text[1:]
	s.column++
	for {
		i := strings.IndexByte(rest, '"')
		if i < 0 {
			s.fault = tableFault("exchange.table_quote",
				phrase.Place{File: s.file, Line: cell.Line, Column: cell.Column})
			return cell, 0
		}
		s.count(rest[:i+1])
		b.WriteString(rest[:i])
		rest = rest[i+1:]
		if !strings.HasPrefix(rest, `"`) {
			break
		}
		b.WriteByte('"')
		rest, s.column = rest[1:], s.column+1
	}
	s.text = rest
	cell.Text = strings.TrimSpace(b.String())
	return cell, s.afterQuote(cell)
}

// count moves line and column over text.
func (s *tableScanner) count(text string) {
	if n := strings.Count(text, "\n"); n > 0 {
		s.line += n
		text = text[strings.LastIndexByte(text, '\n')+1:]
		s.column = 0
	}
	s.column += utf8.RuneCountInString(text)
}

// afterQuote takes what ends a quoted cell; anything but a separator or a line
// end there is a slip that would shift the columns.
func (s *tableScanner) afterQuote(cell job.Cell) byte {
	blank := len(s.text) - len(strings.TrimLeft(s.text, " \r"))
	s.text, s.column = s.text[blank:], s.column+blank
	if s.text != "" && s.text[0] != s.separator && s.text[0] != '\n' {
		s.fault = tableFault("exchange.table_quote",
			phrase.Place{File: s.file, Line: cell.Line, Column: cell.Column})
		return 0
	}
	return s.advance(0)
}
