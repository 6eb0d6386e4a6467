package sheet

import (
	"spadework/engine/draw"
	"spadework/engine/guard"
)

// Trends adds what each machine and operator leave, with its charts in words and
// what the shots speak for.
func (s *Sheet) Trends(trends []guard.Trend) {
	if len(trends) == 0 {
		return
	}
	s.heading("sheet.trends")
	for _, t := range trends {
		for i, m := range t.Text() {
			if i == 0 {
				s.line(s.Say(m) + ".")
			} else {
				s.paragraph(s.Say(m) + ".")
			}
		}
		if len(t.Stands) > 1 {
			for _, stand := range t.Stands {
				s.paragraph(s.Say(stand.Text()) + ".")
			}
		}
	}
	s.paragraph(s.Say(guard.ChartsText()) + ".")
}

// Sizes of a chart in millimetres, of which a phone shows the whole.
const (
	chartWidth, chartHeight = 160, 80
	chartType               = 3
)

// TrendChart is the moving average of a trend as SVG, with its limits; a shot at
// which a chart signals stands in a ring.
func TrendChart(t guard.Trend, v View) []byte {
	points := make([]draw.ChartPoint, len(t.Shots))
	for i, s := range t.Shots {
		points[i] = draw.ChartPoint{Name: placeOf(v, s.Excavation, s.Part, s.Point, s.Station), Value: s.Ewma, Alarm: s.Signals}
	}
	scene := draw.ControlChart(points, t.Limits(), draw.Voice(v), draw.Frame{Width: chartWidth, Height: chartHeight, Type: chartType})
	return SVG(scene, v.Text("sheet.trend_chart")+" "+t.Machine+", "+t.Operator)
}
