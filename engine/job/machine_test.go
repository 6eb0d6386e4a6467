package job_test

import (
	"math"
	"testing"

	"spadework/engine/geom"
	"spadework/engine/job"
	"spadework/engine/machine"
	"spadework/engine/unit"
)

// publishedJob is the research model's linkage by its cylinders (docs/checks.md).
const publishedJob = `
[job]
name = "A linkage"
units = "m"
[[machine]]
id = "M1"
type = "backhoe_loader"
swing_limit = 95
footprint = [1.0, 1.8]
swing_behind = 0.4
outriggers = 1.6
blade = "front"
blade_out = "30 cm"
buckets = [{ id = "B", width = "300 mm", volume = 0.04 }]
[machine.linkage]
boom = 2.050
stick = 1.050
bucket = 0.567
boom_foot_height = 0.95737
boom_cylinder = { base = [0.135, -0.264], rod = [1.025, 0.278], shortest = 0.905, longest = 1.305 }
stick_cylinder = { base = [-1.073, 0.737], rod = [-0.251, 0.158], shortest = 1.046, longest = 1.556 }
bucket_cylinder = { base = [-1.184, 0.320], idler = [-0.170, 0], idler_link = 0.240, connecting_link = 0.240, pin = [-0.014, 0.164], shortest = 0.840, longest = 1.260 }
`

// TestPublishedLinkageThroughTheJobFile: deepest teeth 1.594803 m, farthest on
// the ground 3.446749 m (a research model's own answers).
func TestPublishedLinkageThroughTheJobFile(t *testing.T) {
	doc, fault := job.Parse("job.toml", []byte(publishedJob))
	if fault != nil {
		t.Fatal(fault)
	}
	j, fault := doc.Decode(job.Files{})
	if fault != nil {
		t.Fatal(fault)
	}
	m := j.Machines[0].Body()
	if got := m.Envelope.MaxDepth(); !(math.Abs(float64(got)-1.594803) <= 2e-4) { // m: angles printed to 1e-4 rad
		t.Errorf("MaxDepth = %.6f m, want 1.594803", float64(got))
	}
	if s, ok := m.Envelope.Span(0); !ok || !(math.Abs(float64(s.Far)-3.446749) <= 1e-4) {
		t.Errorf("Span(0) = %v, %v, want far 3.446749", s, ok)
	}
	want := machine.Base{Length: 1.8, Width: 1.0, Behind: 0.4, Blade: machine.FrontBlade, BladeOut: 0.3, Outriggers: 1.6}
	if m.Base != want {
		t.Errorf("Base = %+v, want %+v", m.Base, want)
	}
	north := machine.Place{}
	if !m.Swing.Turns(north, geom.Point{X: 1, Y: 0.08}) || m.Swing.Turns(north, geom.Point{X: 1, Y: 0.09}) { // tan 5° = 0.0875
		t.Error("a swing of 95° each way about straight back does not end at 5° before the side")
	}
	if len(m.Buckets) != 1 || m.Buckets[0].Width != 300*unit.Millimetre {
		t.Errorf("Buckets = %+v", m.Buckets)
	}
}
