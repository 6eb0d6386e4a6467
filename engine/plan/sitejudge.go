package plan

import (
	"spadework/engine/beam"
	"spadework/engine/dig"
	"spadework/engine/geom"
	"spadework/engine/job"
	"spadework/engine/siting"
	"spadework/engine/trust"
	"spadework/engine/unit"
)

// siteJudge tells how well the numbers of a planned set-up will be known.
type siteJudge struct {
	s      *sites
	way    trust.Way
	points [][]dig.NumberPoint // by cell
	limit  unit.Chance
	rule   trust.AimRule
	longer unit.Length // no rod is longer
}

// judge is nil where nothing is known of the laser's accuracy.
func (s *sites) judge() siting.Judge {
	if s.laser.Accuracy == 0 && s.laser.Check == nil {
		return nil
	}
	j := &siteJudge{s: s, way: s.p.wayOf(s.crew.machine, s.crew.guidance, ""), limit: s.p.Limit(), rule: s.p.aimRule()}
	j.way.Shown = unit.Length(s.crew.rod.Step)
	_, j.longer = s.crew.span()
	for i := range s.cells {
		j.points = append(j.points, s.cells[i].judged())
	}
	return j
}

// siteOutlook is what is known of one planned set-up.
type siteOutlook struct {
	j      *siteJudge
	belief *trust.Belief
	high   beam.Plane // as high as its tripod goes: the longest rods
}

// Setup is the outlook of a set-up that will read some benchmarks.
func (j *siteJudge) Setup(at geom.Point, gradient int, benchmarks []int) siting.Outlook {
	p := j.s.p
	setup := Setup{ID: "S", Laser: j.s.laser, source: job.Setup{ID: "S", At: at}}
	setup.Plane = beam.Plane{At: at, Gradient: j.s.gradients[gradient].gradient, Curvature: p.Job.Curvature}
	if gradient > 0 {
		setup.Dial = beam.DialOf(setup.Plane.Gradient, j.s.bearings[gradient])
	}
	c := trust.Control{Refraction: p.Job.Practice.Refraction, Flat: p.Job.Curvature == beam.None}
	for _, b := range benchmarks {
		mark := j.s.marks[b]
		c.Points = append(c.Points, trust.Point{ID: mark.ID, At: mark.At, Known: true, Sigma: mark.Sigma})
	}
	belief, f := trust.Predict(p.standing(&setup), c, beam.DefaultReadingSigma)
	if f != nil {
		return siteOutlook{j: j}
	}
	pl, _ := j.s.grounds.tripod(at)
	setup.Plane.HI = pl.High
	return siteOutlook{j: j, belief: belief, high: setup.Plane}
}

// Error is the standard error of the worst finished bottom of a cell, false
// where it is in with less than the job's chance.
func (o siteOutlook) Error(cell int) (unit.Length, bool) {
	if o.belief == nil {
		return 0, false
	}
	var worst trust.Outlook
	for i, pt := range o.j.points[cell] {
		rod := min(max(o.high.GradeRod(pt.At, pt.Bottom), 0), unit.Reading(o.j.longer))
		out := o.belief.At(pt.At, rod, o.j.way)
		if !out.Known {
			return 0, false
		}
		if i == 0 || out.Final > worst.Final {
			worst = out
		}
	}
	return worst.Final, o.j.within(worst, o.j.s.cells[cell].dig)
}

// within says that a bottom keeps its tolerance with the job's chance, dug as
// the crew digs it. One without a tolerance has none to miss.
func (j *siteJudge) within(o trust.Outlook, d *Dig) bool {
	if d.Excavation.Tolerance == nil || !o.Known {
		return true
	}
	to := unit.Length(0)
	if j.s.p.Job.WorkTo == job.Aim {
		if aim := j.rule.Aim(o, d.band(), d.areaOf(d.Parts[0].ID, j.rule)); j.way.Shows(aim) {
			to = aim
		}
	}
	return o.Within(d.band(), to) >= j.limit
}
