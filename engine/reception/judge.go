package reception

import (
	"math"
	"math/big"

	"spadework/engine/geom"
	"spadework/engine/unit"
)

// stand is a laser on a field.
type stand struct {
	*Field
	laser *Laser
	bad   bool // the laser's figures are not finite
	known bool // it stands on the survey
}

func (f *Field) stand(l *Laser) stand {
	out := stand{Field: f, laser: l, bad: !l.finite()}
	if !out.bad {
		_, out.known = f.asked.Height(l.At)
	}
	return out
}

// judgement is a window and what lies behind it.
type judgement struct {
	Window
	fits   unit.Elevation // least height the receiver takes
	blocks Reason         // what stands in the way below Low, if something does
}

// shut is no window, for a reason.
func shut(t *Target, kind Kind, by float64, at geom.Point) judgement {
	why := Reason{Kind: kind, By: unit.Length(by), At: at, Guidance: t.Guidance}
	return judgement{Window: Window{Low: unit.Elevation(math.Inf(1)), High: unit.Elevation(math.Inf(-1)), Why: why}}
}

// window is the window of a target; with blocks told what lies behind it.
func (a *stand) window(t *Target, s *Scratch, told bool) judgement {
	r := rayTo(a.laser, t.At, a.curved)
	if why, by, at := a.outright(t, &r); why != Served {
		return shut(t, why, by, at)
	}
	s.begin(a.clearance, a.leastFit(t, &r), math.Inf(1))
	a.ground.collect(&r, s)
	if !a.ground.speaks(&r, s) && !a.reallySpeaks(&r, s) {
		return shut(t, OutsideSurvey, 0, t.At)
	}
	a.obstacles.collect(&r, s)
	return a.settle(t, &r, s, told)
}

// outright is why no height serves a target whatever lies between.
func (a *stand) outright(t *Target, r *ray) (why Kind, by float64, at geom.Point) {
	switch {
	case a.bad || !t.finite():
		return NotFinite, 0, t.At
	case a.tooFar(r):
		return TooFar, math.Sqrt(r.d2) - a.reach, t.At
	case !a.known:
		return OutsideSurvey, 0, a.laser.At
	case t.Lowest > t.Highest:
		return NoRoom, float64(t.Lowest - t.Highest), t.At
	}
	return Served, 0, t.At
}

// leastFit is no more than the beam height that the receiver takes.
func (a *stand) leastFit(t *Target, r *ray) float64 {
	least := float64(t.Bottom) + float64(t.Lowest) - r.beam(1)
	return least - (8*u*(math.Abs(float64(t.Bottom))+math.Abs(float64(t.Lowest))+math.Abs(least)) + 2*r.slack)
}

// mostFit is no less than the greatest one.
func (a *stand) mostFit(t *Target, r *ray) float64 {
	most := float64(t.Bottom) + float64(t.Highest) - r.beam(1)
	return most + (8*u*(math.Abs(float64(t.Bottom))+math.Abs(float64(t.Highest))+math.Abs(most)) + 2*r.slack)
}

// tooFar says exactly whether the target is out of range.
func (a *stand) tooFar(r *ray) bool {
	most := float64(a.reach * a.reach)
	err := 8*u*(r.d2+most) + tiny
	if d := r.d2 - most; math.Abs(d) > err {
		return d > 0
	}
	diff := func(p, q float64) *big.Rat {
		x := new(big.Rat).SetFloat64(p)
		x.Sub(x, new(big.Rat).SetFloat64(q))
		return x.Mul(x, x)
	}
	d := diff(r.to.X, r.from.X)
	d.Add(d, diff(r.to.Y, r.from.Y))
	return d.Cmp(diff(a.reach, 0)) > 0
}

