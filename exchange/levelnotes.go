package exchange

import (
	"strconv"
	"strings"

	"spadework/engine/job"
	"spadework/engine/level"
	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// Columns of level notes and of a table of differences.
var (
	noteColumns       = []string{"id", "bs", "is", "fs", "elevation", "z", "bs_distance", "fs_distance", "words"}
	differenceColumns = []string{"from", "to", "rise", "run_length", "weight", "words"}
)

// IsNetwork says that a table holds differences between points, not the lines of
// a level book: its header has a column for the rise.
func IsNetwork(rows *job.Rows) bool {
	c, f := job.FindColumns(rows, differenceColumns, job.Mapping{})
	_, ok := c["rise"]
	return f == nil && ok
}

// ReadLevelRun reads a level book: point, backsight, intermediate, foresight,
// and the known elevation on the first line and, for a run that closes, on the
// last.
func ReadLevelRun(rows *job.Rows, bare unit.Scale) (level.Run, *phrase.Fault) {
	c, f := levelColumns(rows, noteColumns, "id", "bs", "fs")
	if f != nil {
		return level.Run{}, f
	}
	r := noteReader{rows: rows, c: c, units: unit.Reader{Bare: bare, Comma: rows.DecimalComma}}
	var run level.Run
	for i, row := range rows.Rows {
		line := r.line(row)
		run.Lines = append(run.Lines, line)
		z, known := r.elevation(row)
		if known && i == 0 {
			run.Start = level.Mark{Point: line.Point, Elevation: z}
		} else if known && i == len(rows.Rows)-1 {
			run.Close = &level.Mark{Point: line.Point, Elevation: z}
		} else if known || i == 0 {
			r.fail(row[0], "exchange.level_known")
		}
		if r.fault != nil {
			return level.Run{}, r.fault
		}
	}
	return run, nil
}

// levelColumns finds the columns of a table that stands alone: no job maps or
// leaves out a column of it, so the remedy does not speak of that.
func levelColumns(rows *job.Rows, allowed []string, needed ...string) (job.Columns, *phrase.Fault) {
	c, f := job.FindColumns(rows, allowed, job.Mapping{})
	if f == nil {
		f = c.Need(rows, needed...)
	}
	if f != nil {
		f.Remedy = phrase.New("exchange.level_columns", phrase.With("allowed", strings.Join(allowed, ", ")))
	}
	return c, f
}

// noteReader reads rows of level notes; the first fault wins.
type noteReader struct {
	rows  *job.Rows
	c     job.Columns
	units unit.Reader
	fault *phrase.Fault
}

func (r *noteReader) place(c job.Cell) phrase.Place {
	return phrase.Place{File: r.rows.File, Line: c.Line, Column: c.Column}
}

func (r *noteReader) fail(c job.Cell, key phrase.Key) {
	if r.fault == nil {
		r.fault = tableFault(key, r.place(c), phrase.With("value", c.Text))
	}
}

// figure reads a length of a column; ok is false for an empty cell.
func (r *noteReader) figure(row []job.Cell, column string) (v unit.Length, ok bool) {
	cell := r.c.Cell(row, column)
	if cell.Text == "" {
		return 0, false
	}
	v, err := r.units.Length(cell.Text)
	if err != nil && r.fault == nil {
		r.fault = phrase.ParseFault(err).At(r.place(cell))
	}
	return v, true
}

func (r *noteReader) sight(row []job.Cell, column, distance string) level.Sight {
	v, ok := r.figure(row, column)
	d, measured := r.figure(row, distance)
	if !ok {
		if measured {
			r.fail(r.c.Cell(row, distance), "exchange.level_distance")
		}
		return level.Sight{}
	}
	return level.RodAt(unit.Reading(v), d)
}

func (r *noteReader) line(row []job.Cell) level.Line {
	return level.Line{
		Point:        r.c.Cell(row, "id").Text,
		Back:         r.sight(row, "bs", "bs_distance"),
		Intermediate: r.sight(row, "is", ""),
		Fore:         r.sight(row, "fs", "fs_distance"),
		Place:        phrase.Place{File: r.rows.File, Line: row[0].Line},
	}
}

// elevation is the known elevation of a line, in either of two columns.
func (r *noteReader) elevation(row []job.Cell) (unit.Elevation, bool) {
	for _, column := range []string{"elevation", "z"} {
		if v, ok := r.figure(row, column); ok {
			return unit.Elevation(v), true
		}
	}
	return 0, false
}

// ReadDifferences reads the observed rises of a network: from, to, rise, and a
// length or a weight.
func ReadDifferences(rows *job.Rows, bare unit.Scale) ([]level.Difference, *phrase.Fault) {
	c, f := levelColumns(rows, differenceColumns, "from", "to", "rise")
	if f != nil {
		return nil, f
	}
	r := noteReader{rows: rows, c: c, units: unit.Reader{Bare: bare, Comma: rows.DecimalComma}}
	var out []level.Difference
	for _, row := range rows.Rows {
		out = append(out, r.difference(row))
		if r.fault != nil {
			return nil, r.fault
		}
	}
	return out, nil
}

// difference reads one row. A weight goes before a length, whose weight is its
// inverse in kilometres; with neither all weigh alike.
func (r *noteReader) difference(row []job.Cell) level.Difference {
	d := level.Difference{
		From: r.c.Cell(row, "from").Text, To: r.c.Cell(row, "to").Text, Weight: 1,
		Place: phrase.Place{File: r.rows.File, Line: row[0].Line},
	}
	var ok bool
	if d.Rise, ok = r.figure(row, "rise"); !ok {
		r.fail(row[0], "exchange.level_rise")
	}
	if l, ok := r.figure(row, "run_length"); ok {
		d.Length = l
		d.Weight = level.WeightOf(l, 1)
		if l <= 0 {
			r.fail(r.c.Cell(row, "run_length"), "exchange.level_length")
		}
	}
	if cell := r.c.Cell(row, "weight"); cell.Text != "" {
		if d.Weight, ok = weight(cell.Text, r.rows.DecimalComma); !ok {
			r.fail(cell, "exchange.level_weight")
		}
	}
	return d
}

// weight reads digits with at most one decimal mark: no sign, no exponent, no
// infinity, nothing hexadecimal, which strconv alone would take.
func weight(text string, comma bool) (w float64, ok bool) {
	if comma {
		text = strings.Replace(text, ",", ".", 1)
	}
	if len(text) > maxWeightDigits || strings.Trim(text, "0123456789.") != "" {
		return 0, false
	}
	w, err := strconv.ParseFloat(text, 64)
	return w, err == nil
}

// maxWeightDigits is more than a float64 tells apart, and too few to leave it.
const maxWeightDigits = 40
