package safety

import (
	"spadework/engine/geom"
	"spadework/engine/unit"
)

// Facts is what Findings judges: a plan or a record, as its keeper fills it in.
type Facts struct {
	Today     string  // ISO 8601 date, "" unknown
	Competent string  // the named competent person, "" none
	Entries   []Entry // of competent persons
	Rain      string  // time of the last rainstorm, ISO 8601; "" none told
	Locate    Locate
	Duties    Duties

	Digs      []Dig
	Footings  []Footing
	Services  []Service
	Overheads []Overhead
	Reaches   []Reach
	Heaps     []Heap
	Stands    []Stand
	Crossings []Crossing
	Lasers    []Laser
}

// Locate is the call before digging for the whole site.
type Locate struct {
	Ticket   string
	MarkedOn string // date
	Expires  string // date, the last day it holds
	Private  Answer // somebody looked for private lines
}

// Duties are what holds for the whole site and has no figure.
type Duties struct {
	Encumbrances Answer // at the edges removed or supported
	Vests        Answer // worn where traffic passes
	NobodyUnder  Answer // loads and swinging plant
}

// Dig is one excavation.
type Dig struct {
	ID     string
	Kind   string          // as in the job
	Bottom *unit.Elevation // the lowest
	Depth  *unit.Length    // the deepest
	Least  *unit.Length    // the shallowest
	Width  *unit.Length    // of the bottom, the least
	Length *unit.Length
	Sides  []Side // nil unknown, taken as vertical
	Ground Ground

	People    Answer // go in
	Surcharge Answer // plant, stacks, buildings within a depth of the edge
	OpenHours *float64
	WayOut    *unit.Length // farthest travel to a ladder, stair or ramp
	Support   Support
	Engineer  string // who designed its protection, a registered engineer; "" nobody

	AirHazard  Answer       // a hazardous atmosphere can be expected
	Oxygen     *float64     // per cent, as tested
	Drained    Answer       // water in the hole is kept under control
	LooseRock  Answer       // on its faces
	EdgeMarked Answer       // a barrier or signal at the edge for plant
	Forms      *unit.Length // width that forms leave at the bottom, nil none

	Bears     Answer       // concrete bears on its bottom
	Slope     *unit.Grade  // of the bottom, the steepest
	Frost     *unit.Length // depth of frost here
	Frosty    Answer       // ground freezes here
	OverDug   unit.Length  // 0 none
	LooseFill Answer       // an over-dug bottom was filled with loose soil
}

// Side is one cut side.
type Side struct {
	Batter  float64 // horizontal over vertical, 0 vertical
	Benches []Bench // from the bottom
}

// Bench is a shelf in a side.
type Bench struct{ Height, Width unit.Length } // over the bottom; of the shelf

// SupportKind is how a dig is held.
type SupportKind string

// The kinds. NotTold is taken as Unsupported.
const (
	NotTold     SupportKind = ""
	Unsupported SupportKind = "none"
	Shoring     SupportKind = "shoring"
	Shield      SupportKind = "shield"
)

// Support is how a dig is held.
type Support struct {
	Kind      SupportKind
	Vertical  *unit.Length // height of the vertical part
	Top       *unit.Length // of the system over the vertical part
	Below     *unit.Length // dug below the system's bottom; nil unknown
	FullDepth Answer       // designed for the full depth
	SoilLoss  Answer       // behind or under it
}

// Footing is a footing or wall near a dig.
type Footing struct {
	ID        string
	Dig       string
	Bearing   *unit.Elevation // underside, nil unknown: taken at the ground
	Distance  *unit.Length    // in plan, its outer lower edge to the dig's lower edge
	Drop      *unit.Length    // how far the dig goes below it beside it, nil: by the dig's lowest bottom
	Own       bool            // one of the job's own digs: the ground it will bear on, nothing to hold up yet
	Adjoining bool            // a new footing beside it rather than a trench along it
	Granular  Answer          // soil under it
	Supported Answer          // underpinned or shored
	Engineer  string          // registered engineer who said it is unaffected
}

// Service is a buried line.
type Service struct {
	ID       string
	Kind     string // power, gas, oil, communication, water, reclaimed, sewer, drain, other
	Line     []geom.Point
	Size     *unit.Length // outside width
	Ticket   string       // its own; "" that of the site
	MarkedOn string
	Expires  string
	Private  Answer // it is private and was located by a private locator
	Exposed  *Exposed
	Near     []Approach // digs that come near
}

// Exposed is a service dug free and seen.
type Exposed struct {
	By  string
	Top *unit.Elevation
}

// Approach is how near a dig comes to a service.
type Approach struct {
	Dig      string
	Distance *unit.Length // in plan, the dig's edge to the marks; 0 crosses
	ByHand   Answer       // dug by hand or vacuum inside the zone
}

// What an overhead line hangs on.
const (
	Tower = "tower"
	Pole  = "pole"
)

// Overhead is a power line.
type Overhead struct {
	ID        string
	Line      []geom.Point
	Kilovolts *float64
	Height    *unit.Length // of the lowest wire over the ground
	On        string       // Tower, Pole, "" unknown
}

// Tall things near a line.
const (
	Machine   = "machine"
	LongRod   = "rod"
	Mast      = "mast"
	TruckBody = "truck_body"
)

// Reach is how near something tall comes to an overhead line.
type Reach struct {
	Line     string
	What     string // Machine, LongRod, Mast, TruckBody
	Stand    string // where it stands
	Dig      string
	Distance *unit.Length // in plan, its centre to the line
	Top      *unit.Length // its highest over the ground
	Radius   *unit.Length // its farthest from its centre
}

// Heap is spoil.
type Heap struct {
	ID       string
	Dig      string
	Edge     *unit.Length // from the top edge
	Retained Answer
}

// Stand is a place of plant.
type Stand struct {
	ID       string
	Dig      string
	Edge     *unit.Length // from the top edge
	Retained Answer
}

// Crossing is a walkway or bridge over a dig.
type Crossing struct {
	ID     string
	Dig    string
	Height *unit.Length // over the lower level
	Rails  Answer
}

// Laser is a set-up as people near it meet the beam.
type Laser struct {
	Setup    string
	Walked   Answer       // people walk where the beam runs
	Lowest   *unit.Length // of the beam over that ground
	Highest  *unit.Length
	Signs    Answer
	Attended Answer // or switched off
	Trained  Answer
	Foul     Answer // rain, snow, dust or fog; Unknown before the day
}
