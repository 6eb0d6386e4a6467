package plan

import (
	"slices"
	"strconv"

	"spadework/engine/beam"
	"spadework/engine/geom"
	"spadework/engine/job"
	"spadework/engine/phrase"
	"spadework/engine/reception"
	"spadework/engine/siting"
	"spadework/engine/unit"
)

// sites is the question where the laser stands, as a job puts it.
type sites struct {
	p         *Plan
	laser     beam.Laser
	crew      crew
	field     *reception.Field
	grounds   *grounds
	gradients []sloped
	bearings  []unit.Angle // of the mark, by gradient
	undialled map[string]phrase.Message
	cells     []cell // all of the job's; once planning begins those to be planned for
	marks     []job.Benchmark
}

// clearance is how far a beam must stay over ground and what stands on it: its
// own width and grass (common practice).
const clearance = 50 * unit.Millimetre

// newSites puts the question. Where a job does not tell enough for it, needs
// says what is missing.
func (p *Plan) newSites() (s *sites, needs phrase.Message, f *phrase.Fault) {
	j := p.Job
	switch {
	case len(j.Lasers) == 0:
		return nil, phrase.New("plan.site_laser"), nil
	case len(j.Rods) == 0:
		return nil, phrase.New("plan.site_rod"), nil
	case j.Lasers[0].Heights[1] == 0:
		return nil, phrase.New("plan.site_heights", phrase.With("laser", j.Lasers[0].ID)), nil
	case j.Existing == nil:
		return nil, phrase.New("plan.site_ground"), nil
	}
	s = &sites{p: p, laser: j.Lasers[0]}
	probe := Setup{Laser: s.laser, source: job.Setup{Laser: s.laser.ID, Rod: j.Rods[0].ID}}
	p.equip(&probe)
	s.crew = crew{guidance: probe.Guidance, machine: probe.Machine, rod: probe.Rod}
	field, err := reception.New(reception.Site{
		Ground: j.Existing.Surface, Obstacles: p.obstacles(), Range: s.laser.Range, Clearance: clearance, Curvature: j.Curvature,
	})
	if err != nil {
		return nil, phrase.Message{}, faultOf(err)
	}
	s.field = field
	s.grounds = p.groundsOf(s.laser.Heights, s.laser.Range)
	s.gradients, s.undialled = p.gradientsOf(s.laser)
	s.bearings = make([]unit.Angle, len(s.gradients))
	for i, g := range s.gradients {
		if runs, f := p.runsOf(g.dialled, s.laser); f == nil {
			s.bearings[i] = lowEnd(runs[0])
		}
	}
	s.cells = p.cellsOf(s.laser.Range)
	suited(s.cells, s.gradients)
	for _, b := range j.Benchmarks {
		if b.Placed {
			s.marks = append(s.marks, b)
		}
	}
	return s, phrase.Message{}, nil
}

// benchmarks are those of the job as the reception room takes them.
func (s *sites) benchmarks() []reception.Target {
	var out []reception.Target
	for _, b := range s.marks {
		out = append(out, reception.Target{
			At: b.At, Bottom: b.Elevation, Guidance: beam.ByRod,
			Lowest: unit.Length(s.crew.rod.Shortest), Highest: unit.Length(s.crew.rod.Longest),
		})
	}
	return out
}

// need is how many benchmarks a set-up must receive.
func (s *sites) need() int { return max(s.p.Job.Closes.Benchmarks, 1) }

// problem is the question as the siting room takes it.
func (s *sites) problem() siting.Problem {
	q := siting.Problem{Benchmarks: s.benchmarks(), Need: s.need(), Receiver: settable{s.field}, Range: s.laser.Range, Judge: s.judge(), Ground: s.grounds.place}
	q.Places, q.Spacing = s.grounds.lattice()
	for _, g := range s.gradients {
		q.Gradients = append(q.Gradients, g.gradient)
	}
	for i := range s.cells {
		c := &s.cells[i]
		targets, any := s.crew.targets(s.field, c)
		sited := siting.Cell{ID: c.name, Targets: targets, Any: any, Gradients: c.gradients}
		if any {
			sited.Spots = c.places() // numbers are given no farther than the laser's range
		}
		q.Cells = append(q.Cells, sited)
	}
	for _, set := range s.p.Setups {
		q.Kept = append(q.Kept, set.Plane.At)
	}
	return q
}

// unserved drops the cells that a set-up written in the job serves.
func (s *sites) unserved() []cell {
	var out []cell
	for i := range s.cells {
		c := &s.cells[i]
		if !slices.ContainsFunc(s.p.Setups, func(set Setup) bool { return s.written(&set, c) }) {
			out = append(out, *c)
		}
	}
	return out
}

