package plan

import (
	"slices"

	"spadework/engine/beam"
	"spadework/engine/geom"
	"spadework/engine/job"
	"spadework/engine/phrase"
	"spadework/engine/trust"
	"spadework/engine/unit"
)

// Setup is a set-up with its beam. A planned one has a target for its height
// and a window; its numbers are not to be dug to.
type Setup struct {
	ID        string
	State     beam.State
	Plane     beam.Plane // HI is the target where the state is planned
	Known     bool       // the plane has a height, measured or aimed at
	Window    *beam.Window
	Laser     beam.Laser
	Rod       beam.Rod
	Guidance  beam.Guidance
	Machine   *job.Machine
	Dial      beam.Dial // as rounded to the laser
	Plan      *beam.DialPlan
	Residuals []beam.Residual
	Proof     *beam.DialProof
	Notes     []phrase.Message
	source    job.Setup
	aside     []string // digs it reaches that its plane does not follow and no other set-up serves

	sited bool          // planned where the job has none
	spots map[spot]bool // of a sited one: what it is for
	marks []string      // benchmarks it is to read, nearest first

	site   *trust.Site
	belief *trust.Belief
	way    trust.Way
}

// Level says that the beam of the set-up is level.
func (s Setup) Level() bool { return s.Plane.Gradient == geom.Vector{} }

// Sights are the backsights the set-up was read on.
func (s Setup) Sights() []beam.Backsight { return s.source.Sights }

// resolveSetups gives every set-up its dial and beam.
func (p *Plan) resolveSetups() *phrase.Fault {
	for _, src := range p.Job.Setups {
		s := Setup{ID: src.ID, source: src}
		p.equip(&s)
		p.goOn(&s)
		for _, step := range []func(*Setup) *phrase.Fault{p.dial, p.height, p.turn} {
			if f := step(&s); f != nil {
				return src.Fault(f)
			}
		}
		p.prove(&s)
		p.Setups = append(p.Setups, s)
	}
	slices.SortStableFunc(p.Setups, func(a, b Setup) int { return compareIDs(a.ID, b.ID) })
	return nil
}

// equip finds the equipment that the set-up names.
func (p *Plan) equip(s *Setup) {
	j := p.Job
	for _, l := range j.Lasers {
		if l.ID == s.source.Laser {
			s.Laser = l
		}
	}
	for _, r := range j.Rods {
		if r.ID == s.source.Rod {
			s.Rod = r
		}
	}
	for i := range j.Machines {
		if id := s.source.Machine; id == j.Machines[i].ID || id == "" && i == 0 {
			s.Machine = &j.Machines[i]
			s.Guidance = j.Machines[i].Guidance
		}
	}
	if !s.Guidance.NeedsBeam() { // what such a crew reads from a beam it reads on a rod
		s.Guidance = beam.ByRod
	}
}

// instrument is the laser as it stands.
func (p *Plan) instrument(s *Setup) beam.Instrument {
	return beam.Instrument{
		At: s.source.At, Gradient: s.Dial.Gradient(),
		Accuracy: s.Laser.Accuracy, Curvature: p.Job.Curvature,
	}
}

// height finds the height of the beam.
func (p *Plan) height(s *Setup) *phrase.Fault {
	in := p.instrument(s)
	var f *phrase.Fault
	switch src := s.source; {
	case len(src.Sights) > 0:
		s.Plane, s.Residuals, f = beam.FromBacksights(in, src.Sights)
		s.State = beam.Live
	case src.HI != nil:
		s.Plane, f = beam.FromHI(in, *src.HI)
		s.State = beam.Live
	case src.Over != nil:
		s.Plane, f = beam.FromMeasuredHeight(in, src.Over.Elevation, src.Over.Height)
		s.State = beam.Live
	default:
		return p.aimHeight(s, in)
	}
	s.Known = true
	s.noteStick()
	if note := in.PositionCounts(); len(s.source.Sights) == 0 && !note.IsZero() {
		s.Notes = append(s.Notes, note)
	}
	if f != nil && f.Place.Path == "" {
		f.Place.Path = "backsights"
	}
	return f
}

