package record

import (
	"spadework/engine/phrase"
	"spadework/engine/safety"
	"spadework/engine/unit"
)

// State is what the log comes to.
type State struct {
	Count    int // records applied
	Doubled  int // records that came more than once
	Aside    []Aside
	Tags     []Tag
	Ties     []TieState
	Digs     []DigState
	Holds    []HoldState
	Entries  []EntryState
	Due      []Due
	Findings []phrase.Finding
	Log      []Line
	Left     *Left // the last handing over, nil none
}

// TagState is whether a tag has numbers.
type TagState string

// The states of a tag.
const (
	TagLive      TagState = "live"
	TagSuspended TagState = "suspended" // no number before a close
	TagEnded     TagState = "ended"
)

// Tag is a set-up and what became of it.
type Tag struct {
	Setup   ID
	Tag     string
	Laser   string
	State   TagState
	Why     phrase.Message // zero where live
	Shots   int            // that rest on it and count
	Open    int            // of these, not closed since
	Closes  int            // good ones
	Bad     int            // bad ones
	LastBad *phrase.Message
}

// TieState is a machine's tie and whether its depth still means something.
type TieState struct {
	Tie     ID
	Machine string
	Setup   ID // zero where a point was touched
	Live    bool
	Why     phrase.Message
}

// Verdict is what the log says of a shot or a dig, from the best to the worst.
type Verdict string

// The verdicts. Only Good is good.
const (
	Good        Verdict = "good"         // in tolerance, closed since, nothing in between
	NotClosed   Verdict = "not_closed"   // in tolerance, no close since
	NoTolerance Verdict = "no_tolerance" // nothing to judge by
	OldBottom   Verdict = "old_bottom"   // judged by a bottom that was changed since
	AtRisk      Verdict = "at_risk"      // the beam may have moved
	Withdrawn   Verdict = "withdrawn"    // the shot was corrected away
	ToDig       Verdict = "to_dig"       // too high
	OverDug     Verdict = "over_dug"     // too low
)

// rank orders verdicts; the worst shot of a dig is its own.
var rank = map[Verdict]int{Good: 0, NotClosed: 1, NoTolerance: 2, OldBottom: 3, AtRisk: 4, Withdrawn: 5, ToDig: 6, OverDug: 7}

// DigState is one dig.
type DigState struct {
	Excavation string
	Verdict    Verdict // of its worst point
	Points     []PointState
	Bottom     *unit.Elevation // directed since the drawing, nil the drawing's
	Direction  ID              // that directed it
	OpenBottom bool            // directions that do not know of each other, or one withdrawn
	OverDigs   int             // without their remedy in
}

// PointState is the newest shot at a point of a dig; where nobody knows which
// is newest, the worst of them.
type PointState struct {
	Part, Point string
	Station     *unit.Station
	Shot        ID
	Setup       ID // the beam it rests on, zero a touched point
	Tag         string
	Person      string
	Time        Stamp
	Height      unit.Elevation
	Deviation   unit.Length
	Verdict     Verdict
	Why         phrase.Message // of AtRisk, zero else
	Corrected   bool
	Several     bool // shots of which nobody knows which is newest
}

// HoldState is a hold point that was looked at.
type HoldState struct {
	Excavation, Hold string
	Passed           bool
	By, Agency       string
	Record           ID
}

// EntryState is an entry of the competent person and whether the log leaves it
// standing.
type EntryState struct {
	safety.Entry
	Record   ID
	Standing bool
	Why      phrase.Message
}

// Due is something to do.
type Due struct {
	Where phrase.Where
	What  phrase.Message
}

// Left is how the work was handed over.
type Left struct {
	Handover
	Record ID
	Person string
	Time   Stamp
}

// Line is a record of the log in its order.
type Line struct {
	Record
	Corrected bool
	Accepted  bool // let in by a foreman
}
