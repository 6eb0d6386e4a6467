package machine

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"spadework/engine/geom"
	"spadework/engine/unit"
)

// within draws an angle inside a range, off its ends.
func within(t *rapid.T, r Range, name string) unit.Angle {
	return unit.Angle(rapid.Float64Range(float64(r.Low)+1e-6, float64(r.High)-1e-6).Draw(t, name))
}

func aPose(t *rapid.T, l Linkage) Pose {
	return Pose{within(t, l.BoomAngles, "a"), within(t, l.StickAngles, "b"), within(t, l.BucketAngles, "g")}
}

// TestInverseOfForward: inverse ∘ forward = identity on every pose the joints
// can take.
func TestInverseOfForward(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := aLinkage(t)
		want := aPose(t, l)
		got, ok := l.Inverse(l.Forward(want))
		d := max(math.Abs(float64(got.Boom-want.Boom)), math.Abs(float64(got.Stick-want.Stick)), math.Abs(float64(got.Bucket-want.Bucket)))
		if !ok || !(d <= 1e-7) { // rad: acos near the folded stick doubles the lost digits
			t.Fatalf("Inverse(Forward(%v)) = %v, %v", want, got, ok)
		}
	})
}

// TestCylindersAreInverse: the length of the angle of a length is the length.
func TestCylindersAreInverse(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.Float64Range(0.001, 0.999).Draw(t, "share of the stroke")
		at := func(k Stroke) unit.Length { return k.Shortest + (k.Longest-k.Shortest)*unit.Length(s) }
		for _, c := range []Cylinder{smallBoom, smallStick} {
			if got := c.Length(c.Angle(at(c.Stroke))); !(math.Abs(float64(got-at(c.Stroke))) <= 1e-9) { // m
				t.Fatalf("Length(Angle(%v)) = %v", at(c.Stroke), got)
			}
		}
		if got := smallBucket.Length(smallBucket.Angle(at(smallBucket.Stroke))); !(math.Abs(float64(got-at(smallBucket.Stroke))) <= 1e-9) {
			t.Fatalf("bucket: Length(Angle(%v)) = %v", at(smallBucket.Stroke), got)
		}
	})
}

// aLinkage draws an arm from mini to large; the limits are common practice.
func aLinkage(t *rapid.T) Linkage {
	f := func(lo, hi float64, name string) float64 { return rapid.Float64Range(lo, hi).Draw(t, name) }
	boom := f(1.5, 6.5, "boom")
	stick := boom * f(0.42, 0.6, "stick")
	return Linkage{
		Boom: unit.Length(boom), Stick: unit.Length(stick), Bucket: unit.Length(stick * f(0.4, 0.6, "bucket")),
		FootForward: unit.Length(boom * f(-0.02, 0.12, "foot forward")), FootHeight: unit.Length(boom * f(0.28, 0.45, "foot height")),
		BoomAngles:   Range{unit.Angle(f(-55, -27, "boom low")) * unit.Degree, unit.Angle(f(45, 65, "boom high")) * unit.Degree},
		StickAngles:  Range{unit.Angle(f(-160, -145, "stick low")) * unit.Degree, unit.Angle(f(-35, -25, "stick high")) * unit.Degree},
		BucketAngles: Range{unit.Angle(f(-165, -140, "bucket low")) * unit.Degree, unit.Angle(f(20, 45, "bucket high")) * unit.Degree},
	}
}

// slowReach says by trying bucket angles that the teeth reach a place with the
// pin above them: a referee that shares only Inverse with the envelope.
func slowReach(l Linkage, p geom.Vector, steps int) bool {
	for i := 0; i <= steps; i++ {
		th := unit.Angle(-math.Pi * float64(i) / float64(steps))
		if _, ok := l.Inverse(Teeth{unit.Length(p.X), unit.Length(p.Y), th}); ok {
			return true
		}
	}
	return false
}

// TestSpanAgainstReferee: inside the span every place is reached, just beyond
// its far end none is; a place that the referee reaches is in reach.
func TestSpanAgainstReferee(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := aLinkage(t)
		e, fault := l.Envelope()
		if fault != nil {
			t.Fatal(fault)
		}
		depth := unit.Length(rapid.Float64Range(-0.3, 0.99).Draw(t, "share")) * e.MaxDepth()
		s, ok := e.Span(depth)
		if !ok {
			t.Fatalf("no floor at %v of %v", depth, e.MaxDepth())
		}
		y := float64(-depth - l.FootHeight)
		share := rapid.Float64Range(0.001, 0.999).Draw(t, "along")
		inside := float64(s.Near + (s.Far-s.Near)*unit.Length(share) - l.FootForward)
		if !slowReach(l, geom.Vector{X: inside, Y: y}, 4000) {
			t.Fatalf("Span(%v) = %v, but %.4f from the foot is not reached", depth, s, inside)
		}
		for _, beyond := range []float64{1e-3, 0.05, 0.5} {
			if x := float64(s.Far-l.FootForward) + beyond; slowReach(l, geom.Vector{X: x, Y: y}, 400) {
				t.Fatalf("Span(%v) = %v, but %.4f from the foot is reached", depth, s, x)
			}
		}
		if x := float64(s.Near-l.FootForward) - 1e-3; s.Near > 0 && slowReach(l, geom.Vector{X: x, Y: y}, 400) {
			t.Fatalf("Span(%v) = %v, but %.4f from the foot is reached", depth, s, x)
		}
	})
}

// TestTheSheetPromisesLess: what the few figures of a sheet promise, the machine
// that the sheet is of can do.
func TestTheSheetPromisesLess(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := aLinkage(t)
		e, _ := l.Envelope()
		ground, ok := e.Span(0)
		if !ok {
			t.Fatal("no floor at the ground")
		}
		sheet := Sheet{MaxReach: ground.Far, MaxDepth: e.MaxDepth()}
		if rapid.Bool().Draw(t, "level bottom told") {
			sheet.LevelDepth = levelBottom(e)
		}
		cautious, fault := sheet.Envelope()
		if fault != nil {
			t.Fatal(fault)
		}
		depth := unit.Length(rapid.Float64Range(-0.3, 1).Draw(t, "share")) * e.MaxDepth()
		less, ok := cautious.Span(depth)
		if !ok {
			return
		}
		s, ok := e.Span(depth)
		const tol = 1e-9 // m: the same figure by two ways
		if !ok || !(s.Near <= less.Near+tol) || !(less.Far <= s.Far+tol) {
			t.Fatalf("at %v the sheet promises %v, the machine does %v, %v", depth, less, s, ok)
		}
	})
}

// levelBottom is the depth of a level bottom 2.44 m (8 ft) long, 0 for none.
func levelBottom(e Envelope) unit.Length {
	low, high := unit.Length(0), e.MaxDepth()
	for high-low > unit.Millimetre {
		middle := (low + high) / 2
		if s, ok := e.Span(middle); ok && s.Far-s.Near >= 8*unit.Foot {
			low = middle
		} else {
			high = middle
		}
	}
	return low
}
