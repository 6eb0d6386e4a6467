package guard

import (
	"math"

	"spadework/engine/geom"
	"spadework/engine/record"
	"spadework/engine/unit"
	"spadework/engine/watch"
)

// spot names a point of a dig.
type spot struct {
	excavation, part, point string
	station                 unit.Station
	run                     bool
}

func spotOf(s *record.CheckShot) spot {
	out := spot{excavation: s.Excavation, part: s.Part, point: s.Point}
	if s.Station != nil {
		out.station, out.run = *s.Station, true
	}
	return out
}

// name is the spot as a point of the watch, which no benchmark bears.
func (s spot) name() string {
	out := s.excavation
	for _, word := range []string{s.part, s.point} {
		if word != "" {
			out += " " + word
		}
	}
	if s.run {
		out += " " + unit.Style{}.Station(s.station)
	}
	return out
}

// machineShot is a bottom as a machine's sensors left it.
type machineShot struct {
	shot *record.CheckShot
	at   watch.Hours // of its tie
}

// checkShots takes in the rods read on bottoms that a machine with sensors had dug
// from a tie to this beam: beam now less beam at the tie, and the machine's bias.
// Both readings of the difference are of one bottom of unknown height; the second
// can accuse the beam and never clears it. A bottom that the machine itself found
// out of tolerance is dug on and tells nothing.
func (b *builder) checkShots() {
	way := b.way()
	b.log.MachineBias = way.Depth
	tied := map[spot]machineShot{}
	for _, l := range b.st.Log {
		shot, ok := l.Payload.(*record.CheckShot)
		if !ok || l.Corrected {
			continue
		}
		where := spotOf(shot)
		if tie := b.tie(shot); tie != nil {
			delete(tied, where)
			if off := shot.Deviation(); shot.Above != nil && off <= *shot.Above && -off <= *shot.Below {
				tied[where] = machineShot{shot, b.at(shot.Tie)}
			}
			continue
		}
		m, dug := tied[where]
		if shot.Setup != b.tag.Setup || !dug || m.shot.Bottom != shot.Bottom {
			continue
		}
		delete(tied, where) // what comes after it may have been dug on
		b.accuse(where.name(), b.place(shot), m, shot, b.at(l.ID))
	}
}

// tie is the tie of a shot to this beam, nil for none.
func (b *builder) tie(shot *record.CheckShot) *record.Tie {
	if l := b.t.line[shot.Tie]; l != nil {
		if tie, ok := l.Payload.(*record.Tie); ok && tie.Setup == b.tag.Setup {
			return tie
		}
	}
	return nil
}

// accuse adds the two readings of one bottom.
func (b *builder) accuse(name string, at geom.Point, m machineShot, shot *record.CheckShot, when watch.Hours) {
	if b.knows(name) {
		return
	}
	way := b.way()
	dug := math.Sqrt(float64(way.TieSigma()*way.TieSigma()) + float64(way.Cutting*way.Cutting))
	read := math.Sqrt(float64(way.Reading*way.Reading) + float64(way.DeadBand*way.DeadBand)/12 + float64(leastSigma*leastSigma))
	b.log.Points = append(b.log.Points, watch.Point{ID: name, At: at})
	b.log.Readings = append(b.log.Readings,
		watch.Reading{At: m.at, Point: name, Off: -m.shot.Deviation(), Sigma: unit.Length(math.Max(dug, leastSigma))},
		watch.Reading{At: when, Point: name, Off: -shot.Deviation(), Sigma: unit.Length(read), Machine: true})
	b.shots++
}

// leastSigma keeps a reading from being exact: no rod is read better than a
// millimetre (common practice).
const leastSigma = 1e-3
