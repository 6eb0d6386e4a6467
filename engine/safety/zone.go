package safety

import (
	"spadework/engine/geom"
	"spadework/engine/unit"
)

// Zone is the ground along a service where only hands or vacuum dig, at any
// depth, until the service is seen.
type Zone struct {
	Service string
	Line    []geom.Point
	Stop    unit.Length // from the marks, on both sides, where the bucket stops: half the width and the zone
	Width   unit.Length // of the whole zone, 2 × Stop
	Bands   []geom.Ring // a counter-clockwise rectangle a leg, Stop beyond its ends; together they cover the zone
	Assumed bool        // the service's width was not known
	Seen    bool        // exposed and seen: not to be cut out any more
	Rule    string
}

// Holds says that a point lies in the zone or on its border.
func (z Zone) Holds(p geom.Point) bool {
	for _, band := range z.Bands {
		if band.Contains(p) != geom.Outside {
			return true
		}
	}
	return false
}

// zoneOf is the zone of a service: its width and the tolerance zone on each
// side (CGA Best Practice 5-19). Points of the line that repeat count once; a
// line of one point has a square about it, one of none no bands.
func zoneOf(b Book, s Service) Zone {
	stop, assumed := stopDistance(b, s)
	z := Zone{
		Service: s.ID, Line: s.Line, Stop: stop, Width: 2 * stop, Assumed: assumed,
		Seen: s.Exposed != nil, Rule: "tolerance_zone",
	}
	for i := 1; i < len(s.Line); i++ {
		along := s.Line[i].Sub(s.Line[i-1])
		if along == (geom.Vector{}) {
			continue
		}
		middle := s.Line[i-1].Toward(s.Line[i], 0.5)
		z.Bands = append(z.Bands, geom.Rectangle(middle, along, along.Length()+2*float64(stop), 2*float64(stop)))
	}
	if len(z.Bands) == 0 && len(s.Line) > 0 {
		z.Bands = []geom.Ring{geom.Rectangle(s.Line[0], geom.Vector{X: 1}, 2*float64(stop), 2*float64(stop))}
	}
	return z
}

// stopDistance is how far from the marks the bucket stops. The marks stand over
// the middle of the line.
func stopDistance(b Book, s Service) (stop unit.Length, assumed bool) {
	size, ok := have(s.Size)
	if !ok || !(size > 0) {
		size, assumed = b.rule("service_width").Limit.Length(), true
	}
	return b.rule("tolerance_zone").Limit.Length() + size/2, assumed
}

// MarkColour is the colour in which a service is marked on the ground by the
// uniform colour code of the American Public Works Association, "" for a kind
// that the code does not have.
func MarkColour(kind string) string {
	switch kind {
	case "power":
		return "red"
	case "gas", "oil":
		return "yellow"
	case "communication":
		return "orange"
	case "water":
		return "blue"
	case "reclaimed":
		return "purple"
	case "sewer", "drain":
		return "green"
	case "survey":
		return "pink"
	case "dig":
		return "white"
	}
	return ""
}
