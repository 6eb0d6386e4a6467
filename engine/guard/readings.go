package guard

import (
	"math"
	"slices"

	"spadework/engine/beam"
	"spadework/engine/geom"
	"spadework/engine/job"
	"spadework/engine/plan"
	"spadework/engine/record"
	"spadework/engine/trust"
	"spadework/engine/unit"
	"spadework/engine/watch"
)

// builder makes the watch's log of one tag.
type builder struct {
	p     *plan.Plan
	st    *record.State
	t     *timeline
	tag   record.Tag
	made  *record.SetupMade
	laser beam.Laser
	plane beam.Plane
	from  watch.Hours // of the set-up
	log   watch.Log
	digs  []watched
	shots int // check shots that may accuse
	left  int // readings on points without a place
}

// watched is a dig's point in the log of the watch.
type watched struct {
	dig   string
	point record.PointState
}

// newBuilder finds the laser and the nominal beam; false where the log does not
// tell where it stands or how high.
func newBuilder(p *plan.Plan, st *record.State, t *timeline, tag record.Tag) (*builder, bool) {
	b := &builder{p: p, st: st, t: t, tag: tag, from: t.hours[tag.Setup]}
	made, ok := t.line[tag.Setup].Payload.(*record.SetupMade)
	if !ok || made.HI == nil || made.At == nil {
		return b, false
	}
	b.made = made
	b.laser = beam.Laser{ID: made.Laser, SelfLevels: false} // unknown is the worst
	if i := slices.IndexFunc(p.Job.Lasers, func(l beam.Laser) bool { return l.ID == made.Laser }); i >= 0 {
		b.laser = p.Job.Lasers[i]
	}
	b.plane = beam.Plane{At: p.Job.Origin.Local(*made.At), HI: *made.HI, Curvature: p.Job.Curvature,
		Gradient: geom.Vector{X: float64(made.Gradient[0]), Y: float64(made.Gradient[1])}}
	return b, true
}

// at is the time of a record since the set-up.
func (b *builder) at(id record.ID) watch.Hours { return b.t.hours[id] - b.from }

// build gathers everything.
func (b *builder) build() {
	b.log.Setup = watch.Setup{At: b.plane.At, Gradient: b.plane.Gradient, Tilt: b.tilt()}
	b.log.Over = b.tag.State == record.TagEnded
	b.points()
	b.log.Habits = habitsOf(b.p, b.laser, b.plane.Gradient, len(b.log.Points))
	b.sights()
	b.closes()
	b.events()
	b.dug()
	b.checkShots()
}

// tilt is the standard deviation of the laser's plane an axis.
func (b *builder) tilt() unit.Grade {
	if c := b.laser.Check; c != nil {
		return trust.FromCheck(*c, b.laser.CheckSigma).Tilt
	}
	return trust.FromAccuracy(b.laser.Accuracy).Tilt
}

// points are the benchmarks in reach, those the job closes on where it tells them,
// and the beam marks of the set-up.
func (b *builder) points() {
	for _, m := range b.p.Job.Benchmarks {
		if b.closedOn(m) {
			b.log.Points = append(b.log.Points, watch.Point{ID: m.ID, At: m.At, Known: true, Sigma: m.Sigma})
		}
	}
	for _, l := range b.st.Log {
		m, ok := l.Payload.(*record.BeamMark)
		if !ok || m.Setup != b.tag.Setup || l.Corrected || m.At == nil || b.knows(m.Mark) {
			continue
		}
		b.log.Points = append(b.log.Points, watch.Point{ID: m.Mark, At: b.p.Job.Origin.Local(*m.At)})
		b.read(watch.Reading{At: b.at(l.ID), Point: m.Mark, Sigma: beam.DefaultReadingSigma})
	}
}

// closedOn says that a benchmark counts as a point of this set-up.
func (b *builder) closedOn(m job.Benchmark) bool {
	if !m.Placed {
		return false
	}
	sighted := slices.ContainsFunc(b.made.Sights, func(s record.BacksightReading) bool { return s.Benchmark == m.ID })
	closed := slices.ContainsFunc(b.tag.Readings, func(c record.CloseState) bool { return c.Point == m.ID })
	if sighted || closed {
		return true
	}
	on := b.p.Job.Closes.On
	return m.At.Distance(b.plane.At) <= float64(b.laser.Range) && (len(on) == 0 || slices.Contains(on, m.ID))
}

func (b *builder) knows(point string) bool {
	return slices.ContainsFunc(b.log.Points, func(p watch.Point) bool { return p.ID == point })
}

// read takes a reading in; one on a point without a place is counted.
func (b *builder) read(r watch.Reading) {
	if !b.knows(r.Point) {
		b.left++
		return
	}
	b.log.Readings = append(b.log.Readings, r)
}