// settle works out the window's ends from the candidates.
func (a *stand) settle(t *Target, r *ray, s *Scratch, told bool) judgement {
	f := a.fineOf(r)
	fits, top := a.ends(t, &f, s)
	out := judgement{Window: Window{Low: unit.Elevation(fits), High: unit.Elevation(top)}, fits: unit.Elevation(fits)}
	above, ok := f.highest(a, s.cands)
	if !ok || above > fits && (told || above > top) {
		var by candidate
		above, by = a.highest(r, s)
		if above > fits {
			out.blocks = a.blocking(&by, r, t)
		}
	}
	out.Low = max(out.Low, unit.Elevation(above))
	if out.Low > out.High {
		out.Why = out.blocks
		out.Why.By = unit.Length(above - top)
		if out.blocks.Kind == Served { // no float64 between the two
			out.Why = Reason{Kind: NoRoom, At: t.At, Guidance: t.Guidance}
		}
	}
	return out
}

// ends are the least and the greatest float64 beam height that the receiver
// takes.
func (a *stand) ends(t *Target, f *fine, s *Scratch) (fits, top float64) {
	fits, ok := f.height(float64(t.Bottom), float64(t.Lowest)).up()
	if !ok {
		w := a.laid(f.r, s)
		low := w.height(float64(t.Bottom), float64(t.Lowest))
		fits, _ = w.round(&low, big.ToPositiveInf)
	}
	top, ok = f.height(float64(t.Bottom), float64(t.Highest)).down()
	if !ok {
		w := a.laid(f.r, s)
		high := w.height(float64(t.Bottom), float64(t.Highest))
		top, _ = w.round(&high, big.ToNegativeInf)
	}
	return fits, top
}

// laid is the ray in hand in integers.
func (a *stand) laid(r *ray, s *Scratch) *way {
	if !s.laid {
		s.way.set(r, a.laser.Gradient, a.clearance, a.bit)
		s.laid = true
	}
	return &s.way
}

// blocking is the reason that a candidate makes.
func (a *stand) blocking(c *candidate, r *ray, t *Target) Reason {
	out := Reason{Kind: HiddenByGround, At: r.at(c.t), Guidance: t.Guidance}
	if c.obstacle {
		out.Kind = HiddenByObstacle
		out.Obstacle = a.obstacles.all[a.obstacles.of[c.facet]].ID
	}
	return out
}

// highest is, exactly, the least float64 beam height over all that the candidates ask for,
// and the candidate that asks for most; −Inf for none. They are judged from the
// most promising one on, until none left can ask for more.
func (a *stand) highest(r *ray, s *Scratch) (above float64, by candidate) {
	above = math.Inf(-1)
	w := a.laid(r, s)
	var most value
	for left := s.cands; len(left) > 0; {
		i := promising(left)
		c := left[i]
		left[i] = left[len(left)-1]
		left = left[:len(left)-1]
		// The float64 next under above is no more than the most so far.
		if c.high <= below(above) || c.flat && by.flat && c.high == by.high {
			continue
		}
		corners := a.cornersOf(&c, r)
		if math.IsInf(corners[0].Z, 1) {
			if w.clip(corners) {
				return math.Inf(1), c
			}
			continue
		}
		v, met := w.facet(corners)
		if met && (math.IsInf(above, -1) || most.less(&v)) {
			most, by = v, c
			above = w.above(&v)
		}
	}
	return above, by
}

// below is the float64 next under a.
func below(a float64) float64 { return math.Nextafter(a, math.Inf(-1)) }

// promising is the candidate that may ask for most.
func promising(c []candidate) int {
	best := 0
	for i := range c {
		if c[i].high > c[best].high {
			best = i
		}
	}
	return best
}

func (a *stand) cornersOf(c *candidate, r *ray) *[3]geom.Point3 {
	if c.obstacle {
		return &a.obstacles.facets[c.facet]
	}
	return a.ground.corners(c.facet, r)
}

// at is the reason why height h does not serve.
func (j *judgement) at(h unit.Elevation, t *Target) Reason {
	switch {
	case j.Holds(h):
		return Reason{}
	case !j.Open():
		return j.Why
	case h > j.High:
		return Reason{Kind: BeamTooHigh, By: unit.Length(h - j.High), At: t.At, Guidance: t.Guidance}
	case h >= j.fits:
		out := j.blocks
		out.Kind += BlockedByGround - HiddenByGround
		out.By = unit.Length(j.Low - h)
		return out
	}
	return Reason{Kind: BeamTooLow, By: unit.Length(j.fits - h), At: t.At, Guidance: t.Guidance}
}
