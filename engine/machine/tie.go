package machine

import (
	_ "embed"
	"encoding/csv"
	"slices"
	"strconv"
	"strings"
	"sync"
)

// Event is something that may end the life of a number.
type Event string

// The events.
const (
	TracksMoved     Event = "tracks_moved"
	BladeMoved      Event = "blade_moved"
	OutriggersMoved Event = "outriggers_moved"
	Lifted          Event = "lifted"
	BucketChanged   Event = "bucket_changed"
	CouplerChanged  Event = "coupler_changed"
	TeethChanged    Event = "teeth_changed"
	Sunk            Event = "sunk"
)

// Events lists the events.
func Events() []Event {
	return []Event{TracksMoved, BladeMoved, OutriggersMoved, Lifted, BucketChanged, CouplerChanged, TeethChanged, Sunk}
}

// Effect is what an event does to the numbers of a guidance.
type Effect string

// The effects.
const (
	Keep    Effect = "keep"
	Reclamp Effect = "reclamp" // the receiver is clamped anew; the numbers stay
	Void    Effect = "void"    // tie again before any number
)

// TieRow is one line of the table of what ends a tie.
type TieRow struct {
	Guidance string // as beam names it: rod, stick_receiver, sensors_beam …
	Event    Event
	Effect   Effect
	Source   string
}

//go:embed ties.csv
var tiesText string

// ties is the table. It is compiled in and a test reads it, so a bad row
// panics.
var ties = sync.OnceValue(func() []TieRow {
	r := csv.NewReader(strings.NewReader(tiesText))
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil || len(rows) < 2 {
		panic("machine: ties.csv: " + strconv.Itoa(len(rows)) + " rows")
	}
	var out []TieRow
	for _, row := range rows[1:] {
		out = append(out, TieRow{row[0], Event(row[1]), Effect(row[2]), row[3]})
	}
	return out
})

// Ties is the whole table of what ends a tie, with its sources.
func Ties() []TieRow { return slices.Clone(ties()) }

// EffectOf is what an event does to the numbers of a guidance. What the table
// does not have is taken at its worst: Void.
func EffectOf(guidance string, e Event) Effect {
	for _, row := range ties() {
		if row.Guidance == guidance && row.Event == e {
			return row.Effect
		}
	}
	return Void
}