// noteStick tells what a receiver aside of the teeth does under a sloped beam:
// up to |g| × its offset, by the way the stick is turned.
func (s *Setup) noteStick() {
	if s.Guidance != beam.StickReceiver || s.Machine == nil || s.Machine.StickOffset == 0 || s.Level() {
		return
	}
	offset := s.Machine.StickOffset
	s.Notes = append(s.Notes, phrase.New("plan.stick_offset", phrase.With("offset", offset),
		phrase.With("size", unit.Length(s.Plane.Gradient.Length())*offset)))
}

// aimHeight gives a planned set-up a window and a target in its middle: the
// heights the tripod can reach over the ground there, as far as every dig that
// it is meant for keeps a reading on the rod.
func (p *Plan) aimHeight(s *Setup, in beam.Instrument) *phrase.Fault {
	s.Plane = beam.Plane{At: in.At, Gradient: in.Gradient, Curvature: in.Curvature}
	var tripod *beam.Window
	if g := p.Job.Existing; g != nil && s.Laser.Heights[1] > 0 {
		if z, ok := g.Height(in.At); ok {
			foot := unit.Elevation(z)
			tripod = &beam.Window{Low: foot.Plus(s.Laser.Heights[0]), High: foot.Plus(s.Laser.Heights[1])}
		}
	}
	s.Window = tripod
	if bottoms := p.bottomsFor(s); len(bottoms) > 0 {
		w, f := beam.WindowFor(s.Plane, s.Rod, bottoms)
		switch {
		case f != nil:
			s.Notes = append(s.Notes, f.What)
		case tripod == nil:
			s.Window = &w
		case max(w.Low, tripod.Low) <= min(w.High, tripod.High):
			s.Window = &beam.Window{Low: max(w.Low, tripod.Low), High: min(w.High, tripod.High)}
		}
	}
	if s.Window == nil {
		s.Notes = append(s.Notes, phrase.New("plan.no_window"))
		return nil
	}
	s.Known = true
	s.Plane.HI = s.Window.Low + (s.Window.High-s.Window.Low)/2
	return nil
}

// bottomsFor is every point in range of the digs a set-up is meant for.
func (p *Plan) bottomsFor(s *Setup) []beam.Bottom {
	var out []beam.Bottom
	for _, d := range p.Digs {
		if !s.meantFor(d.Excavation.ID) {
			continue
		}
		for _, pt := range d.Points(p.Job.Interval) {
			if pt.At.Distance(s.Plane.At) <= float64(s.Laser.Range) {
				out = append(out, beam.Bottom{ID: d.Excavation.ID, At: pt.At, Elevation: pt.Bottom})
			}
		}
	}
	return out
}

// meantFor says that the job does not keep the set-up for other digs.
func (s *Setup) meantFor(id string) bool {
	return len(s.source.Serves) == 0 || slices.Contains(s.source.Serves, id)
}

// prove finds the two rods that prove a dial.
func (p *Plan) prove(s *Setup) {
	if s.Level() || !s.Known {
		return
	}
	var points []beam.Known
	for _, b := range p.Job.Benchmarks {
		if b.Placed && b.At.Distance(s.Plane.At) <= float64(s.Laser.Range) {
			points = append(points, beam.Known{ID: b.ID, At: b.At, Elevation: b.Elevation, Sigma: b.Sigma})
		}
	}
	for _, c := range p.Job.Controls {
		if c.Elevation != nil && c.At.Distance(s.Plane.At) <= float64(s.Laser.Range) {
			points = append(points, beam.Known{ID: c.ID, At: c.At, Elevation: *c.Elevation})
		}
	}
	proof, f := beam.ProveDial(s.Plane, s.Laser.Accuracy, points)
	if f != nil {
		s.Notes = append(s.Notes, f.What)
		return
	}
	s.Proof = &proof
}
