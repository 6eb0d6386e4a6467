package record

import (
	"spadework/engine/phrase"
	"spadework/engine/safety"
	"spadework/engine/unit"
)

// State is what the log comes to.
type State struct {
	Count    int              `json:"count"`   // records applied
	Doubled  int              `json:"doubled"` // records that came more than once
	Aside    []Aside          `json:"aside"`
	Tags     []Tag            `json:"tags"`
	Ties     []TieState       `json:"ties"`
	Digs     []DigState       `json:"digs"`
	Holds    []HoldState      `json:"holds"`
	Entries  []EntryState     `json:"entries"`
	Due      []Due            `json:"due"`
	Findings []phrase.Finding `json:"findings"`
	Log      []Line           `json:"log"`
	Left     *Left            `json:"left"` // the last handing over, nil none

	order *sequence
}

// Before says that record a is known to have come before b: b rests on it, through
// causes and chains. Of two records neither may be known to come first; of a record
// that is not applied nothing is known.
func (s *State) Before(a, b ID) bool {
	if s.order == nil {
		return false
	}
	i, known := s.order.index[a]
	j, known2 := s.order.index[b]
	return known && known2 && s.order.before(i, j)
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
	Setup   ID              `json:"setup"`
	Tag     string          `json:"tag"`
	Laser   string          `json:"laser"`
	State   TagState        `json:"state"`
	Why     phrase.Message  `json:"why"`    // zero where live
	Shots   int             `json:"shots"`  // that rest on it and count
	Open    int             `json:"open"`   // of these, not closed since
	Closes  int             `json:"closes"` // good ones
	Bad     int             `json:"bad"`    // bad ones
	LastBad *phrase.Message `json:"last_bad"`

	Readings []CloseState `json:"readings"` // its closes, in the log's order
}

// CloseState is a close as its corrections leave it.
type CloseState struct {
	Record ID          `json:"record"`
	On     string      `json:"on"`
	Point  string      `json:"point"`
	Off    unit.Length `json:"off"` // + where the beam stands higher over the point
	Good   bool        `json:"good"`
	Counts bool        `json:"counts"` // a bad one always; a good one that was not taken back and is known to come before the tag's end
}

// TieState is a machine's tie and whether its depth still means something.
type TieState struct {
	Tie     ID             `json:"tie"`
	Machine string         `json:"machine"`
	Setup   ID             `json:"setup"` // zero where a point was touched
	Live    bool           `json:"live"`
	Why     phrase.Message `json:"why"`
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
	Excavation string          `json:"excavation"`
	Verdict    Verdict         `json:"verdict"` // of its worst point
	Points     []PointState    `json:"points"`
	Bottom     *unit.Elevation `json:"bottom"`      // directed since the drawing, nil the drawing's
	Direction  ID              `json:"direction"`   // that directed it
	OpenBottom bool            `json:"open_bottom"` // directions that do not know of each other, or one withdrawn
	OverDigs   int             `json:"over_digs"`   // without their remedy in
	Poured     bool            `json:"poured"`      // concrete is in
}

// PointState is the newest shot at a point of a dig; where nobody knows which
// is newest, the worst of them.
type PointState struct {
	Part      string         `json:"part"`
	Point     string         `json:"point"`
	Station   *unit.Station  `json:"station"`
	Shot      ID             `json:"shot"`
	Setup     ID             `json:"setup"` // the beam it rests on, zero a touched point
	Tag       string         `json:"tag"`
	Person    string         `json:"person"`
	Time      Stamp          `json:"time"`
	Height    unit.Elevation `json:"height"`
	Deviation unit.Length    `json:"deviation"`
	Verdict   Verdict        `json:"verdict"`
	Why       phrase.Message `json:"why"`    // of AtRisk, zero else
	Closed    bool           `json:"closed"` // a good close is known to come after it
	Corrected bool           `json:"corrected"`
	Several   bool           `json:"several"` // shots of which nobody knows which is newest
}

// HoldState is a hold point that was looked at.
type HoldState struct {
	Excavation string `json:"excavation"`
	Hold       string `json:"hold"`
	Passed     bool   `json:"passed"`
	By         string `json:"by"`
	Agency     string `json:"agency"`
	Record     ID     `json:"record"`
}

// EntryState is an entry of the competent person and whether the log leaves it
// standing.
type EntryState struct {
	safety.Entry
	Record   ID             `json:"record"`
	Standing bool           `json:"standing"`
	Why      phrase.Message `json:"why"`
}

// Due is something to do.
type Due struct {
	Where phrase.Where   `json:"where"`
	What  phrase.Message `json:"what"`
}

// Left is how the work was handed over.
type Left struct {
	Ends   string `json:"ends"`
	To     string `json:"to"`
	Words  string `json:"words"`
	Record ID     `json:"record"`
	Person string `json:"person"`
	Time   Stamp  `json:"time"`
}

// Line is a record of the log in its order.
type Line struct {
	Record
	Corrected bool
	Accepted  bool // let in by a foreman
}
