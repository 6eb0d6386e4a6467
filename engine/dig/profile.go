package dig

import (
	"sort"

	"spadework/engine/geom"
	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// sample is the ground at a station of a run.
type sample struct{ station, z float64 }

// samples are the ground at all places of the run where it or the run bends or
// steps; between them both are straight.
func (r *run) samples(from Reference) ([]sample, error) {
	g, err := r.site.ground(from)
	if err != nil {
		return nil, err
	}
	var out []sample
	for _, p := range g.Profile(r.line.points) {
		last := p.Station >= r.line.length()-snap
		if !p.Known || !finite(p.Z) || p.Gap && !last {
			return nil, outsideStation(from, p.Station)
		}
		out = append(out, sample{p.Station, p.Z})
	}
	for _, s := range r.breaks {
		z, ok := g.Height(r.line.pointAt(s))
		if !ok || !finite(z) {
			return nil, outsideStation(from, s)
		}
		out = append(out, sample{s, z})
	}
	sort.SliceStable(out, func(i, j int) bool { return out[i].station < out[j].station })
	return out, nil
}

// governor is the place of a run where the ground decides its level, with the
// count of steps passed there.
type governor struct {
	sample
	steps int
}

// governing is the place that asks for the lowest run, of equals the first.
func (r *run) governing() (governor, error) {
	samples, err := r.samples(r.x.Bottom.From)
	if err != nil {
		return governor{}, err
	}
	var best governor
	var least unit.Length
	first := true
	for _, s := range samples {
		// At a step both sides count.
		for n := r.stepsUpTo(s.station - snap); n <= r.stepsUpTo(s.station+snap); n++ {
			base := unit.Length(s.z) + r.x.Fall.Over(unit.Length(s.station)) + r.drop(n)
			// Equal but for rounding is equal: the first place is named.
			if first || base < least-noFall/1000 {
				best, least, first = governor{s, n}, base, false
			}
		}
	}
	return best, nil
}

// noteCover tells where a run by inverts has less than its least cover.
func (r *run) noteCover() error {
	b := &r.x.Bottom
	if b.Cover == 0 {
		return nil
	}
	samples, err := r.samples(b.From)
	if err != nil {
		return err
	}
	var worst sample
	least := b.Cover - noFall
	short := false
	for _, s := range samples {
		for _, invert := range r.flow.sides(s.station) {
			if cover := r.coverOver(invert, s.z); cover < least {
				worst, least, short = s, cover, true
			}
		}
	}
	if short {
		r.note(phrase.New("dig.note.cover", phrase.With("station", unit.Station(worst.station)),
			phrase.With("cover", least), phrase.With("least", b.Cover)))
	}
	return nil
}

// coverOver is the ground over the top of the run's pipe, over the invert
// itself where no pipe is known.
func (r *run) coverOver(invert unit.Elevation, z float64) unit.Length {
	top := invert
	if r.x.Pipe != nil {
		top = r.x.Pipe.TopOfPipe(invert)
	}
	return unit.Elevation(z).Above(top)
}

// closed is a ring as a line that ends where it began.
func closed(r geom.Ring) []geom.Point {
	return append(append(make([]geom.Point, 0, len(r)+1), r...), r[0])
}
