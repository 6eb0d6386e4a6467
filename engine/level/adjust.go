package level

import (
	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// Method is how a misclosure is spread over a run.
type Method uint8

// The methods: an equal share a set-up, or in proportion to distance.
const (
	BySetup Method = iota
	ByDistance
)

// Adjust spreads the misclosure so that the run ends on its known point. The
// points seen from one set-up all take that set-up's correction. A *phrase.Fault
// tells of an open run, or of a missing sight length where distance counts.
func (r *Reduction) Adjust(m Method) (*Reduction, error) {
	if !r.Closes {
		return nil, phrase.NewFault(phrase.New("level.open_run"), phrase.New("level.open_run.remedy"))
	}
	along, total := r.shares(m)
	if !(total > 0) {
		return nil, phrase.NewFault(phrase.New("level.no_lengths"), phrase.New("level.no_lengths.remedy"))
	}
	out := *r
	out.Rows = append([]Row(nil), r.Rows...)
	perSetup := Corrections(r.Misclosure, total, along)
	for i := range out.Rows {
		row := &out.Rows[i]
		row.Correction = perSetup[min(row.Setup, r.Setups)]
		row.Adjusted = row.Elevation.Plus(row.Correction)
	}
	return &out, nil
}

// shares are how far along the run each set-up closes, from 0 for the start, in
// set-ups or metres, and the whole.
func (r *Reduction) shares(m Method) (along []unit.Length, total unit.Length) {
	along = make([]unit.Length, r.Setups+1)
	for k := range along {
		along[k] = unit.Length(k)
	}
	if m == BySetup {
		return along, unit.Length(r.Setups)
	}
	for _, row := range r.Rows {
		if row.Setup <= r.Setups {
			along[row.Setup] = row.Along // the foresight is the last row of its set-up
		}
	}
	return along, r.Length
}

// Corrections are the corrections in proportion to distance of points along a
// run of the given length: −misclosure × along/length. NaN where the length is
// 0.
func Corrections(misclosure, length unit.Length, along []unit.Length) []unit.Length {
	out := make([]unit.Length, len(along))
	for i, a := range along {
		out[i] = 0 - unit.Length(float64(misclosure)*float64(a/length)) // 0, not −0, at the start
	}
	return out
}
