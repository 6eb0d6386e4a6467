package safety

import (
	"slices"

	"spadework/engine/unit"
)

// Site is what is known before planning.
type Site struct {
	Digs     []SiteDig
	Services []Service
	Lines    []Overhead
}

// SiteDig is a dig before planning.
type SiteDig struct {
	ID        string
	Ground    Ground
	Depth     *unit.Length // the deepest, nil unknown
	OpenHours *float64     // nil unknown
}

// Bounds is what planning obeys.
type Bounds struct {
	SpoilSetback    Setback     // from the top edge of a dig
	PlantSetback    Setback     // likewise
	ProtectionDepth Setback     // from this depth on: sloping, shoring or a shield
	Zones           []Zone      // in the order of the services
	Slopes          []Slope     // in the order of the digs
	Clearances      []Clearance // in the order of the lines
}

// Setback is a distance and the rule it comes from.
type Setback struct {
	Distance unit.Length
	Rule     string
}

// Limits is what planning obeys, worked out from the rules and the site. The
// figures of a book that judges nothing hold here all the same.
func Limits(b Book, s Site) Bounds {
	setback := func(id string) Setback { return Setback{b.rule(id).Limit.Length(), id} }
	out := Bounds{
		SpoilSetback: setback("spoil_setback"), PlantSetback: setback("plant_setback"),
		ProtectionDepth: setback("protection_depth"),
	}
	for _, service := range s.Services {
		out.Zones = append(out.Zones, zoneOf(b, service))
	}
	out.Slopes = slices.Grow(out.Slopes, len(s.Digs))
	for _, d := range s.Digs {
		out.Slopes = append(out.Slopes, slopeOf(b, d))
	}
	for _, line := range s.Lines {
		c := ClearanceOf(b, line.Kilovolts)
		c.Line = line.ID
		out.Clearances = append(out.Clearances, c)
	}
	return out
}
