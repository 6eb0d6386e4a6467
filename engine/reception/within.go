package reception

import (
	"math"

	"spadework/engine/unit"
)

// Within is, for each dig, the beam heights from low to high at one laser that
// serve all its targets, in s until it is used again; a window that is not open
// has no reason. A dig without targets is served at every height. It is Digs for
// a beam that can only be set so low or high, and much quicker: what does not
// matter between low and high is not looked at.
func (f *Field) Within(l Laser, low, high unit.Elevation, digs []Dig, s *Scratch) []Window {
	s.digs = s.digs[:0]
	at := f.stand(&l)
	for i := range digs {
		w := Window{Low: low, High: high}
		for k := range digs[i].Targets {
			if w = at.within(&digs[i].Targets[k], w, s); !w.Open() {
				break
			}
		}
		s.digs = append(s.digs, w)
	}
	return s.digs
}

// closed is no window.
var closed = Window{Low: unit.Elevation(math.Inf(1)), High: unit.Elevation(math.Inf(-1))}

// within is the part of a band of heights that serves a target.
func (a *stand) within(t *Target, band Window, s *Scratch) Window {
	r := rayTo(a.laser, t.At, a.curved)
	if why, _, _ := a.outright(t, &r); why != Served {
		return closed
	}
	least, most := a.leastFit(t, &r), a.mostFit(t, &r)
	low, high := float64(band.Low), float64(band.High)
	if !(least <= high && most >= low) {
		return closed
	}
	s.begin(a.clearance, max(least, low), min(most, high))
	a.ground.collect(&r, s)
	if s.shut || !a.ground.speaks(&r, s) && !a.reallySpeaks(&r, s) {
		return closed
	}
	if a.obstacles.collect(&r, s); s.shut {
		return closed
	}
	// Where the receiver's ends surely lie outside the band they do not count.
	margin := 64*u*(math.Abs(least)+math.Abs(most)+2*math.Abs(float64(t.Bottom))+math.Abs(r.rise)+r.bend) + 8*r.slack
	if len(s.cands) == 0 && least+margin < low && most-margin > high {
		return band
	}
	f := a.fineOf(&r)
	fits, top := a.ends(t, &f, s)
	above, ok := f.highest(a, s.cands)
	if !ok {
		above, _ = a.highest(&r, s)
	}
	return Window{Low: max(band.Low, unit.Elevation(fits), unit.Elevation(above)), High: min(band.High, unit.Elevation(top))}
}
