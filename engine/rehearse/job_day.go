package rehearse

import (
	"math"

	"spadework/engine/geom"
	"spadework/engine/plan"
)

// hoursOfShift is a shift's length: common practice.
const hoursOfShift = 8

// ForJob is a day of bumps on a site of the job's size: as many digs as the job
// has in one day, its narrowest tolerance, the jumps and tilts that [risk] tells,
// closes as [closes] tells, on as many of its placed benchmarks as it has, four at
// most. What the job leaves out is the reference scenario's.
func ForJob(p *plan.Plan) BumpDay {
	s := ReferenceBumps()
	s.Hours = hoursOfShift
	if h := p.Job.Closes.Hours; h > 0 {
		s.Hours = h
	}
	if w := float64(p.Job.Risk.Twist); w > 0 {
		s.Twist = w
	}
	s.Alarm = p.Job.Risk.BeamAlarm
	box := geom.EmptyBox()
	band := math.Inf(1)
	for _, d := range p.Digs {
		for _, part := range d.Parts {
			box = box.Union(part.Outline.Bounds())
		}
		if t := d.Excavation.Tolerance; t != nil {
			band = math.Min(band, float64(t.Above+t.Below)/2)
		}
	}
	if n := len(p.Digs); n > 0 {
		s.Digs = n
	}
	if !box.Empty() {
		s.Size = [2]float64{math.Max(box.Width(), 1), math.Max(box.Height(), 1)}
	}
	if band > 0 && !math.IsInf(band, 1) {
		s.Tolerance = band
	}
	if j := float64(p.Job.Risk.Jump); j > 0 {
		s.Height = j
	}
	if t := float64(p.Job.Risk.Tilt); t > 0 {
		s.Tilt = t
	}
	if n := p.Job.Closes.EveryDigs; n > 0 {
		s.PerClose = n
	}
	s.Points = 0
	for _, b := range p.Job.Benchmarks {
		if b.Placed {
			s.Points++
		}
	}
	s.Points = min(max(s.Points, 1), 4)
	return s
}
