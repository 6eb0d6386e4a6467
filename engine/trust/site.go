package trust

import (
	"math"
	"slices"

	"spadework/engine/estimate"
	"spadework/engine/geom"
	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// Setup is a laser as it stands, before its rods are read.
type Setup struct {
	ID     string
	Laser  string // set-ups of one laser share its cone
	At     geom.Point
	Prior  Prior
	Dial   Dialling
	Height *Height // nil: nothing but readings tells the beam's height
	Wind   unit.Grade
	WarmUp unit.Grade // both bounds, ≥ 0: see Way
}

// Height is a beam height that was told: its standard deviation, ≥ 0.
type Height struct{ Sigma unit.Length }

// Point is a place where the rod is read: a benchmark, or a turning point or
// beam mark of which nothing is known until it has been read.
type Point struct {
	ID    string
	At    geom.Point
	Known bool        // its height is told
	Sigma unit.Length // standard error of that height, ≥ 0
}

// Sight is a rod read on a point: a backsight, a close, or the foresight on a
// turning point.
type Sight struct {
	Setup, Point string
	Off          unit.Length // reading less what the nominal beam gives there
	Sigma        unit.Length // standard deviation of the reading; +Inf has no weight
}

// Control is what all set-ups of a site share.
type Control struct {
	Points     []Point
	Refraction float64 // bound on the departure of the refraction coefficient, ≥ 0
	Flat       bool    // curvature is left out, refraction with it
}

// Site is the joint belief about all set-ups and points of a job: what a turning
// point carries into the next set-up, and what two set-ups on one benchmark
// share, is in it.
type Site struct {
	control  Control
	setups   []Setup
	in       *estimate.Information
	unknowns []columns // by set-up
	points   []int     // unknown of each point, -1 where it is exact
	offsets  []offset  // by set-up
	evidence []evidence
	sights   []Sight // read so far
}

// columns are the unknowns of a set-up, -1 where the value is exact.
type columns [5]int

// The places of the state.
const (
	height = iota
	tiltEast
	tiltNorth
	cone
	air
	states
)

// offset is the known mean of a set-up's state.
type offset [states]float64

// evidence is a prior or a reading with the causes of its noise.
type evidence struct {
	functions [][]estimate.Term // one or two
	precision square
	causes    []cause
}

// least is the standard deviation under which a value counts as exact: a
// nanometre, or a nanometre in a metre.
const least = 1e-9

// NewSite knows the priors of the set-ups and points and no readings. A figure
// that is not a number or negative, and an id given twice, is a fault.
func NewSite(g Control, setups []Setup) (*Site, *phrase.Fault) {
	if f := checkSite(g, setups); f != nil {
		return nil, f
	}
	s := &Site{control: g, setups: setups}
	count := 0
	add := func(wanted bool) int {
		if !wanted {
			return -1
		}
		count++
		return count - 1
	}
	bent := add(s.airSigma() > least)
	cones := map[string]int{}
	for _, u := range setups {
		c := columns{height: add(u.Height == nil || u.Height.Sigma > least)}
		tilted := u.tilted()
		c[tiltEast], c[tiltNorth], c[air] = add(tilted), add(tilted), bent
		if _, known := cones[u.Laser]; !known {
			cones[u.Laser] = add(u.Prior.ConeSigma > least)
		}
		c[cone] = cones[u.Laser]
		s.unknowns = append(s.unknowns, c)
		s.offsets = append(s.offsets, offset{cone: float64(u.Prior.Cone)})
	}
	for _, p := range g.Points {
		s.points = append(s.points, add(!p.Known || p.Sigma > least))
	}
	s.in = estimate.NewInformation(count)
	s.observePriors(bent)
	return s, nil
}

// tilted says that the plane of a set-up is open at all.
func (s Setup) tilted() bool {
	for _, c := range s.tilts() {
		if c.cov[0][0]+c.cov[1][1] > least*least {
			return true
		}
	}
	return false
}

// airSigma is the standard deviation of the refraction coefficient.
func (s *Site) airSigma() float64 {
	if s.control.Flat {
		return 0
	}
	return rectangular(s.control.Refraction)
}

// observePriors tells the information all that is known without a reading.
func (s *Site) observePriors(bent int) {
	if bent >= 0 {
		s.prior(bent, s.airSigma(), cause{name: Refraction})
	}
	var coned []int
	for i, u := range s.setups {
		c := s.unknowns[i]
		if u.Height != nil && c[height] >= 0 {
			s.prior(c[height], float64(u.Height.Sigma), cause{name: GivenHeight})
		}
		if c[cone] >= 0 && !slices.Contains(coned, c[cone]) {
			coned = append(coned, c[cone])
			s.prior(c[cone], float64(u.Prior.ConeSigma), cause{name: LaserCone})
		}
		if c[tiltEast] >= 0 {
			s.tiltPrior(c, u.tilts())
		}
	}
	for i, p := range s.control.Points {
		if s.points[i] >= 0 && p.Known {
			s.prior(s.points[i], float64(p.Sigma), cause{name: Benchmark, of: p.ID})
		}
	}
}

// prior is a standard deviation of one unknown.
func (s *Site) prior(unknown int, sigma float64, c cause) {
	c.cov[0][0] = float64(sigma * sigma)
	s.observe([]estimate.Term{{Unknown: unknown, Coefficient: 1}}, 0, []cause{c})
}

// tiltPrior is the covariance of the tilts of one set-up.
func (s *Site) tiltPrior(c columns, causes []cause) {
	// A plane exact across the mark keeps a triangle.
	cov := square{{least * least, 0}, {0, least * least}}
	for _, k := range causes {
		cov = cov.plus(k.cov)
	}
	p := cov.inverse()
	east, north := estimate.Term{Unknown: c[tiltEast], Coefficient: 1}, estimate.Term{Unknown: c[tiltNorth], Coefficient: 1}
	// Cholesky triangle of the precision: its transpose times τ is white.
	a := math.Sqrt(p[0][0])
	b := p[1][0] / a
	d := math.Sqrt(p[1][1] - float64(b*b))
	s.tell([]estimate.Term{{Unknown: c[tiltEast], Coefficient: a}, {Unknown: c[tiltNorth], Coefficient: b}}, 0, 1)
	s.tell([]estimate.Term{{Unknown: c[tiltNorth], Coefficient: d}}, 0, 1)
	s.evidence = append(s.evidence, evidence{functions: [][]estimate.Term{{east}, {north}}, precision: p, causes: causes})
}

// observe adds scalar evidence; its variance is the sum of its causes.
func (s *Site) observe(terms []estimate.Term, value float64, causes []cause) {
	variance := 0.0
	for _, c := range causes {
		variance += c.cov[0][0]
	}
	if math.IsInf(variance, 1) {
		return
	}
	variance = math.Max(variance, least*least)
	s.tell(terms, value, 1/variance)
	s.evidence = append(s.evidence, evidence{functions: [][]estimate.Term{terms}, precision: square{{1 / variance}}, causes: causes})
}

// tell gives the information an observation whose figures were checked.
func (s *Site) tell(terms []estimate.Term, value, weight float64) {
	if err := s.in.Observe(estimate.Observation{Terms: terms, Value: value, Weight: weight}); err != nil {
		panic("trust: " + err.Error()) // checkSite and Read let no such figure through
	}
}

// Read updates the belief by one rod. A set-up or point that the site does not
// have, or a figure that is not a number, is a fault and changes nothing.
func (s *Site) Read(r Sight) *phrase.Fault {
	i := slices.IndexFunc(s.setups, func(u Setup) bool { return u.ID == r.Setup })
	j := slices.IndexFunc(s.control.Points, func(p Point) bool { return p.ID == r.Point })
	if i < 0 || j < 0 {
		return phrase.NewFault(phrase.New("trust.unknown_sight", phrase.With("setup", r.Setup), phrase.With("point", r.Point)),
			phrase.New("trust.unknown_sight.remedy"))
	}
	if f := r.check(); f != nil {
		return f
	}
	s.sights = append(s.sights, r)
	u, p := s.setups[i], s.control.Points[j]
	at := stateAt(u.At, p.At)
	terms, known := s.unknowns[i].terms(at), 0.0
	for k, c := range at {
		known += float64(c * s.offsets[i][k])
	}
	if s.points[j] >= 0 {
		terms = append(terms, estimate.Term{Unknown: s.points[j], Coefficient: -1})
	}
	sigma, shake := float64(r.Sigma), shakeAt(u.Wind, u.At.Distance(p.At))
	s.observe(terms, float64(r.Off)-known, []cause{
		{name: Backsight, of: p.ID, cov: square{{float64(sigma * sigma)}}},
		{name: Wind, cov: square{{float64(shake * shake)}}},
	})
	return nil
}

// terms are the coefficients of δ(p) over the unknowns.
func (c columns) terms(at [states]float64) []estimate.Term {
	out := make([]estimate.Term, 0, states+1)
	for k, u := range c {
		if u >= 0 && at[k] != 0 {
			out = append(out, estimate.Term{Unknown: u, Coefficient: at[k]})
		}
	}
	return out
}

// bend is 1/2R in 1/m, R the earth's mean radius 6371 km (from memory; the
// combined 0.0675 m/km² of beam is it less 14 %).
const bend = 1 / (2 * 6371e3)

// stateAt is the coefficients of δ(p) for a laser at q.
func stateAt(q, p geom.Point) [states]float64 {
	v := p.Sub(q)
	d := v.Length()
	// More refraction bends the beam down: ρ counts the air's share.
	return [states]float64{1, v.X, v.Y, d, -float64(float64(d*d) * bend)}
}

// shakeAt is the standard deviation of the beam at a distance for a bound.
func shakeAt(bound unit.Grade, distance float64) float64 {
	return rectangular(float64(bound) * distance)
}
