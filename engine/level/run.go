package level

import "spadework/engine/unit"

// Mark is a point of known elevation.
type Mark struct {
	Point     string
	Elevation unit.Elevation
}

// Line is a line of the level book: a backsight opens a set-up, a foresight
// closes it; a turning point has both, the foresight from the old set-up. An
// intermediate sight stands alone on its line.
type Line struct {
	Point                    string
	Back, Intermediate, Fore Sight
}

// Run is a level book from a known point. Close is the known point it ends on
// (the start again for a loop), nil for an open run.
type Run struct {
	Start Mark
	Close *Mark
	Lines []Line
}

// Row is a reduced line of the book.
type Row struct {
	Point      string
	Setup      int            // number from 1 of the set-up whose sight gave the elevation; 0 for the start
	Elevation  unit.Elevation // as observed
	HI         unit.Elevation // of the set-up that this line's backsight opens
	Opens      bool           // this line has a backsight
	Along      unit.Length    // sight lengths from the start up to here
	Correction unit.Length    // 0 until adjusted
	Adjusted   unit.Elevation // Elevation + Correction
}

// Reduction is a reduced run.
type Reduction struct {
	Rows             []Row
	SumBack, SumFore unit.Length
	First, Last      unit.Elevation
	Setups           int
	Length           unit.Length // sum of the sight lengths, 0 unless all are noted
	Closes           bool        // the run ends on a known point
	Misclosure       unit.Length // Last − known; 0 for an open run
}

// Reduce turns a level book into elevations. A *phrase.Fault tells of a foresight
// without a backsight, a set-up without a foresight, a reading that is not a
// number, or an end that is not the known point.
func Reduce(run Run) (*Reduction, error) { panic("not yet") }

// PageCheck is ΣBS − ΣFS − (last − first), which is 0 but for rounding if the
// arithmetic is right. It says nothing about the field work.
func (r *Reduction) PageCheck() unit.Length { panic("not yet") }
