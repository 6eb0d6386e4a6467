package plan

import (
	"cmp"
	"math"
	"slices"

	"spadework/engine/beam"
	"spadework/engine/dig"
	"spadework/engine/job"
	"spadework/engine/phrase"
	"spadework/engine/trust"
	"spadework/engine/unit"
)

// Trust is how far a number can be trusted.
type Trust struct {
	trust.Outlook
	Rated     bool        // the dig has a tolerance: the rest is told
	Within    unit.Chance // that the finished bottom is in, dug to the height worked to
	Over      unit.Chance // that the first pass goes under the lowest bottom allowed
	Aim       unit.Length // over the bottom, + up; 0 where it is not worth telling
	Judgement trust.Judgement
}

// WorkedTo is the height over the bottom that the crew works to.
func (p *Plan) WorkedTo(n Number) unit.Length {
	if p.Job.WorkTo == job.Aim {
		return n.Trust.Aim
	}
	return 0
}

// AimRod is the rod at the aim, false where none is told.
func (n Number) AimRod() (unit.Reading, bool) {
	if n.Trust.Aim == 0 {
		return 0, false
	}
	return n.Rod - unit.Reading(n.Trust.Aim), true
}

// Limit is the least chance of a bottom being in that the job wants.
func (p *Plan) Limit() unit.Chance {
	if p.Job.Risk.Chance > 0 {
		return p.Job.Risk.Chance
	}
	return trust.DefaultLimit
}

// aimRule is how the job picks the height to aim at.
func (p *Plan) aimRule() trust.AimRule {
	r := p.Job.Risk
	return trust.AimRule{Risk: r.OverDig, Over: r.CostOver, Trim: r.CostTrim}
}

// judgeNumbers tells of every number how far it can be trusted.
func (p *Plan) judgeNumbers() *phrase.Fault {
	if f := p.believe(); f != nil {
		return f
	}
	rule, limit := p.aimRule(), p.Limit()
	walk := digWalk{p: p}
	for i := range p.Numbers {
		p.judgeNumber(&p.Numbers[i], walk.to(p.Numbers[i].Excavation), rule, limit)
	}
	p.findConditions()
	return nil
}

// judgeNumber tells of one number how far it can be trusted.
func (p *Plan) judgeNumber(n *Number, d *Dig, rule trust.AimRule, limit unit.Chance) {
	n.Trust.Outlook = p.outlook(n)
	// Nobody tells how well a hub was set; an outlet is no bottom, what its box
	// asks of outlets is a condition.
	if d.Excavation.Tolerance == nil || n.From == FromHub || n.From == FromString || n.Kind == dig.Outlet {
		return
	}
	n.Trust.Rated = true
	p.rate(n, d, rule, limit)
}

// digWalk finds the digs of numbers, which come in the order of the digs.
type digWalk struct {
	p  *Plan
	at int
}

// to is a dig by its id, known to be there.
func (w *digWalk) to(id string) *Dig {
	for range w.p.Digs {
		if d := &w.p.Digs[w.at]; d.Excavation.ID == id {
			return d
		}
		w.at = (w.at + 1) % len(w.p.Digs)
	}
	return &Dig{}
}

// dig is a dig by its id, known to be there.
func (p *Plan) dig(id string) *Dig {
	w := digWalk{p: p}
	return w.to(id)
}

// outlook is what is to be expected of the bottom that a number leads to.
func (p *Plan) outlook(n *Number) trust.Outlook {
	switch n.From {
	case FromBeam:
		s := p.setup(n.Setup)
		return s.belief.At(n.At, n.Rod, s.way)
	case FromTouch:
		for _, b := range p.Job.Benchmarks {
			if b.ID == n.Reference {
				return p.wayOf(&p.Job.Machines[0], beam.SensorsTouch, "").Touch(b.Sigma)
			}
		}
	}
	return trust.Outlook{Mean: unknown, Beam: unknown, First: unknown, Final: unknown}
}

