package cli

import (
	"bytes"
	"math"
	"strings"

	"github.com/xuri/excelize/v2"

	"spadework/engine/guard"
	"spadework/engine/phrase"
	"spadework/engine/plan"
	"spadework/engine/record"
	"spadework/engine/unit"
	"spadework/sheet"
)

// workbook is the tables of a job as a spreadsheet (ISO/IEC 29500): digs, numbers
// and shots, lengths as figures in the job's unit, which each head names. It is
// written by the command line alone: the phone never carries it.
func workbook(p *plan.Plan, v sheet.View, st *record.State) ([]byte, error) {
	b := &book{file: excelize.NewFile(), view: v, units: p.Job.Units, places: p.Job.Coordinates}
	b.digs(p)
	b.numbers(p)
	b.shots(p, st)
	if b.err == nil {
		b.err = b.file.DeleteSheet("Sheet1")
	}
	// One day for every file, so that the same job gives the same bytes.
	if b.err == nil {
		b.err = b.file.SetDocProps(&excelize.DocProperties{Creator: "Spadework", Title: p.Job.Name, Created: bookDay, Modified: bookDay})
	}
	var out bytes.Buffer
	if b.err == nil {
		b.err = b.file.Write(&out)
	}
	return out.Bytes(), b.err
}

// bookDay stands in every workbook.
const bookDay = "2000-01-01T00:00:00Z"

// book fills sheets; the first error wins.
type book struct {
	file   *excelize.File
	view   sheet.View
	units  unit.Scale // of heights and tolerances
	places unit.Scale // of plan coordinates
	err    error
}

// metresOf are the scales in metres.
var metresOf = map[unit.Scale]float64{unit.Metres: 1, unit.Feet: float64(unit.Foot), unit.SurveyFeet: 1200.0 / 3937.0}

// figure is a length to a millionth of a unit, nil where it is not known.
func figure(v float64, in unit.Scale) any {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return nil
	}
	return math.Round(v/metresOf[in]*1e6) / 1e6
}

func (b *book) length(v float64) any { return figure(v, b.units) }

// sheet adds a sheet. A head that ends in * is of figures in the job's unit, in ^
// of plan coordinates. Words stay words: a cell written as a string is no formula,
// whatever it begins with.
func (b *book) sheet(name phrase.Key, heads []string, rows [][]any) {
	if b.err != nil {
		return
	}
	title := strings.TrimSpace(b.view.Text(name))
	if _, b.err = b.file.NewSheet(title); b.err != nil {
		return
	}
	line := make([]any, len(heads))
	for i, h := range heads {
		text := b.view.Text(phrase.Key("sheet.col_" + strings.TrimRight(h, "*^")))
		if strings.HasSuffix(h, "*") {
			text += " (" + b.units.String() + ")"
		} else if strings.HasSuffix(h, "^") {
			text += " (" + b.places.String() + ")"
		}
		line[i] = text
	}
	for i, cells := range append([][]any{line}, rows...) {
		cell, err := excelize.CoordinatesToCellName(1, i+1)
		if err == nil {
			err = b.file.SetSheetRow(title, cell, &cells)
		}
		if err != nil {
			b.err = err
			return
		}
	}
	b.err = b.file.SetPanes(title, &excelize.Panes{Freeze: true, YSplit: 1, TopLeftCell: "A2", ActivePane: "bottomLeft"})
}

func (b *book) digs(p *plan.Plan) {
	var rows [][]any
	for _, d := range p.Digs {
		low, high := math.Inf(1), math.Inf(-1)
		for _, part := range d.Parts {
			for _, at := range part.Outline {
				z := float64(part.BottomAt(at))
				low, high = min(low, z), max(high, z)
			}
		}
		row := []any{d.Excavation.ID, d.Excavation.Words, b.length(low), b.length(high), nil, nil}
		if t := d.Excavation.Tolerance; t != nil {
			row[4], row[5] = b.length(float64(t.Above)), b.length(float64(t.Below))
		}
		rows = append(rows, row)
	}
	b.sheet("cli.book_digs", []string{"dig", "drawn", "lowest*", "highest*", "above*", "below*"}, rows)
}

func (b *book) numbers(p *plan.Plan) {
	var rows [][]any
	for _, n := range p.Numbers {
		at := p.Job.Origin.Job(n.At)
		rows = append(rows, []any{n.Excavation, n.Part, n.Name, n.Setup, string(n.From), figure(at.X, b.places), figure(at.Y, b.places), b.length(float64(n.Bottom))})
	}
	b.sheet("cli.book_numbers", []string{"dig", "part", "point", "tag", "from", "east^", "north^", "bottom*"}, rows)
}

func (b *book) shots(p *plan.Plan, st *record.State) {
	var rows [][]any
	digs, _ := guard.Prove(p, st) // as the log stands where the beams cannot be watched
	for _, d := range digs {
		for _, pt := range d.Proofs {
			rows = append(rows, []any{d.Excavation, pt.Part, pt.Point, pt.Tag, pt.Time.String(), pt.Person, b.length(float64(pt.Wanted)), b.length(float64(pt.Height)),
				b.length(float64(pt.Deviation)), b.length(float64(pt.Expanded())), b.view.Text(phrase.Key("sheet.log_" + string(pt.Verdict)))})
		}
	}
	b.sheet("cli.book_shots", []string{"dig", "part", "point", "tag", "time", "person", "wanted*", "height*", "deviation*", "expanded*", "verdict"}, rows)
}
