package record

import (
	"strings"

	"spadework/engine/job"
	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// Call is what a receiver said at a shot.
type Call string

// The calls. High and Low tell where the bottom lies: high is still to dig.
const (
	On   Call = "on"
	High Call = "high"
	Low  Call = "low"
)

// Shot is one check of a bottom.
type Shot struct {
	Excavation string
	Part       string
	Setup      string
	Point      string // name of a point of the dig, "" for its centre
	Station    *unit.Station
	Reading    *unit.Reading // of the rod on the bottom, or Call
	Call       Call
	Amount     unit.Length // of High or Low, ≥ 0
	Place      phrase.Place
}

// shotColumns are the columns a table of shots may have.
var shotColumns = []string{"id", "station", "setup", "reading", "call", "amount", "at", "words"}

// ReadShots reads a table of shots: dig, set-up, and a reading, or On, High or
// Low with an amount; a station on runs.
func ReadShots(rows *job.Rows, bare unit.Scale) ([]Shot, *phrase.Fault) {
	c, f := job.FindColumns(rows, shotColumns, job.Mapping{})
	if f == nil {
		f = c.Need(rows, "id", "setup")
	}
	if f != nil {
		return nil, f
	}
	r := shotReader{rows: rows, c: c, units: unit.Reader{Bare: bare, Comma: rows.DecimalComma}}
	var out []Shot
	for _, row := range rows.Rows {
		out = append(out, r.shot(row))
		if r.fault != nil {
			return nil, r.fault
		}
	}
	return out, nil
}

// shotReader reads rows; the first fault wins.
type shotReader struct {
	rows  *job.Rows
	c     job.Columns
	units unit.Reader
	fault *phrase.Fault
}

func (r *shotReader) fail(cell job.Cell, f *phrase.Fault) {
	if r.fault == nil {
		r.fault = f.At(phrase.Place{File: r.rows.File, Line: cell.Line, Column: cell.Column})
	}
}

func (r *shotReader) shot(row []job.Cell) Shot {
	s := Shot{
		Excavation: r.c.Cell(row, "id").Text, Setup: r.c.Cell(row, "setup").Text, Point: r.c.Cell(row, "at").Text,
		Place: phrase.Place{File: r.rows.File, Line: row[0].Line},
	}
	for _, name := range []string{"id", "setup"} {
		if r.c.Cell(row, name).Text == "" {
			r.fail(row[0], phrase.NewFault(phrase.New("record.empty", phrase.With("column", name)), phrase.New("record.empty.remedy")))
		}
	}
	if cell := r.c.Cell(row, "station"); cell.Text != "" {
		v, err := r.units.Station(cell.Text)
		r.parse(cell, err)
		s.Station = &v
	}
	r.result(row, &s)
	return s
}

func (r *shotReader) parse(cell job.Cell, err error) {
	if err != nil {
		r.fail(cell, phrase.ParseFault(err))
	}
}

// result reads the reading or the call.
func (r *shotReader) result(row []job.Cell, s *Shot) {
	reading, call := r.c.Cell(row, "reading"), r.c.Cell(row, "call")
	switch {
	case reading.Text != "" && call.Text != "":
		r.fail(call, phrase.NewFault(phrase.New("record.two_results"), phrase.New("record.two_results.remedy")))
	case reading.Text != "":
		v, err := r.units.Length(reading.Text)
		r.parse(reading, err)
		rod := unit.Reading(v)
		s.Reading = &rod
	case call.Text != "":
		r.call(row, call, s)
	default:
		r.fail(row[0], phrase.NewFault(phrase.New("record.no_result"), phrase.New("record.no_result.remedy")))
	}
}

// callWords are the calls in English and Spanish.
var callWords = map[string]Call{
	"on": On, "high": High, "low": Low,
	"a nivel": On, "alto": High, "bajo": Low,
}

// call reads On, High or Low with its amount.
func (r *shotReader) call(row []job.Cell, cell job.Cell, s *Shot) {
	c, ok := callWords[strings.ToLower(cell.Text)]
	if !ok {
		r.fail(cell, phrase.NewFault(phrase.New("record.call", phrase.With("value", cell.Text)), phrase.New("record.call.remedy")))
		return
	}
	s.Call = c
	amount := r.c.Cell(row, "amount")
	if amount.Text == "" {
		if c != On {
			r.fail(cell, phrase.NewFault(phrase.New("record.no_amount", phrase.With("value", cell.Text)), phrase.New("record.no_amount.remedy")))
		}
		return
	}
	v, err := r.units.Length(amount.Text)
	r.parse(amount, err)
	s.Amount = v
	if v < 0 || c == On && v != 0 {
		r.fail(amount, phrase.NewFault(phrase.New("record.amount", phrase.With("value", amount.Text)), phrase.New("record.amount.remedy")))
	}
}
