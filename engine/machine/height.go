package machine

import (
	"math"

	"spadework/engine/geom"
	"spadework/engine/unit"
)

// MaxDepth is the greatest depth at which a floor can be cut, to a tenth of a
// millimetre; 0 for an unknown envelope or one that reaches no floor below the
// ground. Of a linkage it is where the teeth are deepest; of a sheet, down to
// where floors are counted on.
func (e Envelope) MaxDepth() unit.Length {
	switch {
	case e.linkage != nil:
		return e.linkage.deepest()
	case e.sheet != nil:
		return max(0, e.sheet.deepest())
	}
	return 0
}

// deepest looks for the last depth with a floor between the ground and the
// length of the whole arm, by halving: the depths with a floor are one stretch.
func (l Linkage) deepest() unit.Length {
	low, high := unit.Length(0), l.Boom+l.Stick+l.Bucket
	if _, ok := l.floor(low); !ok {
		return 0
	}
	for high-low > unit.Millimetre/20 {
		middle := (low + high) / 2
		if _, ok := l.floor(middle); ok {
			low = middle
		} else {
			high = middle
		}
	}
	return low
}

// emptying is the bucket's angle from horizontal as it empties: teeth straight
// down or turned in by up to 30° (common practice).
var emptying = Range{-2 * math.Pi / 3, -math.Pi / 2}

// Dump is the distances at which a bucket can empty with its teeth at a height
// over the ground or higher, looked at each 50 mm from that height up: the
// bucket's pin is so high that the whole bucket turns clear. ok is false where it
// cannot or nothing is known of it. A sheet's dump height is counted on to three
// quarters, from the dump reach to 7 % beyond: lower down the arm stretches
// farther.
func (e Envelope) Dump(height unit.Length) (s Span, ok bool) {
	if e.linkage != nil {
		return e.linkage.dump(height)
	}
	if e.sheet == nil || !(e.sheet.DumpHeight > 0) || !(e.sheet.DumpReach > 0) || !(height <= dumpHeightShare*e.sheet.DumpHeight) {
		return Span{}, false
	}
	return Span{e.sheet.DumpReach, dumpFar * e.sheet.DumpReach}, true
}

// dump is Dump of a linkage. With no bucket left the arm's end is the bucket's
// pin, and the bucket only has to be able to hang from it.
func (l Linkage) dump(height unit.Length) (s Span, ok bool) {
	m := l.arm(emptying)
	m.l3 = 0
	for h := height; h <= l.Boom+l.Stick+l.FootHeight; h += columnStep {
		higher, can := l.across(m, float64(h+l.Bucket-l.FootHeight))
		switch {
		case can && !ok:
			s, ok = higher, true
		case can:
			s = Span{min(s.Near, higher.Near), max(s.Far, higher.Far)}
		}
	}
	return s, ok
}

// How a sheet's dump figures are read so that the machine itself does at least
// as much. Assumed by this program, held like middleShare.
const (
	dumpHeightShare = 0.75
	dumpFar         = 1.07
)

// Highest is a height over the ground that no part of the arm passes, with its
// teeth stretched up; 0 if not known, as it is by a sheet. Where the arm could
// lean back over the foot it is the length of the whole arm.
func (e Envelope) Highest() unit.Length {
	l := e.linkage
	if l == nil {
		return 0
	}
	a := float64(l.BoomAngles.High)
	stick := max(float64(l.StickAngles.Low)+a, min(float64(l.StickAngles.High)+a, math.Pi/2))
	pin := polar(float64(l.Boom), a)
	wrist := pin.Plus(polar(float64(l.Stick), stick))
	if a > math.Pi/2 || wrist.X < float64(l.Bucket) {
		return l.Boom + l.Stick + l.Bucket + l.FootHeight
	}
	return unit.Length(max(pin.Y, wrist.Y+float64(l.Bucket))) + l.FootHeight
}

// Farthest is a distance from the swing centre that no part of the arm passes;
// 0 if not known.
func (e Envelope) Farthest() unit.Length {
	switch {
	case e.linkage != nil:
		return e.linkage.Boom + e.linkage.Stick + e.linkage.Bucket + e.linkage.FootForward
	case e.sheet != nil:
		return overReach * e.sheet.farthest()
	}
	return 0
}

// farthest is the greatest reach that a sheet tells.
func (s Sheet) farthest() unit.Length {
	far := s.MaxReach
	for _, f := range s.Floors {
		far = max(far, f.Far)
	}
	return far
}

// overReach is the greatest reach, at the height of the foot, over that at the
// ground, counted on as at most 5 %: the foot is seldom higher than 30 % of it. Of the published
// small linkage it is 1.038; with a foot 0.3 of the reach high 1.044.
const overReach = 1.05

// wallStep is the grid over which WallDepth looks.
const wallStep = 50 * unit.Millimetre

// WallDepth is the greatest depth of a vertical wall, looked for at distances
// 50 mm apart: the teeth go down along it with no pin of the arm beyond it. Of a
// sheet it is the sheet's figure. ok is false where nothing is known of it.
func (e Envelope) WallDepth() (d unit.Length, ok bool) {
	if e.linkage == nil {
		if e.sheet == nil || e.sheet.WallDepth == 0 {
			return 0, false
		}
		return e.sheet.WallDepth, true
	}
	l := e.linkage
	for x := l.Boom / 2; x <= l.Boom+l.Stick+l.Bucket; x += wallStep {
		d = max(d, l.wall(x))
	}
	return d, d > 0
}

// facing is the bucket's angle while it cuts a wall: its pin before the teeth.
var facing = Range{-math.Pi / 2, 0}

// wall is how deep a wall can be cut at a distance from the boom foot pin.
func (l Linkage) wall(x unit.Length) unit.Length {
	m := l.arm(facing)
	m.front = float64(x)
	deep := unit.Length(0)
	cuts := func(d unit.Length) bool { return m.reaches(geom.Vector{X: float64(x), Y: float64(-d - l.FootHeight)}) }
	if !cuts(0) {
		return 0
	}
	for cuts(deep + wallStep) {
		deep += wallStep
	}
	for step := wallStep / 2; step > unit.Millimetre/20; step /= 2 {
		if cuts(deep + step) {
			deep += step
		}
	}
	return deep
}
