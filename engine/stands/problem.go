package stands

import (
	"spadework/engine/geom"
	"spadework/engine/machine"
	"spadework/engine/unit"
)

// Problem asks where a machine stands. Nothing in it is changed.
type Problem struct {
	Machine machine.Machine
	// Setback is from the footprint to a daylight outline, SpoilSetback from the
	// toe of a heap; 0 or more.
	Setback, SpoilSetback unit.Length
	// Repose is the slope of a heap, rise over run; not positive is 1 : 1.5, the
	// common practice for loose earth.
	Repose unit.Grade

	Cells []Cell
	Digs  []Dig

	// Ground is what the machine stands on: a cell's depth then counts from there
	// and the slope is held against Machine.Steepest. Nil is level, so that the
	// Depth of a cell counts.
	Ground Ground
	// Tied says that a machine at a place has the beam for a cell; nil: no cell
	// needs one there.
	Tied func(at geom.Point, cell int) bool

	// Allowed is the ground the machine and heaps may take, simple; nil is all.
	Allowed  geom.Ring
	Keepouts []geom.Ring // simple; no footprint, path or heap
	Walls    []geom.Ring // simple; likewise, and no tail swings into them
	Sights   []Sight     // no heap
	Trucks   []geom.Point
	// Entry is where the machine comes in and goes out, at any bearing.
	Entry geom.Point
	// Spacing of the lattice of places; not positive is DefaultSpacing.
	Spacing unit.Length
}

// Ground gives heights; ok is false where none is known, and no machine stands.
type Ground interface {
	Height(at geom.Point) (z float64, ok bool)
}

// DefaultSpacing of the lattice of places.
const DefaultSpacing unit.Length = 1

// Bearings is how many bearings a place is looked at with.
const Bearings = 16

// Cell is a part of a dig that is dug from one stand.
type Cell struct {
	Ring     geom.Ring // of the bottom: convex, counter-clockwise
	Daylight geom.Ring // of the open cell: convex, counter-clockwise; nil is Ring
	Depth    unit.Length
	// Top is its highest ground and Bottom its lowest floor, where the problem has
	// a ground.
	Top, Bottom unit.Elevation
	Spoil       unit.Volume // loose
	Dig         int         // index of its dig
	Crossing    bool        // exposes a crossing or a connection: dug before the rest of its dig
	// Hand is dug by hand: no machine stands for it. It is open from the first
	// stand on that needs it, and its spoil is carted.
	Hand bool
}

// Dig is what the cells of one dig have in common.
type Dig struct {
	// Before lists the digs that come after it whole.
	Before []int
	// InOrder is dug cell by cell in the order of the problem's list, as a
	// gravity pipe is from its low end.
	InOrder bool
}

// Sight is a line from the laser to a place that has to receive it.
type Sight struct {
	From, To geom.Point
	// Low is what a heap has to stay under at From and at To, where the problem has
	// a ground; without one, or with Low nil, no heap may lie in the line.
	Low *[2]unit.Elevation
}

// open is the daylight outline.
func (c Cell) open() geom.Ring {
	if len(c.Daylight) > 0 {
		return c.Daylight
	}
	return c.Ring
}

// Plan is a sequence of visits.
type Plan struct {
	Visits []Visit
	Out    Path // from the last stand to the entry; none without visits
	// Leave is, by truck place, the way of a truck to the entry once all is open;
	// none where there is no such way, and such a place is not loaded at.
	Leave []Path
	Hand  []int
	// Unserved are the cells that no visit digs, with the reason, by rising cell.
	Unserved []Unserved
	Travel   unit.Length // of all paths
}

// Visit is what is done from one stand.
type Visit struct {
	Stand machine.Place
	Path  Path // from the stand before, or the entry, to the stand
	// Opened are the cells dug by hand before the machine moves here.
	Opened []int
	Cells  []int // in the order of digging
	Heaps  []Heap
	Truck  int         // index of the truck place loaded, −1 none
	Loaded unit.Volume // on the truck
	Carted unit.Volume // with no place within reach: it has to be carried off
}

// Heap is a cone of spoil.
type Heap struct {
	At     geom.Point
	Radius unit.Length
	Height unit.Length
	Volume unit.Volume
}

// Path is the places of the swing centre, the first and the last included: of
// its legs the first is along the bearing of the stand it leaves and the last
// along the one of the stand it comes to; either may have no length.
type Path []geom.Point

// Length is the sum of the legs.
func (p Path) Length() unit.Length {
	sum := 0.0
	for i := 1; i < len(p); i++ {
		sum += p[i-1].Distance(p[i])
	}
	return unit.Length(sum)
}

// Why sorts why a cell is not served.
type Why uint8

// The reasons.
const (
	NoReach   Why = iota // no place reaches it whole at its depth
	NoGround             // places that reach it are not allowed or too near its edge
	NoWay                // a stand would do, but no way there is left
	Waits                // it waits for a cell that is not served
	Ambiguous            // the order asked for goes in a circle
	NotConvex            // its ring is not convex and counter-clockwise, or its depth no number
	NoBeam               // places that reach it on firm ground do not have the beam
)

// Unserved is a cell that no visit digs.
type Unserved struct {
	Cell int
	Why  Why
}
