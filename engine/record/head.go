package record

import (
	"slices"

	"spadework/engine/phrase"
)

// Head is the end of a device's chain in one job; the zero Head is before its
// first record.
type Head struct {
	ID    ID
	Seq   int64
	Hash  Hash
	Clock Clock
}

// Draft is what a person says, before it has its place in the chain.
type Draft struct {
	Job, Device, Person string
	Revision            string
	Time                Stamp
	Seen                []ID // heads of the other devices that this one has seen
	Payload             Payload
}

// Next makes the device's next record and the head after it from a time,
// milliseconds since 1970 UTC, and random bytes. What the payload names goes
// among the causes.
func (h Head) Next(d Draft, now int64, random [10]byte) (Record, Head, *phrase.Fault) {
	r := Record{
		ID: NextID(h.ID, now, random), Job: d.Job, Device: d.Device, Seq: h.Seq + 1, Person: d.Person,
		Clock: h.Clock.Tick(max(now, 0)), Time: d.Time, Revision: d.Revision, Previous: h.Hash, Payload: d.Payload,
	}
	r.Causes = append(slices.Clone(d.Seen), d.Payload.Names()...)
	slices.SortFunc(r.Causes, ID.Compare)
	r.Causes = slices.Compact(r.Causes)
	if f := r.Check(); f != nil {
		return Record{}, h, f
	}
	return r, HeadOf(r), nil
}

// HeadOf is the head after a record.
func HeadOf(r Record) Head { return Head{ID: r.ID, Seq: r.Seq, Hash: r.Hash(), Clock: r.Clock} }

// Saw is the head after a record of another device was received.
func (h Head) Saw(r Record) Head {
	h.Clock = h.Clock.Seen(r.Clock)
	return h
}
