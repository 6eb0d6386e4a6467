package safety

import (
	"math"

	"spadework/engine/unit"
)

// Clearance is the distance to keep from an overhead line in every direction.
type Clearance struct {
	Line     string
	Distance unit.Length // of the highest row of the table where the voltage is not known or Beyond
	Assumed  bool        // the voltage was not known
	Beyond   bool        // over the table's last voltage: the owner says how far
	Rule     string
}

// lineRows is the voltages up to which each row of 29 CFR 1926.1408 table A
// holds, in kV.
func lineRows() []struct {
	upTo float64
	rule string
} {
	return []struct {
		upTo float64
		rule string
	}{{50, "line_50"}, {200, "line_200"}, {350, "line_350"}, {500, "line_500"}, {750, "line_750"}, {1000, "line_1000"}}
}

// ClearanceOf is the distance to keep from a line of so many kilovolts; nil,
// NaN and what is not positive are not known and take the greatest of the
// table. Table A is written for cranes and at no voltage asks for less than the
// rule for other plant, which is known from memory; once a job switches that
// one on with a source, it holds instead.
func ClearanceOf(b Book, kilovolts *float64) Clearance {
	rows := lineRows()
	last := rows[len(rows)-1].rule
	out := Clearance{Distance: b.rule(last).Limit.Length(), Rule: last}
	kv, ok := have(kilovolts)
	if !ok || !(kv > 0) {
		out.Assumed = true
		return out
	}
	if b.rule("line_plant").On {
		return Clearance{Distance: plantClearance(b, kv), Rule: "line_plant", Beyond: math.IsInf(kv, 1)}
	}
	for _, row := range rows {
		if kv <= row.upTo {
			return Clearance{Distance: b.rule(row.rule).Limit.Length(), Rule: row.rule}
		}
	}
	out.Beyond = true
	return out
}

// plantClearance is the base distance and the rate for each kilovolt over 50
// (29 CFR 1926.600(a)(6), from memory).
func plantClearance(b Book, kv float64) unit.Length {
	rate := unit.Length(b.rule("line_plant_rate").Limit.Number) * unit.Inch
	return b.rule("line_plant").Limit.Length() + unit.Length(max(0, kv-50))*rate
}

// gap is the least distance between the wire and the space a tall thing can
// sweep, a cylinder of its radius and height; what is not known is taken as
// nearest.
func (r Reach) gap(height *unit.Length) unit.Length {
	across := nearest(r.Distance, r.Radius)
	up := nearest(height, r.Top)
	return unit.Length(math.Sqrt(float64(across*across) + float64(up*up)))
}

// nearest is how far lies beyond size, 0 if either is not known.
func nearest(far, size *unit.Length) unit.Length {
	f, ok := have(far)
	s, okSize := have(size)
	if !ok || !okSize {
		return 0
	}
	return max(0, f-s)
}
