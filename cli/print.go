package cli

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"spadework/sheet"
)

// print writes a sheet as text broken to the width of the terminal.
func (a *app) print(s *sheet.Sheet) {
	for i, b := range s.Blocks {
		afterTable := i > 0 && s.Blocks[i-1].Kind == sheet.TableBlock
		switch b.Kind {
		case sheet.TableBlock:
			if i > 0 && s.Blocks[i-1].Kind == sheet.Line && !b.Table.Plain {
				fmt.Fprintln(a.Out)
			}
			a.printTable(b.Table)
		case sheet.Heading:
			fmt.Fprintf(a.Out, "\n%s\n", b.Text)
		case sheet.Paragraph, sheet.Finding:
			if afterTable && !s.Blocks[i-1].Table.Plain {
				fmt.Fprintln(a.Out)
			}
			a.paragraph(2, b.Text)
		case sheet.Detail:
			a.paragraph(4, b.Text)
		default:
			if i > 1 && b.Kind == sheet.Line && s.Blocks[i-1].Kind != sheet.Line && s.Blocks[i-1].Kind != sheet.Title {
				fmt.Fprintln(a.Out)
			}
			a.paragraph(0, b.Text)
		}
	}
}

// paragraph prints words broken to the width, hung under their first line.
func (a *app) paragraph(indent int, text string) {
	for i, line := range wrap(text, a.width-indent-2) {
		in := indent
		if i > 0 {
			in += 2
		}
		fmt.Fprintln(a.Out, strings.Repeat(" ", in)+line)
	}
}

const (
	columnGap    = 2
	leastFlex    = 12
	unknownWidth = 100 // where the output is no terminal, so that it is stable
)

// printTable prints rows in columns, indented by two. A table wider than the
// terminal breaks the words of its flex columns, never figures.
func (a *app) printTable(t *sheet.Table) {
	widths := fit(t, a.width-2)
	if !t.Plain {
		heads := make([]string, len(t.Columns))
		for i, c := range t.Columns {
			heads[i] = c.Head
		}
		a.printRow(t, widths, heads)
	}
	for _, row := range t.Rows {
		a.printRow(t, widths, row)
	}
}

// fit gives every column the width of its longest cell; flex columns give way.
func fit(t *sheet.Table, width int) []int {
	widths := make([]int, len(t.Columns))
	total := columnGap * (len(t.Columns) - 1)
	for i, c := range t.Columns {
		widths[i] = utf8.RuneCountInString(c.Head)
		for _, row := range t.Rows {
			widths[i] = max(widths[i], utf8.RuneCountInString(row[i]))
		}
		total += widths[i]
	}
	for i, c := range t.Columns {
		if c.Flex && total > width {
			cut := min(total-width, widths[i]-min(leastFlex, widths[i]))
			widths[i] -= cut
			total -= cut
		}
	}
	return widths
}

// printRow prints one row, over as many lines as its longest broken cell.
func (a *app) printRow(t *sheet.Table, widths []int, cells []string) {
	broken := make([][]string, len(cells))
	lines := 1
	for i, cell := range cells {
		broken[i] = []string{cell}
		if t.Columns[i].Flex {
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
			b.WriteString(pad(part, widths[i], t.Columns[i].Right))
			b.WriteString(strings.Repeat(" ", columnGap))
		}
		fmt.Fprintln(a.Out, "  "+strings.TrimRight(b.String(), " "))
	}
}

// pad fills a cell up to a width.
func pad(s string, width int, right bool) string {
	blank := strings.Repeat(" ", max(0, width-utf8.RuneCountInString(s)))
	if right {
		return blank + s
	}
	return s + blank
}

// wrap breaks words into lines of a width; a longer word, or a figure with its
// fraction and unit, stands alone.
func wrap(s string, width int) []string {
	var lines []string
	line := ""
	for word := range strings.FieldsFuncSeq(sheet.Unbroken(s), func(r rune) bool { return r == ' ' }) {
		word = strings.ReplaceAll(word, "\u00a0", " ")
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
