package pipe

import "spadework/engine/unit"

// ConcreteWall is a wall class of reinforced concrete pipe.
type ConcreteWall string

// Walls B and C of ASTM C76: the inside diameter in feet, as inches, plus
// 1 in or 1.75 in (read).
const (
	WallB ConcreteWall = "B"
	WallC ConcreteWall = "C"
)

// concreteStandard is the standard of Concrete.
const concreteStandard = "ASTM C76"

// Concrete is the ASTM C76 entry of an inside diameter > 0 and a wall class; ok
// is false for another class or diameter. The ticket of the pipe goes before
// it.
func Concrete(inside unit.Length, wall ConcreteWall) (e Entry, ok bool) {
	extra := unit.Inch
	switch wall {
	case WallB:
	case WallC:
		extra = 1.75 * unit.Inch
	default:
		return Entry{}, false
	}
	if !(inside > 0) {
		return Entry{}, false
	}
	thick := inside/12 + extra
	return Entry{
		Standard: concreteStandard, Series: "wall " + string(wall), Nominal: inside,
		Section:     Section{Outside: inside + 2*thick, Wall: thick},
		OutsideMark: Read, WallMark: Read, Source: concreteStandard + " wall " + string(wall),
	}, true
}
