package plan_test

import (
	"fmt"
	"math"
	"strings"
	"testing"
)

// A heap fits where the ground straight out from the set-back to whatever is in the way
// takes its base, and does not a millimetre closer: all that a job can tell of.
func TestHeapsKeepOffWhatIsThere(t *testing.T) {
	alone := measured(t, yard+footingAt("F1", "[0, 0]", "")).Digs[0].Earth.Heap
	need := 1.5 + float64(alone.Setback+alone.Base) // from the middle of the dig
	box := func(y float64) string {
		return fmt.Sprintf("outline = [[-20, %[1]f], [20, %[1]f], [20, %[2]f], [-20, %[2]f]]\n", y, y+3)
	}
	// What lies under or over a line is kept off by what the rules say of it.
	lines := measured(t, yard+footingAt("F1", "[0, 0]", "")+service("[[90, 90], [99, 90]]", "")+overhead("[[90, 80], [99, 80]]")).Bounds
	zone, clearance := float64(lines.Zones[0].Stop), float64(lines.Clearances[0].Distance)
	if !(zone > 0.5 && clearance > 3) {
		t.Fatalf("zone %g m, clearance %g m, want some", zone, clearance)
	}
	for _, c := range []struct {
		name string
		with func(y float64) string
		kept float64 // from y on that is still closed towards the dig
	}{
		{"keep-out", func(y float64) string { return "[[keepout]]\nid = \"Z\"\nreason = \"test\"\n" + box(y) }, 0},
		{"structure", func(y float64) string { return "[[structure]]\nid = \"Z\"\n" + box(y) }, 0},
		{"obstacle", func(y float64) string { return "[[obstacle]]\nid = \"Z\"\nheight = 1\n" + box(y) }, 0},
		{"declared heap", func(y float64) string { return "[[heap]]\nid = \"Z\"\n" + box(y) }, 0},
		{"zone of a service", func(y float64) string { return service(fmt.Sprintf("[[-20, %[1]f], [20, %[1]f]]", y), "") }, zone},
		{"exposed service", func(y float64) string {
			return service(fmt.Sprintf("[[-20, %[1]f], [20, %[1]f]]", y), "exposed = { by = \"the foreman\", top = -1 }\n")
		}, zone},
		{"power line", func(y float64) string { return overhead(fmt.Sprintf("[[-20, %[1]f], [20, %[1]f]]", y)) }, clearance},
		{"another dig", func(y float64) string { return footingAt("F2", fmt.Sprintf("[0, %f]", y+1.5), "") }, float64(alone.Setback)},
		{"sides of another dig", func(y float64) string { return footingAt("F2", fmt.Sprintf("[0, %f]", y+3.5), "sides = \"1:1\"\n") }, float64(alone.Setback)},
		{"machine", func(y float64) string {
			return fmt.Sprintf("[[stand]]\nid = \"Z\"\nmachine = \"M\"\nat = [0, %f]\n", y)
		}, 1.5},
		{"end of the allowed ground", func(y float64) string {
			return fmt.Sprintf("[allowed]\nmachine = [[-30, -30], [30, -30], [30, %[1]f], [-30, %[1]f]]\n", y)
		}, 0},
	} {
		for _, more := range []float64{0.001, -0.001} {
			text := strings.Replace(yard, "guidance = \"rod\"\n", "guidance = \"rod\"\nfootprint = [2, 3]\n", 1)
			text += footingAt("F1", "[0, 0]", "") + shut() + c.with(need+c.kept+more)
			h := measured(t, text).Digs[0].Earth.Heap
			if h.Room == nil || h.Fits != (more > 0) || !(math.Abs(float64(*h.Room-alone.Base)-more) < 1e-5) {
				t.Errorf("%s %+g m off: heap %+v, want fits %v", c.name, more, h, more > 0)
			}
		}
	}
}

// Two heaps do not take the same ground: where both fit alone and not together, the
// later one does not.
func TestHeapsKeepOffOneAnother(t *testing.T) {
	alone := measured(t, yard+footingAt("F1", "[0, 0]", "")).Digs[0].Earth.Heap
	for _, c := range []struct {
		heaps float64
		fits  bool
	}{{1.5, false}, {1.99, false}, {2.01, true}} {
		y := 3 + float64(2*alone.Setback) + c.heaps*float64(alone.Base)
		p := measured(t, yard+footingAt("F1", "[0, 0]", "")+footingAt("F2", fmt.Sprintf("[0, %f]", y), "")+shut()+
			closed("Y", [4]float64{-9, y + 2, 9, y + 9})+closed("Z", [4]float64{2.2, y - 1.4, 9, y + 1.4})+closed("W", [4]float64{-9, y - 1.4, -2.2, y + 1.4}))
		one, two := p.Digs[0].Earth.Heap, p.Digs[1].Earth.Heap
		if !one.Fits || two.Fits != c.fits {
			t.Errorf("%g heaps of room: %+v and %+v, want the second fits %v", c.heaps, one, two, c.fits)
		}
	}
}

// shut closes all sides of a footing about the origin but that towards +y.
func shut() string {
	return closed("K1", [4]float64{-20, -9, 20, -2}) + closed("K2", [4]float64{2.2, -9, 9, 1}) + closed("K3", [4]float64{-9, -9, -2.2, 1})
}

// closed is a keep-out from a corner to the one across.
func closed(id string, b [4]float64) string {
	return fmt.Sprintf("[[keepout]]\nid = \"%s\"\nreason = \"test\"\noutline = [[%[2]f, %[3]f], [%[4]f, %[3]f], [%[4]f, %[5]f], [%[2]f, %[5]f]]\n",
		id, b[0], b[1], b[2], b[3])
}

func service(line, more string) string {
	return "[[utility]]\nid = \"Z\"\nkind = \"water\"\nsize = 0.1\nline = " + line + "\n" + more
}

func overhead(line string) string {
	return "[[overhead]]\nid = \"Z1\"\nvoltage = \"20 kV\"\nheight = 8\nline = " + line + "\n"
}
