package cab

import (
	"math"
	"testing"

	"spadework/engine/unit"
)

// A reading is a slip where all but a whole division keeps the tolerance.
func TestSlipOf(t *testing.T) {
	const inch, foot, mm = unit.Inch, unit.Foot, unit.Millimetre
	for _, c := range []struct {
		face              unit.Face
		off, above, below unit.Length
		want              unit.Length
	}{
		{unit.FaceInches, 0, inch / 2, inch / 2, 0},
		{unit.FaceInches, foot, inch / 2, inch / 2, foot},
		{unit.FaceInches, -foot - inch/4, inch / 2, inch / 2, -foot},
		{unit.FaceInches, inch + inch/8, inch / 4, inch / 4, inch},
		{unit.FaceInches, 3 * inch, inch / 4, inch / 4, 0}, // just low
		{unit.FaceTenths, foot / 10, foot / 25, foot / 25, foot / 10},
		{unit.FaceTenths, -foot, 0, foot / 25, -foot},
		{unit.FaceMetric, -unit.Metre + 4*mm, 5 * mm, 5 * mm, -unit.Metre},
		{unit.FaceMetric, 100 * mm, 5 * mm, 5 * mm, 100 * mm},
		{unit.FaceMetric, 50 * mm, 5 * mm, 5 * mm, 0},
		{unit.FaceMetric, unit.Length(math.NaN()), 5 * mm, 5 * mm, 0},
	} {
		if got := slipOf(c.face, c.off, c.above, c.below); got != c.want {
			t.Errorf("slipOf(%d, %v, %v, %v) = %v, want %v", c.face, c.off, c.above, c.below, got, c.want)
		}
	}
}

// A full reading a foot off is told before it is kept.
func TestReadingAFootOffIsTold(t *testing.T) {
	b := &bench{T: t}
	o := opening(t, "alder-quay")
	o.Records = nil
	b.ask(new(Home), "open", o)
	b.say("setup", map[string]string{"tag": "A1"})
	set, _ := b.cab.plan.Setup("A1")
	n := b.cab.rows("P1", "A1")[0]
	v := b.cab.faceOf("A1")
	for _, c := range []struct {
		reading unit.Reading
		slip    bool
	}{{n.Rod, false}, {n.Rod + unit.Reading(unit.Foot), true}, {n.Rod - unit.Reading(unit.Foot), true}} {
		var d Drafted
		b.ask(&d, "draft", saying("shot", map[string]string{"tag": set.ID, "dig": "P1", "reading": v.Style.Reading(c.reading)}))
		if (d.Slip != "") != c.slip {
			t.Errorf("a reading of %s where %s is wanted tells %q, want a slip: %t", v.Style.Reading(c.reading), v.Style.Reading(n.Rod), d.Slip, c.slip)
		}
	}
}