// unknown is a length nobody knows.
var unknown = unit.Length(math.NaN())

// setup is a set-up by its tag, known to be there.
func (p *Plan) setup(id string) *Setup {
	for i := range p.Setups {
		if p.Setups[i].ID == id {
			return &p.Setups[i]
		}
	}
	return &Setup{belief: &trust.Belief{}}
}

// rate gives a number its aim, chances and word.
func (p *Plan) rate(n *Number, d *Dig, rule trust.AimRule, limit unit.Chance) {
	t, band := &n.Trust, d.band()
	aim := rule.Aim(t.Outlook, band, d.areaOf(n.Part, rule))
	if t.Known && p.setup(n.Setup).way.Shows(aim) {
		t.Aim = aim
	}
	to := p.WorkedTo(*n)
	t.Within, t.Over = t.Outlook.Within(band, to), t.Outlook.Over(band, to)
	t.Judgement = trust.Judge(t.Outlook, band, to, limit)
}

// areaOf is the bottom of a part, which only costs ask for.
func (d *Dig) areaOf(part string, rule trust.AimRule) unit.Area {
	if rule.Over == 0 || rule.Trim == 0 {
		return 0
	}
	p, _ := d.Part(part)
	return unit.Area(p.Outline.Area())
}

// Belief is what is known of the beam of the set-up, after its own readings; of
// a planned one after those it is expected to make.
func (s Setup) Belief() *trust.Belief { return s.belief }

// Way is how the crew comes down to the numbers of the set-up.
func (s Setup) Way() trust.Way { return s.way }

// Site is all that is known of control and set-ups together, to take a number
// apart with.
func (s Setup) Site() *trust.Site { return s.site }

// believe gives every set-up its belief and way. Live ones share the readings of
// the benchmarks; a planned one has only those it is expected to make, which
// must teach the live ones nothing.
func (p *Plan) believe() *phrase.Fault {
	control := p.control()
	var live []trust.Setup
	for i := range p.Setups {
		s := &p.Setups[i]
		s.way = p.wayOf(s.Machine, s.Guidance, s.source.Receiver)
		s.way.Shown = unit.Length(s.Rod.Step)
		if s.State == beam.Live {
			live = append(live, p.standing(s))
		}
	}
	site, f := trust.NewSite(control, live)
	if f != nil {
		return f
	}
	for i := range p.Setups {
		if f := readSights(site, &p.Setups[i]); f != nil {
			return f
		}
		if f := p.readTurns(site, &p.Setups[i]); f != nil {
			return f
		}
	}
	beliefs := site.Beliefs()
	for i, n := 0, 0; i < len(p.Setups); i++ {
		s := &p.Setups[i]
		if s.State == beam.Live {
			s.site, s.belief = site, beliefs[n]
			n++
		} else if f := p.foresee(s, control); f != nil {
			return f
		}
	}
	return nil
}

// control is the benchmarks with a place, and the turning points.
func (p *Plan) control() trust.Control {
	c := trust.Control{Refraction: p.Job.Practice.Refraction, Flat: p.Job.Curvature == beam.None}
	for _, b := range p.Job.Benchmarks {
		if b.Placed {
			c.Points = append(c.Points, trust.Point{ID: b.ID, At: b.At, Known: true, Sigma: b.Sigma})
		}
	}
	for _, t := range p.Turns {
		c.Points = append(c.Points, trust.Point{ID: t.ID, At: t.At})
	}
	return c
}

