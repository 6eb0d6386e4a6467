package machine

import (
	"math"
	"testing"

	"spadework/engine/geom"
	"spadework/engine/unit"
)

// small is a published linkage with its own answers (research model, small
// class; docs/checks.md): pins in metres, ground 0.95737 m under the boom foot.
var (
	smallBoom = Cylinder{Stroke: Stroke{0.905, 1.305}, Base: geom.Vector{X: 0.135, Y: -0.264}, Rod: geom.Vector{X: 1.025, Y: 0.278}}
	// In the frame of the stick's pin: 2.050 m along the boom.
	smallStick = Cylinder{Stroke: Stroke{1.046, 1.556}, Base: geom.Vector{X: 0.977 - 2.050, Y: 0.737},
		Rod: geom.Vector{X: -0.251, Y: 0.158}, Folds: true}
	// In the frame of the bucket pin: 1.050 m along the stick.
	smallBucket = FourBar{Stroke: Stroke{0.840, 1.260}, Base: geom.Vector{X: -0.134 - 1.050, Y: 0.320},
		Idler: geom.Vector{X: 0.880 - 1.050}, IdlerLink: 0.240, Connecting: 0.240, Pin: geom.Vector{X: -0.014, Y: 0.164}}
	small = Linkage{Boom: 2.050, Stick: 1.050, Bucket: 0.567, FootHeight: 0.95737,
		BoomAngles: smallBoom.Angles(), StickAngles: smallStick.Angles(), BucketAngles: smallBucket.Angles()}
)

// koivo is the arm of Koivo et al., J. Aerospace Eng. 9(1) 1996 (lengths from
// memory, outputs worked exactly from them).
var koivo = Linkage{Boom: 5.16, Stick: 2.59, Bucket: 1.33, FootForward: -0.05}

// The six pairs of the published linkage, each way, to 0.1 mm of stroke: the
// angles are printed to 1e-4 rad.
func TestPublishedCylinders(t *testing.T) {
	const tol = 1e-4 // m; the pairs were recomputed to 0.1 mm
	type drive interface {
		Angle(unit.Length) unit.Angle
		Length(unit.Angle) unit.Length
	}
	for _, c := range []struct {
		name   string
		drive  drive
		length unit.Length
		angle  unit.Angle
	}{
		{"boom", smallBoom, 0.905, -0.4737}, {"boom", smallBoom, 1.305, 1.0923},
		{"stick", smallStick, 1.046, -0.5103}, {"stick", smallStick, 1.556, -2.5848},
		{"bucket", smallBucket, 0.840, 0.7839}, {"bucket", smallBucket, 1.260, -2.8659},
	} {
		if got := c.drive.Angle(c.length); !(math.Abs(float64(got-c.angle)) <= 5e-5) { // half the last printed digit
			t.Errorf("%s: Angle(%v) = %.6f rad, want %.4f (tol 5e-5)", c.name, c.length, float64(got), float64(c.angle))
		}
		if got := c.drive.Length(c.angle); !(math.Abs(float64(got-c.length)) <= tol) {
			t.Errorf("%s: Length(%.4f) = %.6f m, want %.3f (tol 0.1 mm)", c.name, float64(c.angle), float64(got), float64(c.length))
		}
	}
}

// Places of the teeth, printed to 1e-6 m, but the second pose to 1e-5: by hand it
// is (2.5598978, -1.0430307).
func TestPublishedForward(t *testing.T) {
	deg := unit.Degree
	for _, c := range []struct {
		name string
		l    Linkage
		pose Pose
		x, y float64
		tol  float64 // m
	}{
		{"small", small, Pose{0.5, -1, -1}, 2.760614, -0.086154, 1e-6},
		{"small", small, Pose{0.2, -1.2, -0.6}, 2.559900, -1.043030, 5e-6},
		{"koivo", koivo, Pose{40 * deg, -90 * deg, -40 * deg}, 5.617609, 0.002729, 1e-6},
		{"koivo", koivo, Pose{-10 * deg, -60 * deg, -50 * deg}, 5.302440, -4.481642, 1e-6},
	} {
		got := c.l.Forward(c.pose)
		if !(math.Abs(float64(got.X)-c.x) <= c.tol && math.Abs(float64(got.Y)-c.y) <= c.tol) {
			t.Errorf("%s: Forward(%v) = (%.6f, %.6f), want (%.6f, %.6f)", c.name, c.pose, got.X, got.Y, c.x, c.y)
		}
	}
}

// Deepest and farthest teeth of the published linkage, at the angles of its
// cylinders as printed.
func TestPublishedReach(t *testing.T) {
	l := small
	l.BoomAngles, l.StickAngles, l.BucketAngles = Range{-0.4737, 1.0923}, Range{-2.5848, -0.5103}, Range{-2.8659, 0.7839}
	e, fault := l.Envelope()
	if fault != nil {
		t.Fatal(fault)
	}
	if got := e.MaxDepth(); !(math.Abs(float64(got)-1.594803) <= 1e-4) { // 0.1 mm, as MaxDepth promises
		t.Errorf("MaxDepth = %.6f m, want 1.594803 (tol 0.1 mm)", float64(got))
	}
	s, ok := e.Span(1.594802)
	if middle := float64(s.Near+s.Far) / 2; !ok || !(math.Abs(middle-1.824267) <= 1e-3) { // 1 µm above the deepest the span is 3.6 mm long
		t.Errorf("Span(1.594802) = %v about %.6f, want about 1.824267", s, middle)
	}
	if s, ok := e.Span(0); !ok || !(math.Abs(float64(s.Far)-3.446749) <= 1e-6) { // m, printed to 1e-6
		t.Errorf("Span(0) = %v, want far 3.446749", s)
	}
	if s, ok := e.Span(1.5949); ok {
		t.Errorf("Span(1.5949) = %v below the deepest teeth", s)
	}
}

// First-order error of angle sensors (worked exactly; docs/checks.md).
func TestPublishedSensorError(t *testing.T) {
	deg := unit.Degree
	mm := func(l unit.Length) float64 { return math.Round(float64(l)*1e4) / 10 }
	got := koivo.SensorError(Pose{-10 * deg, -60 * deg, -50 * deg}, 0.1*deg)
	if mm(got.Up) != 9.1 || mm(got.Along) != 5.0 {
		t.Errorf("SensorError(koivo) = %.1f and %.1f mm, want 9.1 and 5.0", mm(got.Up), mm(got.Along))
	}
	got = small.SensorError(Pose{0.5, -1, -1}, 0.1*deg)
	if mm(got.Up) != 3.5 || mm(got.Along) != 2.2 {
		t.Errorf("SensorError(small) = %.1f and %.1f mm, want 3.5 and 2.2", mm(got.Up), mm(got.Along))
	}
	if got := mm(TiltError(6, 0.1*deg)); got != 10.5 {
		t.Errorf("TiltError(6 m, 0.1°) = %.1f mm, want 10.5", got)
	}
}
