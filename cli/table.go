package cli

import (
	"fmt"
	"io"
	"strings"
	"unicode/utf8"
)

// column is one column of a printed table.
type column struct {
	head  string
	right bool // figures stand right
	flex  bool // words may break into lines where the table is too wide
}

// table is rows of text printed in columns. A table wider than the terminal
// breaks the words of its flex columns, never figures.
type table struct {
	columns []column
	rows    [][]string
}

func (t *table) add(cells ...string) { t.rows = append(t.rows, cells) }

const (
	columnGap    = 2
	leastFlex    = 12
	unknownWidth = 100 // where the output is no terminal, so that it is stable
)

// print writes the table under its heads, indented by two.
func (t *table) print(w io.Writer, width int) {
	widths := t.fit(width - 2)
	heads := make([]string, len(t.columns))
	for i, c := range t.columns {
		heads[i] = c.head
	}
	t.line(w, widths, heads)
	for _, row := range t.rows {
		t.line(w, widths, row)
	}
}

// printRows writes the table without heads.
func (t *table) printRows(w io.Writer, width int) {
	widths := t.fit(width - 2)
	for _, row := range t.rows {
		t.line(w, widths, row)
	}
}

// fit gives every column the width of its longest cell; flex columns give way.
func (t *table) fit(width int) []int {
	widths := make([]int, len(t.columns))
	total := columnGap * (len(t.columns) - 1)
	for i, c := range t.columns {
		widths[i] = utf8.RuneCountInString(c.head)
		for _, row := range t.rows {
			widths[i] = max(widths[i], utf8.RuneCountInString(row[i]))
		}
		total += widths[i]
	}
	for i, c := range t.columns {
		if c.flex && total > width {
			least := min(leastFlex, widths[i])
			cut := min(total-width, widths[i]-least)
			widths[i] -= cut
			total -= cut
		}
	}
	return widths
}

// line prints one row, over as many lines as its longest broken cell.
func (t *table) line(w io.Writer, widths []int, cells []string) {
	broken := make([][]string, len(cells))
	lines := 1
	for i, cell := range cells {
		broken[i] = []string{cell}
		if t.columns[i].flex {
			broken[i] = wrap(cell, widths[i])
		}
		lines = max(lines, len(broken[i]))
	}
	for n := range lines {
		var b strings.Builder
		for i := range cells {
			part := ""
			if n < len(broken[i]) {
				part = broken[i][n]
			}
			pad := strings.Repeat(" ", max(0, widths[i]-utf8.RuneCountInString(part)))
			if t.columns[i].right {
				part = pad + part
			} else {
				part += pad
			}
			b.WriteString(part)
			b.WriteString(strings.Repeat(" ", columnGap))
		}
		fmt.Fprintln(w, "  "+strings.TrimRight(b.String(), " "))
	}
}

// wrap breaks words into lines of a width; a longer word stands alone.
func wrap(s string, width int) []string {
	var lines []string
	line := ""
	for _, word := range strings.Fields(s) {
		switch {
		case line == "":
			line = word
		case utf8.RuneCountInString(line)+1+utf8.RuneCountInString(word) <= width:
			line += " " + word
		default:
			lines = append(lines, line)
			line = word
		}
	}
	return append(lines, line)
}
