package job

import "spadework/engine/phrase"

// Cell is one value of a table beside the job file, with its place.
type Cell struct {
	Text         string
	Line, Column int // from 1; the column counts characters
}

// Rows is a table beside the job file: a schedule, shots, ground points. The
// reader of the format fills it; this package gives its cells a meaning.
type Rows struct {
	File         string
	Header       []Cell
	Rows         [][]Cell
	DecimalComma bool // 0,41 is a number, as in files parted by semicolons
}

// place is where a cell stands.
func (r *Rows) place(c Cell) phrase.Place {
	return phrase.Place{File: r.File, Line: c.Line, Column: c.Column}
}
