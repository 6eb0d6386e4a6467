package draw_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"spadework/engine/draw"
	"spadework/engine/geom"
	"spadework/engine/phrase"
	"spadework/engine/unit"
)

var (
	chartPaper = draw.Frame{Width: 180, Height: 90, Type: 2.6}
	inches     = draw.Voice{Language: phrase.English, Style: unit.Style{System: unit.Imperial, Face: unit.FaceInches, Fraction: 8}}
	metres     = draw.Voice{Language: phrase.Spanish, Style: unit.Style{System: unit.Metric, Millimetres: true, Comma: true}}
)

// rings counts the closed outlines of a scene with more corners than a sign.
func rings(s draw.Scene) int {
	n := 0
	for _, it := range s.Items {
		if it.Closed && len(it.Points) > 8 {
			n++
		}
	}
	return n
}

func TestOnlyWhatIsOutStandsInARingWithItsWord(t *testing.T) {
	shots := []draw.Deviation{
		{Name: "F1", Off: 4 * unit.Millimetre, Above: 10 * unit.Millimetre, Below: 10 * unit.Millimetre, Judged: true},
		{Name: "F2", Off: -18 * unit.Millimetre, Above: 10 * unit.Millimetre, Below: 10 * unit.Millimetre, Judged: true},
		{Name: "F3", Off: 25 * unit.Millimetre, Above: 10 * unit.Millimetre, Below: 10 * unit.Millimetre, Judged: true},
		{Name: "F4", Off: 40 * unit.Millimetre}, // no tolerance: nothing says that it is out
		{Name: "F5", Off: unit.Length(math.NaN()), Judged: true},
	}
	s := draw.DeviationPlot(shots, metres, chartPaper)
	found := words(s)
	if rings(s) != 2 || found["18 mm de más"] != 1 || found["falta 25 mm"] != 1 {
		t.Errorf("%d rings and %v, want two: 18 mm de más, falta 25 mm", rings(s), found)
	}
	if s.Unplaced != 1 {
		t.Errorf("%d left out, want the one that is no number", s.Unplaced)
	}
	for i := 1; i <= 5; i++ {
		if found[fmt.Sprintf("F%d", i)] != 1 {
			t.Errorf("F%d is not named", i)
		}
	}
}

func TestAControlChartTellsItsLimitsAndAlarms(t *testing.T) {
	points := []draw.ChartPoint{{Name: "10:10", Value: unit.Millimetre}, {Name: "11:02", Value: -2 * unit.Millimetre}, {Name: "13:40", Value: -12 * unit.Millimetre, Alarm: true}}
	s := draw.ControlChart(points, []unit.Length{6 * unit.Millimetre, -6 * unit.Millimetre}, metres, chartPaper)
	found := words(s)
	if rings(s) != 1 || found["límite 6,0 mm"] != 2 || found["12 mm"] == 0 {
		t.Errorf("%d rings and %v, want one, both limits of 6,0 mm and 12 mm", rings(s), found)
	}
}

// TestChartsKeepTheLawOfDrawings: whatever the shots, no text leaves the paper or
// lies on another, and what is drawn lies in the frame.
func TestChartsKeepTheLawOfDrawings(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var shots []draw.Deviation
		var points []draw.ChartPoint
		for i := range rapid.IntRange(0, 40).Draw(t, "count") {
			off := unit.Length(rapid.Float64Range(-0.3, 0.3).Draw(t, "off"))
			shots = append(shots, draw.Deviation{Name: fmt.Sprintf("F%d", i+1), Off: off, Expanded: unit.Length(rapid.Float64Range(0, 0.02).Draw(t, "u")), Above: 0.01, Below: 0.02, Judged: true})
			points = append(points, draw.ChartPoint{Name: fmt.Sprintf("%d:00", i), Value: off, Alarm: i%3 == 0})
		}
		for _, v := range []draw.Voice{inches, metres} {
			checkLaw(t, draw.DeviationPlot(shots, v, chartPaper))
			checkLaw(t, draw.ControlChart(points, []unit.Length{0.006, -0.006}, v, chartPaper))
		}
	})
}

func checkLaw(t *rapid.T, s draw.Scene) {
	var boxes []geom.Box
	for _, it := range s.Items {
		for _, p := range it.Points {
			if !(p.X >= -1 && p.Y >= -1 && p.X <= s.Width+1 && p.Y <= s.Height+1) { // a sign's half
				t.Fatalf("a %s item at %v leaves %g × %g", it.Pen, p, s.Width, s.Height)
			}
		}
		if it.Text == "" {
			continue
		}
		b := covers(it)
		if !(b.Min.X >= 0 && b.Min.Y >= 0 && b.Max.X <= s.Width && b.Max.Y <= s.Height) {
			t.Fatalf("%q leaves the frame", it.Text)
		}
		for _, o := range boxes {
			if o.Meets(b) {
				t.Fatalf("%q lies on another text", it.Text)
			}
		}
		boxes = append(boxes, b)
	}
}

// TestAFieldIsTrueToItsAmounts: the cross of 20 mm stands twice as far from the
// bottom as that of 10 mm.
func TestAFieldIsTrueToItsAmounts(t *testing.T) {
	s := draw.DeviationPlot([]draw.Deviation{{Name: "a", Off: 0.010}, {Name: "b", Off: 0.020}}, metres, chartPaper)
	var bottom float64
	var ys []float64
	for _, it := range s.Items {
		if it.Pen == draw.Bottom {
			bottom = it.Points[0].Y
		}
		if it.Pen == draw.Ink && len(it.Points) == 2 && it.Text == "" && it.Points[0].X != it.Points[1].X {
			ys = append(ys, it.Points[0].Toward(it.Points[1], 0.5).Y)
		}
	}
	if len(ys) != 4 || !(math.Abs((bottom-ys[2])/(bottom-ys[0])-2) < 1e-9) {
		t.Errorf("crosses at %v over the bottom at %g, want twice as far", ys, bottom)
	}
	if !strings.Contains(fmt.Sprint(words(s)), "falta") {
		t.Error("the axis does not say to dig")
	}
}