// written says that a set-up of the job gives a cell its numbers and is received
// there.
func (s *sites) written(set *Setup, c *cell) bool {
	if !set.Known || !set.meantFor(c.dig.Excavation.ID) {
		return false
	}
	if parallel := set.parallel(c.dig, set.cornersOf(c.dig)); !parallel && (!set.Level() || c.dig.source.OneRod) {
		return false
	}
	targets, any := crew{set.Guidance, set.Machine, set.Rod}.targets(s.field, c)
	laser := reception.Laser{At: set.Plane.At, Gradient: set.Plane.Gradient}
	for _, t := range targets {
		within := unit.Length(t.At.Distance(laser.At)) <= set.Laser.Range
		if served := within && s.field.Serves(laser, set.Plane.HI, t); served == any {
			return any
		}
	}
	return !any
}

// Siting is how the set-ups that a job leaves out were planned.
type Siting struct {
	siting.Proof
	Setups []Sited
	Walk   float64                   // metres of all of them
	misses map[string]phrase.Message // by dig: why no place serves it
}

// Sited is why a planned set-up is where it is.
type Sited struct {
	ID    string
	Digs  []string    // that it is for
	Error unit.Length // standard error of its worst bottom, 0 not known
	Other siting.Alternative
}

// siteSetups takes the plan of a solver over: its set-ups, not in use yet, and
// why digs are left.
func (p *Plan) siteSetups(s *sites, solver *siting.Solver) *phrase.Fault {
	out := &Siting{Proof: solver.Proof(), Walk: solver.Walk(), misses: map[string]phrase.Message{}}
	others := solver.Alternatives()
	for i, planned := range solver.Best() {
		set, f := p.sited(s, planned)
		if f != nil {
			return f
		}
		p.Setups = append(p.Setups, set)
		out.Setups = append(out.Setups, Sited{ID: set.ID, Digs: set.source.Serves, Error: planned.Error, Other: others[i]})
	}
	slices.SortStableFunc(p.Setups, func(a, b Setup) int { return compareIDs(a.ID, b.ID) })
	for _, m := range solver.Infeasible() {
		id := s.cells[m.Cell].dig.Excavation.ID
		if _, told := out.misses[id]; !told {
			out.misses[id] = s.whyNot(m)
		}
	}
	p.Siting = out
	return nil
}

// sited is a planned set-up with its beam at the height aimed at.
func (p *Plan) sited(s *sites, planned siting.Setup) (Setup, *phrase.Fault) {
	src := job.Setup{ID: p.freeTag(), At: planned.At, Placed: true, Laser: s.laser.ID, Rod: s.crew.rod.ID}
	if s.crew.machine != nil {
		src.Machine = s.crew.machine.ID
	}
	set := Setup{ID: src.ID, sited: true, spots: map[spot]bool{}}
	for _, c := range planned.Cells {
		ce := &s.cells[c]
		if id := ce.dig.Excavation.ID; !slices.Contains(src.Serves, id) {
			src.Serves = append(src.Serves, id)
		}
		for _, at := range ce.spots() {
			set.spots[at] = true
		}
	}
	if ids := s.gradients[planned.Gradient].dialled; len(ids) > 0 && s.gradients[planned.Gradient].gradient != (geom.Vector{}) {
		src.Dial = &job.Dial{For: ids}
	}
	set.source = src
	p.equip(&set)
	if f := p.dial(&set); f != nil {
		return set, f
	}
	in := p.instrument(&set)
	set.Plane = beam.Plane{At: in.At, Gradient: in.Gradient, HI: planned.Target, Curvature: in.Curvature}
	tripod, _ := s.grounds.tripod(planned.At)
	set.Window = windowOf(planned, tripod)
	set.Known = true
	for _, b := range planned.Benchmarks {
		set.marks = append(set.marks, s.marks[b].ID)
	}
	set.noteStick()
	p.prove(&set)
	return set, nil
}

// freeTag is the first of S1, S2 … that no set-up has.
func (p *Plan) freeTag() string {
	for n := 1; ; n++ {
		id := "S" + strconv.Itoa(n)
		if _, used := p.Setup(id); !used {
			return id
		}
	}
}

// whyNot is why no place serves a cell, by the one that comes nearest.
func (s *sites) whyNot(m siting.Miss) phrase.Message {
	at := phrase.With("at", s.p.placeText(m.Place))
	by := phrase.With("by", m.By)
	switch m.Why {
	case siting.NotTrusted:
		return phrase.New("plan.site_trust", at, phrase.With("sigma", m.By), phrase.With("limit", s.p.Limit()))
	case siting.NoBenchmark:
		return phrase.New("plan.site_benchmarks", at, phrase.With("count", s.need()))
	case siting.TripodLow:
		return phrase.New("plan.site_low", at, by)
	case siting.TripodHigh:
		return phrase.New("plan.site_high", at, by)
	case siting.NotReceived:
		return phrase.New("plan.site_not_received", at, phrase.With("why", s.p.reasonText(m.Reception)))
	}
	return phrase.New("plan.site_no_place")
}

// PlaceText is where something is, in words and job coordinates.
func (p *Plan) PlaceText(at geom.Point) phrase.Message { return p.placeText(at) }

// placeText is a place in job coordinates.
func (p *Plan) placeText(at geom.Point) phrase.Message {
	q := p.Job.Origin.Job(at)
	return phrase.New("reception.place", phrase.With("x", unit.Length(q.X)), phrase.With("y", unit.Length(q.Y)))
}
