package sheet

import "slices"

// Column is one column of a table.
type Column struct {
	Head  string
	Right bool // figures stand right
	Flex  bool // words may break where there is little room
	Main  bool // what the crew works to
	Write bool // empty, to be written in on paper
}

// Table is rows of text in columns. Plain tables have no heads.
type Table struct {
	Columns []Column
	Rows    [][]string
	Planned []int // rows that are not to be dug to
	Plain   bool
}

// Add adds a row of as many cells as there are columns.
func (t *Table) Add(cells ...string) { t.Rows = append(t.Rows, cells) }

// addPlanned adds a row that is not to be dug to.
func (t *Table) addPlanned(cells ...string) {
	t.Planned = append(t.Planned, len(t.Rows))
	t.Add(cells...)
}

// dropEmpty takes a column out if no row says anything there, and tells whether
// it stayed.
func (t *Table) dropEmpty(i int) bool {
	for _, row := range t.Rows {
		if row[i] != "" {
			return true
		}
	}
	t.Columns = slices.Delete(t.Columns, i, i+1)
	for r := range t.Rows {
		t.Rows[r] = slices.Delete(t.Rows[r], i, i+1)
	}
	return false
}

// column is a column with a head from the tables of texts.
func (v View) column(key string) Column { return Column{Head: v.Text(keyOfColumn(key))} }

// figures is a column of figures.
func (v View) figures(key string) Column { return Column{Head: v.Text(keyOfColumn(key)), Right: true} }

// words is a column whose words may break.
func (v View) words(key string) Column { return Column{Head: v.Text(keyOfColumn(key)), Flex: true} }

// spans is a column of figures whose spans may break.
func (v View) spans(key string) Column {
	return Column{Head: v.Text(keyOfColumn(key)), Right: true, Flex: true}
}

// main is a column of figures that the crew works to.
func (v View) main(key string) Column {
	return Column{Head: v.Text(keyOfColumn(key)), Right: true, Main: true}
}
