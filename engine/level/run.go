package level

import (
	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// Mark is a point of known elevation.
type Mark struct {
	Point     string
	Elevation unit.Elevation
}

// Line is a line of the level book: a backsight opens a set-up, a foresight
// closes it; a turning point has both, the foresight from the old set-up, or two
// lines. An intermediate sight stands alone on its line.
type Line struct {
	Point                    string
	Back, Intermediate, Fore Sight
	Place                    phrase.Place // where it was read, for faults; may be zero
}

// Run is a level book from a known point. Close is the known point it ends on
// (the start again for a loop), nil for an open run. A last set-up without a
// foresight gives its intermediate sights elevations and takes no part in sums,
// counts and misclosure.
type Run struct {
	Start     Mark
	Close     *Mark
	Lines     []Line
	Curvature bool // take curvature and refraction off every reading that has a distance
}

// Row is a reduced line of the book.
type Row struct {
	Point      string
	Setup      int            // number from 1 of the set-up whose sight gave the elevation; 0 for the start
	Elevation  unit.Elevation // as observed
	Opens      bool           // this line has a backsight
	HI         unit.Elevation // of the set-up that the backsight opens; 0 if none
	Along      unit.Length    // sight lengths from the start up to here
	Correction unit.Length    // 0 until adjusted
	Adjusted   unit.Elevation // Elevation + Correction
}

// Reduction is a reduced run.
type Reduction struct {
	Rows             []Row // one a line
	SumBack, SumFore unit.Length
	First, Last      unit.Elevation
	Setups           int         // closed by a foresight
	Length           unit.Length // sum of the sight lengths, 0 unless all are noted
	Closes           bool        // the run ends on a known point
	Misclosure       unit.Length // Last − known; 0 for an open run
}

// PageCheck is ΣBS − ΣFS − (last − first), which is 0 but for rounding if the
// arithmetic is right. It says nothing about the field work.
func (r *Reduction) PageCheck() unit.Length {
	return r.SumBack - r.SumFore - r.Last.Above(r.First)
}

// Row is the last row of a point; ok is false if the run does not have it.
func (r *Reduction) Row(point string) (row Row, ok bool) {
	for i := len(r.Rows) - 1; i >= 0; i-- {
		if r.Rows[i].Point == point {
			return r.Rows[i], true
		}
	}
	return Row{}, false
}

// Reduce turns a level book into elevations. A *phrase.Fault tells of a foresight
// without a backsight, a set-up without a foresight, a reading that is not a
// number, or a start or end that is not the known point.
func Reduce(run Run) (*Reduction, error) {
	if err := run.check(); err != nil {
		return nil, err
	}
	b := book{run: run, out: &Reduction{First: run.Start.Elevation, Last: run.Start.Elevation}, noted: true}
	for i, line := range run.Lines {
		if err := b.take(line); err != nil {
			return nil, err.At(run.place(i))
		}
	}
	return b.finish()
}

// book is a run being reduced.
type book struct {
	run    Run
	out    *Reduction
	open   *Row        // opened the set-up in use, nil before the first
	back   Sight       // its backsight
	along  unit.Length // sight lengths of the set-ups closed
	noted  bool        // all sight lengths so far are noted
	closed string      // point of the last foresight
}

// take reduces one line: the sight that gives its elevation, then the backsight
// that it opens a set-up with.
func (b *book) take(line Line) *phrase.Fault {
	row := Row{Point: line.Point}
	switch {
	case line.Fore.Taken:
		if b.open == nil {
			return missingBacksight("level.foresight_without_backsight", line)
		}
		b.foresight(&row, line.Fore)
	case line.Intermediate.Taken:
		if b.open == nil {
			return missingBacksight("level.intermediate_without_backsight", line)
		}
		b.sight(&row, line.Intermediate)
	case b.open != nil:
		return phrase.NewFault(
			phrase.New("level.setup_without_foresight", phrase.With("point", b.open.Point), phrase.With("next", line.Point)),
			phrase.New("level.setup_without_foresight.remedy"))
	case line.Point != b.standing():
		return b.stray(line)
	default:
		row.Elevation, row.Setup, row.Along = b.out.Last, b.out.Setups, b.along
	}
	row.Adjusted = row.Elevation
	if line.Back.Taken {
		b.backsight(&row, line.Back)
	}
	b.out.Rows = append(b.out.Rows, row)
	return nil
}

// standing is the point that the next backsight must be on: the last foresight's,
// or the start.
func (b *book) standing() string {
	if b.out.Setups == 0 {
		return b.run.Start.Point
	}
	return b.closed
}

// stray is the fault of a backsight on a point whose elevation is not known yet.
func (b *book) stray(line Line) *phrase.Fault {
	key := phrase.Key("level.backsight_elsewhere")
	if b.out.Setups == 0 {
		key = "level.start_elsewhere"
	}
	return phrase.NewFault(
		phrase.New(key, phrase.With("point", line.Point), phrase.With("known", b.standing())),
		phrase.New(key+".remedy"))
}

func missingBacksight(key phrase.Key, line Line) *phrase.Fault {
	return phrase.NewFault(phrase.New(key, phrase.With("point", line.Point)), phrase.New("level.without_backsight.remedy"))
}

// backsight opens a set-up over the point of a row.
func (b *book) backsight(row *Row, s Sight) {
	row.Opens = true
	row.HI = HeightOfInstrument(row.Elevation, b.reading(s))
	opened := *row
	b.open, b.back = &opened, s
}

// sight gives a row its elevation from the set-up in use.
func (b *book) sight(row *Row, s Sight) {
	row.Setup = b.out.Setups + 1
	row.Elevation = Foot(b.open.HI, b.reading(s))
	row.Along = b.along + b.back.Distance + s.Distance
}

// foresight gives a row its elevation and closes the set-up in use.
func (b *book) foresight(row *Row, s Sight) {
	b.sight(row, s)
	b.noted = b.noted && b.back.Distance > 0 && s.Distance > 0
	b.along = row.Along
	b.out.SumBack += unit.Length(b.reading(b.back))
	b.out.SumFore += unit.Length(b.reading(s))
	b.out.Last = row.Elevation
	b.out.Setups++
	b.closed, b.open = row.Point, nil
}

// reading is a reading, curvature taken off where the run wants it.
func (b *book) reading(s Sight) unit.Reading {
	if b.run.Curvature {
		return s.Reading - unit.Reading(Curvature(s.Distance))
	}
	return s.Reading
}

// finish adds what the whole run shows.
func (b *book) finish() (*Reduction, error) {
	if b.noted {
		b.out.Length = b.along
	}
	known := b.run.Close
	if known == nil {
		return b.out, nil
	}
	if b.out.Setups == 0 {
		return nil, phrase.NewFault(phrase.New("level.no_foresight"), phrase.New("level.no_foresight.remedy"))
	}
	if b.closed != known.Point {
		return nil, phrase.NewFault(
			phrase.New("level.ends_elsewhere", phrase.With("point", b.closed), phrase.With("known", known.Point)),
			phrase.New("level.ends_elsewhere.remedy"))
	}
	b.out.Closes = true
	b.out.Misclosure = b.out.Last.Above(known.Elevation)
	return b.out, nil
}
