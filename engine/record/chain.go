package record

import (
	"cmp"
	"slices"

	"spadework/engine/phrase"
)

// Flaw is what is wrong with a chain.
type Flaw string

// The flaws.
const (
	Missing   Flaw = "missing"   // the record before is not here
	Changed   Flaw = "changed"   // the record before is not the one that was there
	Forked    Flaw = "forked"    // two records stand at one place
	Twice     Flaw = "twice"     // one id has two contents
	BackClock Flaw = "backclock" // the clock does not run on from the record before
)

// Break is a flaw at a record.
type Break struct {
	Flaw   Flaw
	Device string
	Seq    int64 // of the record at which it shows
	ID     ID
}

// Message names the break.
func (b Break) Message() phrase.Message {
	return phrase.New(phrase.Key("record.flaw_"+string(b.Flaw)), phrase.With("device", b.Device),
		phrase.With("seq", int(b.Seq)), phrase.With("before", int(b.Seq-1)), phrase.With("id", b.ID.String()))
}

// Chain is one device's records.
type Chain struct {
	Device string
	Count  int  // of records, each counted once
	Head   Head // the record of the highest number; of a fork the one of the smallest id
	Breaks []Break
}

// Verify walks the chain of every device, sorted by device. Records may come in
// any order and more than once. A chain shows the change or loss of every
// record but the newest of its device: nothing after them names their hash.
func Verify(records []Record) []Chain {
	entries := gather(records)
	var out []Chain
	for i, e := range entries {
		if i == 0 || e.Device != entries[i-1].Device {
			out = append(out, Chain{Device: e.Device})
		}
		c := &out[len(out)-1]
		c.Count++
		if e.Seq != c.Head.Seq {
			c.Head = Head{ID: e.ID, Seq: e.Seq, Hash: e.hash, Clock: e.Clock}
		}
		for _, flaw := range flaws(entries, i) {
			c.Breaks = append(c.Breaks, Break{flaw, e.Device, e.Seq, e.ID})
		}
	}
	return out
}

// entry is a record with its hash.
type entry struct {
	Record
	hash Hash
}

// gather hashes records, keeps each content once and sorts by device, number,
// id and hash.
func gather(records []Record) []entry {
	out := make([]entry, len(records))
	for i, r := range records {
		out[i] = entry{r, r.Hash()}
	}
	slices.SortFunc(out, func(a, b entry) int {
		return cmp.Or(cmp.Compare(a.Device, b.Device), cmp.Compare(a.Seq, b.Seq), a.ID.Compare(b.ID), compareHash(a.hash, b.hash))
	})
	return slices.CompactFunc(out, func(a, b entry) bool { return a.hash == b.hash })
}

func compareHash(a, b Hash) int { return slices.Compare(a[:], b[:]) }

// at is the range of a device's records of a number.
func at(entries []entry, device string, seq int64) (from, to int) {
	search := func(seq int64) int {
		i, _ := slices.BinarySearchFunc(entries, seq, func(e entry, seq int64) int {
			return cmp.Or(cmp.Compare(e.Device, device), cmp.Compare(e.Seq, seq))
		})
		return i
	}
	return search(seq), search(seq + 1)
}

// flaws is what is wrong at one of the entries.
func flaws(entries []entry, i int) []Flaw {
	e := entries[i]
	var out []Flaw
	from, to := at(entries, e.Device, e.Seq)
	for j := from; j < to; j++ {
		if j == i {
			continue
		}
		if entries[j].ID == e.ID {
			out = append(out, Twice)
		} else {
			out = append(out, Forked)
		}
	}
	slices.Sort(out)
	out = slices.Compact(out)
	if e.Seq == 1 {
		return out
	}
	before, found := parentOf(entries, i)
	from, to = at(entries, e.Device, e.Seq-1)
	switch {
	case from == to:
		out = append(out, Missing)
	case !found:
		out = append(out, Changed)
	case e.Clock.Compare(entries[before].Clock) <= 0:
		out = append(out, BackClock)
	}
	return out
}

// parentOf finds the record before, by its hash.
func parentOf(entries []entry, i int) (int, bool) {
	from, to := at(entries, entries[i].Device, entries[i].Seq-1)
	for j := from; j < to; j++ {
		if entries[j].hash == entries[i].Previous {
			return j, true
		}
	}
	return 0, false
}
