package machine

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"spadework/engine/geom"
	"spadework/engine/unit"
)

// TestHeightsOfTheSmallArm holds what the published linkage can do over the
// ground and at a wall. The numbers are worked by hand from its pins.
func TestHeightsOfTheSmallArm(t *testing.T) {
	e, fault := small.Envelope()
	if fault != nil {
		t.Fatal(fault)
	}
	// Bucket pin highest with boom and stick at their upper limits, 1.0923 and
	// -0.5103: 2.050 sin 1.0923 + 1.050 sin 0.5820 = 2.3975 over the foot.
	top := 2.050*math.Sin(1.0923) + 1.050*math.Sin(1.0923-0.5103) + 0.95737
	if got := e.Highest(); !(math.Abs(float64(got)-(top+0.567)) <= 1e-3) { // m: angles to 1e-4 rad
		t.Errorf("Highest = %.4f, want %.4f: bucket straight up over that pin", got, top+0.567)
	}
	if _, ok := e.Dump(unit.Length(top - 0.567 + 0.001)); ok {
		t.Errorf("Dump a millimetre over the highest hanging teeth, %.4f m, is reached", top-0.567)
	}
	s, ok := e.Dump(unit.Length(top - 0.567 - 0.001))
	if x := 2.050*math.Cos(1.0923) + 1.050*math.Cos(1.0923-0.5103); !ok || !(float64(s.Near) <= x+0.01) || !(float64(s.Far) >= x-0.01) {
		t.Errorf("Dump a millimetre under it = %v, %v, want about %.4f", s, ok, x)
	}
	if got := e.Farthest(); math.Abs(float64(got)-(2.050+1.050+0.567)) > 1e-12 {
		t.Errorf("Farthest = %v", got)
	}
}

// TestNoPoseIsHigherOrFarther holds Highest and Farthest over all poses.
func TestNoPoseIsHigherOrFarther(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := aLinkage(t)
		e, _ := l.Envelope()
		at := l.Forward(aPose(t, l))
		if top := at.Y + l.FootHeight; top > e.Highest()+1e-9 {
			t.Fatalf("teeth at %v, Highest %v", top, e.Highest())
		}
		if far := at.X + l.FootForward; far > e.Farthest() {
			t.Fatalf("teeth at %v, Farthest %v", far, e.Farthest())
		}
	})
}

// TestWallDepth: a wall is no deeper than the deepest teeth, and a millimetre
// deeper no pose cuts it, by trying bucket angles at every distance.
func TestWallDepth(t *testing.T) {
	e, _ := small.Envelope()
	d, ok := e.WallDepth()
	if !ok || !(d < e.MaxDepth()) || !(d > e.MaxDepth()/2) {
		t.Fatalf("WallDepth = %v, %v; MaxDepth %v", d, ok, e.MaxDepth())
	}
	cut := func(x, depth unit.Length) bool {
		for th := -90.0; th <= 0; th += 0.1 {
			p, ok := small.Inverse(Teeth{x, -depth - small.FootHeight, unit.Angle(th) * unit.Degree})
			pin := polar(float64(small.Boom), float64(p.Boom))
			wrist := pin.Plus(polar(float64(small.Stick), float64(p.Boom+p.Stick)))
			if ok && max(pin.X, wrist.X) <= float64(x)+1e-6 {
				return true
			}
		}
		return false
	}
	best := unit.Length(0)
	for x := small.Boom / 2; x < 3.5; x += wallStep {
		deep := unit.Length(0)
		for cut(x, deep) {
			deep += 5 * unit.Millimetre
		}
		best = max(best, deep-5*unit.Millimetre)
	}
	if !(math.Abs(float64(best-d)) <= 0.010) { // m: the referee's step in depth and angle
		t.Errorf("WallDepth = %.4f m, trying poses gives %.4f", d, best)
	}
}

// TestSheetDumpsLess: a sheet's dump height and reach promise no more than the
// machine does.
func TestSheetDumpsLess(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := aLinkage(t)
		e, _ := l.Envelope()
		ground, _ := e.Span(0)
		height, none := unit.Length(0), l.Boom+l.Stick+l.FootHeight
		for none-height > unit.Millimetre {
			if _, ok := e.Dump((height + none) / 2); ok {
				height = (height + none) / 2
			} else {
				none = (height + none) / 2
			}
		}
		at, ok := e.Dump(height)
		if !ok {
			t.Skip("never empties over the ground")
		}
		sheet, fault := Sheet{MaxReach: ground.Far, MaxDepth: e.MaxDepth(), DumpHeight: height, DumpReach: at.Far}.Envelope()
		if fault != nil {
			t.Fatal(fault)
		}
		h := unit.Length(rapid.Float64Range(0, 1).Draw(t, "share")) * height
		less, ok := sheet.Dump(h)
		if !ok {
			return
		}
		s, ok := e.Dump(h)
		if tol := columnStep; !ok || !(s.Near <= less.Near+tol) || !(less.Far <= s.Far+tol) { // the steps in which Dump looks
			t.Fatalf("at %v of %v the sheet promises %v, the machine does %v, %v", h, height, less, s, ok)
		}
	})
}

func TestUnknownReachesNowhere(t *testing.T) {
	var e Envelope
	if _, ok := e.Span(1); ok || e.Known() || e.MaxDepth() != 0 || e.Highest() != 0 {
		t.Error("the zero Envelope reaches somewhere")
	}
	known, _ := small.Envelope()
	nan := unit.Length(math.NaN())
	if _, ok := known.Span(nan); ok {
		t.Error("Span(NaN) is ok")
	}
	if _, ok := known.Column(nan); ok {
		t.Error("Column(NaN) is ok")
	}
	sheet, _ := Sheet{MaxReach: 5, MaxDepth: 3}.Envelope()
	if _, ok := sheet.Span(nan); ok {
		t.Error("sheet Span(NaN) is ok")
	}
}

// TestColumnIsReachedOnTheWay: at both ends of a column every floor is reached.
func TestColumnIsReachedOnTheWay(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := aLinkage(t)
		e, _ := l.Envelope()
		depth := unit.Length(rapid.Float64Range(0, 0.98).Draw(t, "share")) * e.MaxDepth()
		s, ok := e.Column(depth)
		if !ok {
			return
		}
		on := unit.Length(rapid.Float64Range(0, 1).Draw(t, "on the way")) * depth
		for _, x := range []unit.Length{s.Near + 5*unit.Millimetre, s.Far - 5*unit.Millimetre} { // between two looks the reach turns by millimetres
			if x > s.Near && x < s.Far && !slowReach(l, geom.Vector{X: float64(x - l.FootForward), Y: float64(-on - l.FootHeight)}, 4000) {
				t.Fatalf("Column(%v) = %v, but %v at depth %v is not reached", depth, s, x, on)
			}
		}
	})
}

// TestSheetReachesNoFarther: no pose reaches farther than a sheet's Farthest.
func TestSheetReachesNoFarther(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := aLinkage(t)
		e, _ := l.Envelope()
		ground, _ := e.Span(0)
		deep, _ := e.Span(e.MaxDepth() / 2)
		for _, s := range []Sheet{{MaxReach: ground.Far, MaxDepth: 1}, {Floors: []Floor{{0, ground}, {e.MaxDepth() / 2, deep}}}} {
			sheet, fault := s.Envelope()
			if fault != nil {
				t.Fatal(fault)
			}
			if far := l.Forward(aPose(t, l)).X + l.FootForward; far > sheet.Farthest() {
				t.Fatalf("teeth at %v, the sheet's Farthest is %v", far, sheet.Farthest())
			}
		}
	})
}
