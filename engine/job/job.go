package job

import (
	"strings"

	"spadework/engine/beam"
	"spadework/engine/dig"
	"spadework/engine/geom"
	"spadework/engine/ground"
	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// Job is the document read: SI, places in the local frame of Origin.
type Job struct {
	Head
	Origin Origin

	Datums     []dig.Datum
	Benchmarks []Benchmark
	Controls   []Control
	Hubs       []Hub

	Existing, Finished *Ground // nil: not given

	Conditions  Conditions // of digs that do not tell their own
	Excavations []Excavation

	Lasers    []beam.Laser
	Receivers []beam.Receiver
	Rods      []beam.Rod
	Machines  []Machine
	Setups    []Setup

	Utilities  []Utility
	Structures []Structure
	Obstacles  []Obstacle
	Keepouts   []Keepout
	Overheads  []Overhead

	Rules    Rules
	Risk     Risk
	Practice Practice
	Closes   Closes
	Allowed  Allowed
	Trucks   Trucks

	Site      SiteFacts
	Entries   []Entry
	Heaps     []Heap
	Stands    []Stand
	Crossings []Crossing
	Underlays []Underlay

	Materials []dig.Material // the published list and those of the job
	Spoil     Spoil

	Counts Counts

	// Today is the date that tickets and entries are judged by, ISO 8601; the
	// caller fills it in. "" is not known, which is a finding.
	Today string
}

// Counts tells what reading merged or left out.
type Counts struct {
	Merged       int // points at the place and height of an earlier one
	Dropped      int // breakline legs of no length
	Extrapolated int // always 0 here: outside the survey there is no height
}

// WorkTo is the height the crew works to.
type WorkTo string

// The heights.
const (
	Grade WorkTo = "grade" // the bottom itself
	Aim   WorkTo = "aim"   // the bottom and the aim on it
)

// Head is the table [job].
type Head struct {
	Name, Drawing, Revision string
	Permit                  string     // that the inspector goes by, "" not told
	Units                   unit.Scale // of bare lengths
	Coordinates             unit.Scale // of bare plan coordinates
	Style                   unit.Style // how the crew's figures print
	Language                phrase.Language
	TimeZone                string
	Curvature               beam.Curvature
	Interval                unit.Length // between the numbers along a run
	WorkTo                  WorkTo
}

// Benchmark is a point of known height.
type Benchmark struct {
	ID        string
	At        geom.Point
	Placed    bool // At is given
	Elevation unit.Elevation
	Sigma     unit.Length // standard error, ≥ 0
	Hard      bool        // it can be closed on
	GivenBy   string      // who gave its elevation, "" not told
	CheckedBy string      // how it was checked a second time, "" not told
	table     *table
}

// Control is a point of known place, to aim at and to tape from.
type Control struct {
	ID        string
	At        geom.Point
	Elevation *unit.Elevation // nil unknown
}

// Hub is a stake of known height beside a dig, from which crews without a beam
// measure down.
type Hub struct {
	ID         string
	Excavation string
	Station    unit.Station // of a run
	Offset     unit.Length  // from the dig's line or centre, ≥ 0
	Elevation  unit.Elevation
	String     unit.Length // a string is stretched this high over the bottom; 0 none
	table      *table
}

// Ground is a survey surface and how it came to be.
type Ground struct {
	ground.Surface
	Report ground.Report
}

// Setup is a set-up as written: live if it has a backsight or a height, else
// planned.
type Setup struct {
	ID       string
	At       geom.Point
	Placed   bool
	Laser    string
	Rod      string
	Receiver string
	Machine  string
	Sights   []beam.Backsight
	Turns    []Foresight
	HI       *unit.Elevation

	HeightSigma *unit.Length // standard error of HI, nil not told

	Over      *Measured
	Dial      *Dial
	Serves    []string // digs it is meant for; empty: all it can
	BeamMarks []string
	table     *table
}

// Foresight is a rod read on a turning point, from which a later set-up goes on.
type Foresight struct {
	Point string
	At    geom.Point
	Rod   unit.Reading
	Sigma unit.Length // standard error of the reading; 0 takes the usual one
}

// Live says that the beam's height is known.
func (s Setup) Live() bool { return len(s.Sights) > 0 || s.HI != nil || s.Over != nil }

// Measured is a beam taped to stand Height over a known level.
type Measured struct {
	Label     string
	Elevation unit.Elevation
	Height    unit.Length
	Sigma     *unit.Length // standard error of the beam's height, nil not told
}

// Dial is what the document says of a sloped beam: figures, or the runs For
// which the program is to work them out.
type Dial struct {
	For     []string
	Towards string
	Aim     geom.Point // of Towards
	Bearing unit.Angle
	Given   bool // Towards or Bearing
	Grade   unit.Grade
	Cross   unit.Grade
}

// Fault places a fault of this set-up in the document.
func (s Setup) Fault(f *phrase.Fault) *phrase.Fault { return placed(s.table, f) }

// Fault places a fault of this hub in the document.
func (h Hub) Fault(f *phrase.Fault) *phrase.Fault { return placed(h.table, f) }

// placed looks the path of a fault up in a table.
func placed(t *table, f *phrase.Fault) *phrase.Fault {
	if t == nil { // no part of the document: a set-up made on site
		return f
	}
	at := t.place(strings.NewReplacer("[", ".", "]", "").Replace(f.Place.Path))
	at.Path = t.path
	if f.Place.Path != "" {
		at.Path = t.sub(f.Place.Path)
	}
	out := *f
	out.Place = at
	return &out
}