// sights are the backsights that made the set-up.
func (b *builder) sights() {
	for _, s := range b.made.Sights {
		i := slices.IndexFunc(b.p.Job.Benchmarks, func(m job.Benchmark) bool { return m.ID == s.Benchmark && m.Placed })
		if i < 0 {
			b.left++
			continue
		}
		off := unit.Length(s.Rod - b.plane.GradeRod(b.p.Job.Benchmarks[i].At, s.Elevation))
		b.read(watch.Reading{Point: s.Benchmark, Off: off, Sigma: beam.DefaultReadingSigma})
	}
}

// closes are those that count: bad ones always, good ones that were not taken back
// and came before the tag's end.
func (b *builder) closes() {
	for _, c := range b.tag.Readings {
		if c.Counts {
			b.read(watch.Reading{At: b.at(c.Record), Point: c.Point, Off: c.Off, Sigma: beam.DefaultReadingSigma})
		}
	}
}

// events are what stopped the laser or left it alone, and its starts.
func (b *builder) events() {
	b.log.Starts = append(b.log.Starts, 0)
	for _, l := range b.st.Log {
		if b.st.Before(l.ID, b.tag.Setup) {
			continue
		}
		switch e := l.Payload.(type) {
		case *record.LaserEvent:
			if e.Laser != b.tag.Laser {
				continue
			}
			b.log.Stops = append(b.log.Stops, b.at(l.ID))
			if e.What == record.KindRestarted || e.What == record.KindBattery {
				b.log.Starts = append(b.log.Starts, b.at(l.ID))
			}
		case *record.Handover:
			b.log.Stops = append(b.log.Stops, b.at(l.ID))
		}
	}
}

// dug are the newest shots at every point under this beam. One that no close is
// known to come after lies after every reading.
func (b *builder) dug() {
	end := watch.Hours(0)
	for _, r := range b.log.Readings {
		end = max(end, r.At)
	}
	for _, d := range b.st.Digs {
		for _, pt := range d.Points {
			if pt.Setup != b.tag.Setup || pt.Verdict == record.Withdrawn {
				continue
			}
			shot := b.shot(pt.Shot)
			if shot == nil {
				continue
			}
			at := b.t.latest(b.basis(pt.Shot, shot), b.tag.Readings) - b.from
			if !b.readSince(pt, shot) {
				at = end + step
			}
			b.log.Digs = append(b.log.Digs, watch.Dig{ID: d.Excavation, At: b.place(shot), Dug: at, Band: b.band(shot), Concrete: d.Poured})
			b.digs = append(b.digs, watched{d.Excavation, pt})
		}
	}
}

// readSince says that a close, good or bad, is known to come after a shot; after a
// corrected one only a good one that came after the correction too.
func (b *builder) readSince(pt record.PointState, shot *record.CheckShot) bool {
	if pt.Corrected {
		return pt.Closed
	}
	return slices.ContainsFunc(b.tag.Readings, func(c record.CloseState) bool {
		return c.Counts && b.knows(c.Point) && b.st.Before(b.basis(pt.Shot, shot), c.Record)
	})
}

// shot is a check shot of the log, nil for none.
func (b *builder) shot(id record.ID) *record.CheckShot {
	if l := b.t.line[id]; l != nil {
		shot, _ := l.Payload.(*record.CheckShot)
		return shot
	}
	return nil
}

// basis is the record at whose time the beam was read for a shot: of sensors the tie.
func (b *builder) basis(id record.ID, shot *record.CheckShot) record.ID {
	if b.t.line[shot.Tie] != nil {
		return shot.Tie
	}
	return id
}

// place is where the beam was read for a shot; the laser's own place where nobody
// tells it.
func (b *builder) place(shot *record.CheckShot) geom.Point {
	if l := b.t.line[shot.Tie]; l != nil {
		if tie, ok := l.Payload.(*record.Tie); ok && tie.At != nil {
			return b.p.Job.Origin.Local(*tie.At)
		}
	}
	if shot.At != nil {
		return b.p.Job.Origin.Local(*shot.At)
	}
	if d, ok := b.p.Dig(shot.Excavation); ok && len(d.Parts) > 0 {
		return d.Parts[0].Outline.Bounds().Centre()
	}
	return b.plane.At
}

// band is what the beam's part of an error may take: the tolerance the shot was dug
// to, of one without the narrowest of the job, and without any a close's limit.
func (b *builder) band(shot *record.CheckShot) beam.Band {
	if shot.Above != nil && shot.Below != nil {
		return beam.Band{Above: *shot.Above, Below: *shot.Below}
	}
	least := unit.Length(math.Inf(1))
	for _, d := range b.p.Digs {
		if t := d.Excavation.Tolerance; t != nil {
			least = min(least, max(t.Above, t.Below))
		}
	}
	if math.IsInf(float64(least), 1) {
		least = orElse(b.p.Job.Closes.Limit, record.CloseLimit)
	}
	return beam.Band{Above: least, Below: least}
}