// standing is a set-up as the trust room takes it.
func (p *Plan) standing(s *Setup) trust.Setup {
	out := trust.Setup{
		ID: s.ID, Laser: s.Laser.ID, At: s.source.At, Prior: trust.FromAccuracy(s.Laser.Accuracy),
		Wind: p.Job.Practice.Wind, WarmUp: p.Job.Practice.WarmUp,
	}
	if c := s.Laser.Check; c != nil {
		out.Prior = trust.FromCheck(*c, s.Laser.CheckSigma)
	}
	if !s.Level() {
		out.Dial = trust.Dialling{
			Gradient: s.Dial.Gradient(), Bearing: s.Dial.Bearing, Axes: s.Laser.Axes,
			Step: s.Laser.Step, Accuracy: s.Laser.GradeAccuracy, Aiming: p.Job.Practice.Aiming,
		}
	}
	if src := s.source; src.HI != nil && src.HeightSigma != nil {
		out.Height = &trust.Height{Sigma: *src.HeightSigma}
	} else if src.Over != nil && src.Over.Sigma != nil {
		out.Height = &trust.Height{Sigma: *src.Over.Sigma}
	}
	return out
}

// readSights tells a site the backsights of a set-up.
func readSights(site *trust.Site, s *Setup) *phrase.Fault {
	for _, b := range s.source.Sights {
		sigma := b.ReadingSigma
		if sigma == 0 {
			sigma = beam.DefaultReadingSigma
		}
		off := unit.Length(b.Rod - s.Plane.GradeRod(b.At, b.Elevation))
		if f := site.Read(trust.Sight{Setup: s.ID, Point: b.Benchmark, Off: off, Sigma: sigma}); f != nil {
			return f
		}
	}
	return nil
}

// foresee gives a planned set-up the belief it will have after reading as many
// benchmarks as the job asks of a set-up, the nearest of those in its reach.
func (p *Plan) foresee(s *Setup, c trust.Control) *phrase.Fault {
	site, f := trust.NewSite(c, []trust.Setup{p.standing(s)})
	if f != nil {
		return f
	}
	for _, id := range p.toRead(s) {
		if f := site.Read(trust.Sight{Setup: s.ID, Point: id, Sigma: beam.DefaultReadingSigma}); f != nil {
			return f
		}
	}
	s.site, s.belief = site, site.Belief(s.ID)
	return nil
}

// toRead are the benchmarks that a planned set-up is taken to read.
func (p *Plan) toRead(s *Setup) []string {
	if !s.Known || s.sited {
		return s.marks
	}
	ids := p.reach(s)
	return ids[:min(len(ids), max(p.Job.Closes.Benchmarks, 1))]
}

// wayOf is how a crew with a machine comes down to its numbers.
func (p *Plan) wayOf(m *job.Machine, g beam.Guidance, receiver string) trust.Way {
	pr := p.Job.Practice
	w := trust.Way{
		Guidance: g, Plumb: pr.RodPlumb,
		Cutting: pr.Cutting / root3, Trimming: pr.Trimming / root3,
	}
	if g != beam.ByRod {
		w.Plumb = pr.ArmPlumb
	}
	if m != nil {
		w.Offset, w.Depth, w.Measures = m.StickOffset, m.DepthAccuracy/root3, m.DepthAccuracy > 0
		w.Leaves = m.Leaves
		if receiver == "" {
			receiver = m.Receiver
		}
	}
	for _, r := range p.Job.Receivers {
		if r.ID == receiver || receiver == "" && len(p.Job.Receivers) == 1 {
			w.DeadBand = r.DeadBand
			return w
		}
	}
	w.Reading = beam.DefaultReadingSigma
	return w
}

// root3 makes the standard deviation of a bound (JCGM 100:2008, 4.3.7).
const root3 = 1.7320508075688772

// reach are the benchmarks that a set-up can read, nearest first.
func (p *Plan) reach(s *Setup) []string {
	var out []string
	for _, e := range p.Expected(*s) {
		out = append(out, e.Benchmark)
	}
	far := func(id string) float64 {
		pt, _ := p.Point(id)
		return pt.At.Distance(s.Plane.At)
	}
	slices.SortStableFunc(out, func(a, b string) int { return cmp.Compare(far(a), far(b)) })
	return out
}

// NumberOf is a number as the trust room takes it.
func (p *Plan) NumberOf(n Number) trust.Number {
	return trust.Number{Setup: n.Setup, At: n.At, Rod: n.Rod, Way: p.setup(n.Setup).way}
}
