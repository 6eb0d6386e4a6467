package exchange

import (
	"spadework/engine/geom"
	"spadework/engine/phrase"
)

// Survey is what a file of another program carries of a site: job coordinates
// in metres, x east, y north, z up.
type Survey struct {
	Points   []SurveyPoint
	Lines    []SurveyLine
	Surfaces []SurveySurface
	Pipes    []SurveyPipe
	Counts   SurveyCounts
}

// SurveyCounts tells what reading left out or made straight.
type SurveyCounts struct {
	Hidden  int // faces marked as not part of their surface
	Chords  int // pieces that curves were cut into, each within a millimetre
	Skipped int // things that this program has no use for
}

// SurveyPoint is one point. Known says that it has an elevation.
type SurveyPoint struct {
	ID    string
	At    geom.Point3
	Known bool
	Words string
}

// LineKind is what a line is.
type LineKind string

// The kinds of lines. A DigBottom is closed: its last point joins its first.
const (
	BreakLine LineKind = "breakline"
	Alignment LineKind = "alignment"
	DigBottom LineKind = "dig"
)

// SurveyLine is one line. Of an alignment Profile holds its stations and
// elevations, and the points have none.
type SurveyLine struct {
	ID      string // of a dig and its part "F7/1"
	Kind    LineKind
	Words   string
	Points  []geom.Point3
	Known   bool // the points have elevations
	Profile [][2]float64
	Dig     DigFacts
}

// DigFacts is what a file tells of a dig beyond its bottom.
type DigFacts struct {
	Kind         string   // as a job file has it, "" not told
	Above, Below *float64 // tolerance, metres ≥ 0, nil not told
	Width        *float64 // of a run, metres > 0, nil not told
}

// SurveySurface is triangles over shared points, counter-clockwise in plan.
type SurveySurface struct {
	Name   string
	Points []geom.Point3
	Faces  [][3]int
}

// SurveyPipe is a pipe between two structures.
type SurveyPipe struct {
	ID, From, To     string
	Start, End       geom.Point
	InvertA, InvertB *float64 // at its start and end, nil not told
	Diameter         *float64 // inside, nil not round or not told
}

// Empty says that nothing was found.
func (s Survey) Empty() bool {
	return len(s.Points)+len(s.Lines)+len(s.Surfaces)+len(s.Pipes) == 0
}

// Limits of the files read, against hostile ones.
const (
	maxSurveyFile   = 256 << 20   // bytes
	maxSurveyPoints = 5_000_000   // of a file
	maxCoordinate   = 1e8         // metres
	maxDepth        = 64          // of nesting
	maxFaces        = 2 * 5000000 // a triangulation has under two faces a point
)

// surveyFault is one fault of a file at a place.
func surveyFault(key phrase.Key, at phrase.Place, args ...phrase.Arg) *phrase.Fault {
	return phrase.NewFault(phrase.New(key, args...), phrase.New(key+".remedy", args...)).At(at)
}

// placeAt is line and column of a byte of a text.
func placeAt(data []byte, offset int64) phrase.Place {
	p := phrase.Place{Line: 1, Column: 1}
	for _, c := range data[:min(int64(len(data)), max(0, offset))] {
		switch {
		case c == '\n':
			p.Line, p.Column = p.Line+1, 1
		case c&0xC0 != 0x80:
			p.Column++
		}
	}
	return p
}

// inside says that a coordinate is finite and on this planet.
func inside(v float64) bool { return v >= -maxCoordinate && v <= maxCoordinate }
