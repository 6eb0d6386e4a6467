package safety

import (
	"spadework/engine/geom"
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
	SpoilSetback    Setback // from the top edge of a dig
	PlantSetback    Setback
	ProtectionDepth Setback     // digs this deep or deeper need sloping, shoring or a shield
	Zones           []Zone      // by service id
	Slopes          []Slope     // by dig id
	Clearances      []Clearance // by line id
}

// Setback is a distance and the rule it comes from.
type Setback struct {
	Distance unit.Length
	Rule     string
}

// Zone is the ground along a service where only hands or vacuum dig, at any
// depth, until the service is seen.
type Zone struct {
	Service string
	Line    []geom.Point
	Stop    unit.Length // from the marks, on both sides, where the bucket stops: half the width and the zone
	Width   unit.Length // of the whole zone, 2 × Stop
	Bands   []geom.Ring // one counter-clockwise rectangle a leg, Stop beyond its ends; together the zone
	Assumed bool        // the service's width was not known
	Seen    bool        // exposed and seen: not to be cut out any more
	Rule    string
}

// Slope is the steepest side a dig may have without support.
type Slope struct {
	Dig      string
	Class    Class
	Ratio    float64     // horizontal over vertical, ≥ 0
	Vertical unit.Length // depth that may stand vertical, unsupported, if a competent person sees no sign of cave-in
	Engineer bool        // too deep, or ground no rule covers: an engineer designs it
	Rule     string
}

// Clearance is the distance to keep from an overhead line in every direction.
type Clearance struct {
	Line     string
	Distance unit.Length
	Assumed  bool // the voltage was not known
	Beyond   bool // over the table's last voltage: the owner says how far
	Rule     string
}

// Limits is what planning obeys, worked out from the rules and the site.
func Limits(b Book, s Site) Bounds { return Bounds{} }
