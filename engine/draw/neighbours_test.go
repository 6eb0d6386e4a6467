package draw_test

import (
	"errors"
	"strings"
	"testing"

	"spadework/engine/draw"
	"spadework/engine/geom"
	"spadework/engine/plan"
)

const neighbours = cutJob + `
[[utility]]
id = "G"
kind = "gas"
line = [[-500, 3], [500, 3]]
[[structure]]
id = "Shed"
outline = [[2, -8], [8, -8], [8, -3], [2, -3]]
[[obstacle]]
id = "Heap"
outline = [[24, 8], [30, 8], [30, 12], [24, 12]]
height = 3
[[keepout]]
id = "Roots"
outline = [[30, -9], [36, -9], [36, -4], [30, -4]]
reason = "old oak"
[[overhead]]
id = "OH"
line = [[14, -60], [14, 60]]
voltage = "20 kV"
height = 7
`

func noFiles(string) ([]byte, error) { return nil, errors.New("no files") }

// TestNeighboursAreDrawnAndNamed: what stands on the site is on its plan, lines
// that run off the paper end at its edge.
func TestNeighboursAreDrawnAndNamed(t *testing.T) {
	p := planned(t, neighbours, noFiles)
	for _, f := range sitePapers {
		s := draw.SitePlan(p, voice(p), f)
		found := words(s)
		for _, id := range []string{"G", "Shed", "Heap", "Roots", "OH"} {
			if found[id] < 1 {
				t.Errorf("on %v: %s is not named", f, id)
			}
		}
		if s.Unplaced > 0 {
			t.Errorf("on %v: %d names without a place", f, s.Unplaced)
		}
		for _, it := range s.Items {
			for _, q := range it.Points {
				if it.Pen == draw.Service && it.Text == "" && !(q.X > -1e-9 && q.X < s.Width+1e-9 && q.Y > -1e-9 && q.Y < s.Height+1e-9) {
					t.Errorf("on %v: a service reaches %v, off the paper", f, q)
				}
			}
		}
	}
}

// TestKeepOffIsHatched: every stroke of the hatching lies inside its outline.
func TestKeepOffIsHatched(t *testing.T) {
	p := planned(t, neighbours, noFiles)
	s := draw.SitePlan(p, voice(p), wide)
	box, strokes := geom.EmptyBox(), 0
	for _, it := range s.Items {
		if it.Pen == draw.Caution && it.Text == "" {
			box = box.Union(geom.BoxOf(it.Points...))
			strokes++
		}
	}
	// 6 m by 5 m; four sides and at least a stroke.
	if ratio := box.Width() / box.Height(); !(ratio > 1.2-1e-9 && ratio < 1.2+1e-9) || strokes < 5 {
		t.Errorf("%d caution strokes in a box of %.3f by %.3f, want over 4 in 6 to 5", strokes, box.Width(), box.Height())
	}
}

// TestABareJobIsStillDrawn: no ground, no set-up, nothing but one dig.
func TestABareJobIsStillDrawn(t *testing.T) {
	text, _, _ := strings.Cut(cutJob, "[[setup]]")
	text = strings.Replace(text, "[ground]\nlevel = 10\n", "", 1)
	p := planned(t, text, noFiles)
	if s := draw.SitePlan(p, voice(p), wide); words(s)["Q"] != 1 {
		t.Errorf("the plan says %v", words(s))
	}
	for _, s := range uprights(t, p) {
		if words(s.Scene)["bottom 8.000"] != 1 {
			t.Errorf("%s says %v", s.name, words(s.Scene))
		}
	}
	empty := &plan.Plan{Job: p.Job}
	empty.Job.Benchmarks = nil
	if s := draw.SitePlan(empty, voice(empty), wide); words(s)["N"] != 1 {
		t.Errorf("the plan of nothing says %v", words(s))
	}
}
