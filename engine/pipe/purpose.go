package pipe

import "spadework/engine/unit"

// Purpose is what a trench carries; "" is not told.
type Purpose string

// The purposes.
const (
	Sanitary      Purpose = "sanitary"
	Storm         Purpose = "storm"
	BuildingDrain Purpose = "building_drain"
	Water         Purpose = "water"
	Cable         Purpose = "cable"
	Absorption    Purpose = "absorption"
)

// Purposes are all of them.
func Purposes() []Purpose {
	return []Purpose{Sanitary, Storm, BuildingDrain, Water, Cable, Absorption}
}

// Drains says that water runs by gravity in it.
func (p Purpose) Drains() bool { return p == Sanitary || p == Storm || p == BuildingDrain }

// nearSize is the share that a metric size may lie under the inch size of the
// tables and still be it: DN 200 is an 8 in pipe, DN 300 a 12 in (common
// practice).
const nearSize = 0.02

// LeastSlope is the row of the least slope for a nominal diameter; between two
// rows the smaller size holds, whose slope is the steeper. ok is false where
// the purpose has no table, or it begins at a larger size.
func LeastSlope(p Purpose, nominal unit.Length) (l Limit, ok bool) {
	if !p.Drains() {
		return Limit{}, false
	}
	return rowFor("least_slope."+string(p), float64(nominal)*(1+nearSize))
}

// Anchors is the row for a pipe on a slope as steep as g either way; ok is false
// where it needs none.
func Anchors(g unit.Grade) (l Limit, ok bool) {
	return rowFor("anchors", max(float64(g), -float64(g))+same)
}

// LeastBedding is the row that asks for the most bedding under a pipe.
func LeastBedding(outside unit.Length, rock bool) Limit {
	best := greatest("bedding", outside)
	if r := limit("bedding_rock"); rock && r.Value(outside) > best.Value(outside) {
		return r
	}
	return best
}

// WidthRule is whose trench width holds.
type WidthRule string

// The rules of trench width.
const (
	ByASTM WidthRule = "astm"
	ByEN   WidthRule = "en"
)

// LeastWidth is the row of the least trench width. By EN 1610 the nominal size
// picks it, and ok is false over DN 350, which was not read.
func LeastWidth(rule WidthRule, outside, nominal unit.Length) (l Limit, ok bool) {
	if rule == ByEN {
		return rowFor("trench_width.en", float64(nominal))
	}
	return greatest("trench_width.astm", outside), true
}

// Method is how a cable is laid; "" is not known.
type Method string

// The methods of NEC table 300.5.
const (
	DirectBurial   Method = "direct_burial"
	RigidMetal     Method = "rigid_metal"
	PlasticConduit Method = "plastic_conduit"
)

// Place is what a cable runs under; "" is open ground.
type Place string

// The places of NEC table 300.5.
const (
	Street        Place = "street"
	DwellingDrive Place = "dwelling_drive"
)

// CableCover is the row of the least cover of a cable. A method not known is
// taken as direct burial, which asks for most.
func CableCover(m Method, under Place) Limit {
	switch {
	case under != "":
		return limit("cable_cover." + string(under))
	case m == "":
		m = DirectBurial
	}
	return limit("cable_cover." + string(m))
}
