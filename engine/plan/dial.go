package plan

import (
	"math"
	"slices"

	"spadework/engine/beam"
	"spadework/engine/dig"
	"spadework/engine/job"
	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// dial works out how the laser is sloped.
func (p *Plan) dial(s *Setup) *phrase.Fault {
	src := s.source.Dial
	if src == nil {
		return nil
	}
	if len(src.For) > 0 {
		f := p.dialFor(s, src)
		if f != nil {
			f.Place.Path = "dial.for"
		}
		return f
	}
	d := beam.Dial{Bearing: src.Bearing, Grade: src.Grade, Cross: src.Cross, Towards: src.Towards}
	if src.Towards != "" {
		d.Bearing = beam.Aim{Mark: src.Towards, At: src.Aim, From: s.source.At}.Direction()
	}
	if f := s.Laser.Takes(d); f != nil {
		f.Place.Path = "dial.grade"
		return f
	}
	s.Dial = s.Laser.Round(d)
	s.Plan = &beam.DialPlan{Ideal: d, Rounded: s.Dial, Shown: s.Laser.Shows(s.Dial), Text: s.Dial.Text(s.Laser)}
	return nil
}

// dialFor works the dial out of the runs it is for.
func (p *Plan) dialFor(s *Setup, src *job.Dial) *phrase.Fault {
	runs, f := p.runsOf(src.For, s.Laser)
	if f != nil {
		return f
	}
	aim := beam.Aim{Mark: src.Towards, At: src.Aim, From: s.source.At, Bearing: src.Bearing}
	if !src.Given {
		aim.Bearing = lowEnd(runs[0])
	}
	pin := s.source.At
	if len(s.source.Sights) > 0 {
		pin = s.source.Sights[0].At
	}
	var plan beam.DialPlan
	if len(runs) == 1 {
		plan, f = beam.DialForRun(runs[0], s.Laser, aim, pin)
	} else {
		plan, f = beam.DialForTwo(runs[0], runs[1], s.Laser, aim, pin)
	}
	if f != nil {
		return f
	}
	s.Plan, s.Dial = &plan, plan.Rounded
	return nil
}

// lowEnd is the bearing from the high end of a run to its low end, where a mark
// is easiest to set.
func lowEnd(r beam.Run) unit.Angle {
	if r.Fall() < 0 {
		return beam.Bearing(r.To, r.From)
	}
	return beam.Bearing(r.From, r.To)
}

// sameGrade is how near the falls of two runs count as one: under a micrometre
// in 100 m.
const sameGrade = 1e-8

// runsOf gathers the runs of digs that differ in direction or fall: one or two.
// Of more the fault says which would share a plane of this laser.
func (p *Plan) runsOf(ids []string, laser beam.Laser) ([]beam.Run, *phrase.Fault) {
	var out []beam.Run
	for _, id := range ids {
		d, _ := p.Dig(id)
		for _, part := range d.Parts {
			if !part.Run() {
				continue
			}
			if r := runOf(d, part); !alike(out, r) {
				out = append(out, r)
			}
		}
	}
	if len(out) == 0 {
		return nil, phrase.NewFault(phrase.New("plan.dial_no_run", phrase.With("ids", ids)), phrase.New("plan.dial_no_run.remedy"))
	}
	if len(out) > 2 {
		return nil, p.manyRuns(ids, out, laser)
	}
	return out, nil
}

// manyRuns is the fault of runs that no one plane follows, with the planes that
// would serve them and the digs no plane of the laser serves.
func (p *Plan) manyRuns(ids []string, runs []beam.Run, laser beam.Laser) *phrase.Fault {
	wants := make([]beam.Want, len(runs))
	for i, r := range runs {
		d, _ := p.Dig(r.ID)
		wants[i] = beam.Want{Run: r, OneRod: true, Allowed: d.band().Share(beam.ToleranceShare)}
	}
	groups, unserved, f := beam.Groups(wants, laser)
	if f != nil {
		return f
	}
	var planes []phrase.Message
	for _, g := range groups {
		planes = append(planes, phrase.New("plan.dial_plane", phrase.With("ids", slices.Compact(slices.Clone(g.Digs)))))
	}
	for _, u := range unserved {
		planes = append(planes, phrase.New("plan.dial_no_plane", phrase.With("id", u.Dig), phrase.With("because", u.Because)))
	}
	return phrase.NewFault(
		phrase.New("plan.dial_many_runs", phrase.With("ids", ids), phrase.With("count", len(runs))),
		phrase.New("plan.dial_many_runs.remedy", phrase.With("planes", planes)))
}

// runOf is a part as the beam room takes it.
func runOf(d Dig, part dig.Part) beam.Run {
	from, to := part.Line[0], part.Line[len(part.Line)-1]
	return beam.Run{
		ID: d.Excavation.ID, From: from, To: to,
		FromElevation: part.BottomAt(from), ToElevation: part.BottomAt(to),
		Width: d.Excavation.Width,
	}
}

// alike says that a run is parallel to one already there and falls as it does.
func alike(runs []beam.Run, r beam.Run) bool {
	for _, o := range runs {
		u, v := o.Direction(), r.Direction()
		fall := float64(o.Fall())
		if u.Dot(v) < 0 {
			fall = -fall
		}
		if math.Abs(u.Cross(v)) < sameGrade && math.Abs(fall-float64(r.Fall())) < sameGrade {
			return true
		}
	}
	return false
}
