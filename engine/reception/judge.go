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

// window is the window of a target.
func (a *stand) window(t *Target, s *Scratch) judgement {
	if a.bad || !t.finite() {
		return shut(t, NotFinite, 0, t.At)
	}
	r := rayTo(a.laser, t.At, a.curved)
	if over := a.tooFar(&r); over {
		return shut(t, TooFar, math.Sqrt(r.d2)-a.reach, t.At)
	}
	if !a.known {
		return shut(t, OutsideSurvey, 0, a.laser.At)
	}
	if t.Lowest > t.Highest {
		return shut(t, NoRoom, float64(t.Lowest-t.Highest), t.At)
	}
	s.nextRay()
	s.raised = a.clearance
	least := float64(t.Bottom) + float64(t.Lowest) - r.beam(1)
	least -= 8*u*(math.Abs(float64(t.Bottom))+math.Abs(float64(t.Lowest))+a.clearance) + 2*r.slack
	a.ground.collect(&r, least-a.clearance, s)
	if !a.ground.speaks(&r, s) && !a.reallySpeaks(&r, s) {
		return shut(t, OutsideSurvey, 0, t.At)
	}
	a.obstacles.collect(&r, least-a.clearance, true, s)
	return a.settle(t, &r, s)
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
func (a *stand) settle(t *Target, r *ray, s *Scratch) judgement {
	w := &s.way
	w.set(r, a.laser.Gradient, a.clearance, a.bit)
	low := w.height(float64(t.Bottom), float64(t.Lowest))
	high := w.height(float64(t.Bottom), float64(t.Highest))
	fits, _ := w.round(&low, big.ToPositiveInf)
	top, _ := w.round(&high, big.ToNegativeInf)
	out := judgement{Window: Window{Low: unit.Elevation(fits), High: unit.Elevation(top)}, fits: unit.Elevation(fits)}
	above, by := a.highest(r, s)
	if above > fits {
		out.Low = unit.Elevation(above)
		out.blocks = a.blocking(&by, r, t)
	}
	if out.Low > out.High {
		out.Why = out.blocks
		out.Why.By = unit.Length(above - top)
		if out.blocks.Kind == Served { // no float64 between the two
			out.Why = Reason{Kind: NoRoom, At: t.At, Guidance: t.Guidance}
		}
	}
	return out
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

// highest is the least float64 beam height over all that the candidates ask for,
// and the candidate that asks for most; −Inf for none. They are judged from the
// most promising one on, until none left can ask for more.
func (a *stand) highest(r *ray, s *Scratch) (above float64, by candidate) {
	above = math.Inf(-1)
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
			if s.way.clip(corners) {
				return math.Inf(1), c
			}
			continue
		}
		v, met := s.way.facet(corners)
		if met && (math.IsInf(above, -1) || most.less(&v)) {
			most, by = v, c
			above = s.way.above(&v)
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
