package dig

import (
	"spadework/engine/geom"
	"spadework/engine/ground"
	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// Ground is what a dig asks of a survey surface; every ground.Surface is one.
type Ground interface {
	Height(p geom.Point) (z float64, ok bool)
	Profile(line []geom.Point) []ground.ProfilePoint
	LowestOn(outline geom.Ring) ground.Lowest
}

// Site is the ground an excavation lies in. nil is unknown.
type Site struct {
	Existing Ground
	Finished Ground
}

// ground is the one that a depth is measured from.
func (s Site) ground(from Reference) (Ground, error) {
	g := s.Existing
	if from == Finished {
		g = s.Finished
	}
	if g == nil {
		return nil, fault("bottom.from", "dig.no_ground", phrase.With("ground", groundLabel(from)))
	}
	return g, nil
}

// outsideRing is the fault of an outline that leaves the survey, at the first
// point where it does.
func outsideRing(g Ground, from Reference, ring geom.Ring) error {
	for i, p := range ring {
		if _, ok := g.Height(p); !ok {
			return fault("bottom.from", "dig.outside_corner", phrase.With("ground", groundLabel(from)),
				phrase.With("corner", i+1), phrase.With("x", unit.Length(p.X)), phrase.With("y", unit.Length(p.Y)))
		}
	}
	return fault("bottom.from", "dig.outside_edge", phrase.With("ground", groundLabel(from)))
}

// outsideStation is the fault of a line that leaves the survey.
func outsideStation(from Reference, s float64) error {
	return fault("bottom.from", "dig.outside_station",
		phrase.With("ground", groundLabel(from)), phrase.With("station", unit.Station(s)))
}

// lowest is the lowest ground on an outline.
func lowest(g Ground, from Reference, ring geom.Ring) (float64, error) {
	l := g.LowestOn(ring)
	if !l.OK || !finite(l.Z) {
		return 0, outsideRing(g, from, ring)
	}
	return l.Z, nil
}
