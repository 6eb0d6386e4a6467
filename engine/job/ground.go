package job

import (
	"errors"

	"spadework/engine/ground"
	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// The columns that tables of the ground may have.
var (
	shotColumns = []string{"id", "x", "y", "z", "words"}
	lineColumns = []string{"line", "id", "x", "y", "z", "words"}
)

// ground reads [ground] or [finished]: a level, shots with breaklines, or a
// grid.
func (d *decoder) ground(t *table, key string) *Ground {
	g, given := t.inner(key)
	if !given {
		return nil
	}
	columns := d.mapping(g, lineColumns)
	var out *Ground
	switch {
	case g.has("level"):
		out = &Ground{Surface: ground.Level(float64(g.elevation("level")))}
	case g.has("points"):
		out = d.triangulated(g, columns)
	case g.has("surface"):
		out = d.surface(g)
	default:
		g.missing("level", phrase.New("job.missing_ground.remedy"))
	}
	g.take("breaklines")
	g.done()
	return out
}

// mapping reads columns = { name = "Header" } and ignore = ["Header"].
func (d *decoder) mapping(t *table, allowed []string) Mapping {
	out := Mapping{Names: map[string]string{}, Ignore: t.names("ignore")}
	c, given := t.inner("columns")
	if !given {
		return out
	}
	for _, name := range allowed {
		if header := c.text(name); header != "" {
			out.Names[name] = header
		}
	}
	c.done()
	return out
}

// triangulated builds the surface of a table of shots.
func (d *decoder) triangulated(g *table, columns Mapping) *Ground {
	name := g.text("points")
	rows := d.rows(g, "points", name)
	if rows == nil {
		return nil
	}
	shots := d.shots(rows, columns)
	var lines []ground.Breakline
	if g.has("breaklines") {
		if rows := d.rows(g, "breaklines", g.text("breaklines")); rows != nil {
			lines = d.breaklines(rows, columns)
		}
	}
	if d.fault != nil {
		return nil
	}
	tin, report, err := ground.Build(shots, lines, ground.Options{
		Boundary: g.corners("boundary", 3), LongestEdge: float64(g.positive("longest_edge")),
	})
	if err != nil {
		d.groundFault(g, err)
		return nil
	}
	d.job.Counts.Merged += report.Merged
	d.job.Counts.Dropped += report.Dropped
	return &Ground{Surface: tin, Report: report}
}

func (d *decoder) groundFault(g *table, err error) {
	var f *phrase.Fault
	if !errors.As(err, &f) {
		f = phrase.NewFault(phrase.New("job.unreadable", phrase.With("detail", err.Error())), phrase.Message{})
	}
	g.failFault("points", f)
}

// rows is a table beside the job file.
func (d *decoder) rows(t *table, key, name string) *Rows {
	if rows := d.files.Tables[name]; rows != nil {
		return rows
	}
	f := phrase.NewFault(phrase.New("job.file_missing", phrase.With("file", name)), phrase.New("job.file_missing.remedy"))
	f.Code = phrase.NotFound
	t.failFault(key, f)
	return nil
}

// shots reads the points of a survey.
func (d *decoder) shots(rows *Rows, mapping Mapping) []ground.Shot {
	c, fault := FindColumns(rows, shotColumns, mapping)
	if fault == nil {
		fault = c.Need(rows, "x", "y", "z")
	}
	if fault != nil {
		d.keep(fault)
		return nil
	}
	out := make([]ground.Shot, 0, len(rows.Rows))
	for _, row := range rows.Rows {
		out = append(out, d.shot(rows, c, row))
		if d.fault != nil {
			return nil
		}
	}
	return out
}

func (d *decoder) keep(f *phrase.Fault) {
	if d.fault == nil {
		d.fault = f
	}
}

// shot reads one row of a survey.
func (d *decoder) shot(rows *Rows, c Columns, row []Cell) ground.Shot {
	x := d.figure(rows, c.Cell(row, "x"), row, d.plan)
	y := d.figure(rows, c.Cell(row, "y"), row, d.plan)
	z := d.figure(rows, c.Cell(row, "z"), row, d.scale)
	return ground.Shot{At: d.origin.local(x, y), Z: float64(unit.FromMicrometres(z))}
}

// figure reads a coordinate or elevation of a table in micrometres.
func (d *decoder) figure(rows *Rows, cell Cell, row []Cell, bare unit.Scale) int64 {
	if cell.Text == "" {
		d.keep(phrase.NewFault(phrase.New("job.empty_cell"), phrase.New("job.empty_cell.remedy")).
			At(phrase.Place{File: rows.File, Line: row[0].Line}))
		return 0
	}
	v, err := unit.Reader{Bare: bare, Comma: rows.DecimalComma}.Coordinate(cell.Text)
	if err != nil {
		d.parseFault(rows.place(cell), "", err)
	}
	return v
}

// breaklines reads lines of shots; rows of one line follow each other.
func (d *decoder) breaklines(rows *Rows, mapping Mapping) []ground.Breakline {
	c, fault := FindColumns(rows, lineColumns, mapping)
	if fault == nil {
		fault = c.Need(rows, "line", "x", "y", "z")
	}
	if fault != nil {
		d.keep(fault)
		return nil
	}
	var out []ground.Breakline
	last := ""
	for i, row := range rows.Rows {
		line := c.Cell(row, "line").Text
		if i == 0 || line != last {
			out = append(out, nil)
			last = line
		}
		out[len(out)-1] = append(out[len(out)-1], d.shot(rows, c, row))
		if d.fault != nil {
			return nil
		}
	}
	return out
}
