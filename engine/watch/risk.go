package watch

import (
	"math"

	"spadework/engine/beam"
	"spadework/engine/geom"
	"spadework/engine/unit"
)

// Risk is what the readings say of a dig.
type Risk struct {
	Dig    string
	Closed bool        // a reading that can clear came after it
	Out    unit.Chance // that the beam's departure alone takes it out; 1 where not closed
	By     unit.Length // mean departure, up positive, where it departed at all; NaN where not closed
	Sigma  unit.Length // standard deviation of it; NaN where not closed
	Moved  unit.Chance // that it departed at all; 1 where not closed
}

// judged is a series weighed.
type judged struct {
	hypotheses []hypothesis
	left       int
	risks      []Risk
	some       float64 // that some closed dig is out
	next       float64 // that the beam as it is now would put out one of the digs
	state      [3]float64
	stateMoved float64 // chance that the beam moved at all
}

// sums of draws.
type sums struct{ weight, out, mean, square float64 }

// judge weighs and draws. Digs after last are not closed.
func (s *series) judge(last Hours) judged {
	s.causes()
	s.solve()
	var j judged
	j.hypotheses, j.left = s.weigh()
	digs := s.log.Digs
	var places []place
	for _, d := range digs {
		places = append(places, place{s.from(d.At), d.Dug})
	}
	for _, d := range digs {
		places = append(places, place{s.from(d.At), s.end()})
	}
	w := s.walk(places)
	totals := make([]sums, len(digs))
	for _, h := range j.hypotheses {
		s.play(&j, h, w, last, totals)
	}
	for i, d := range digs {
		j.risks = append(j.risks, totals[i].risk(d, s.closes(d.Dug, last)))
	}
	if j.stateMoved > 0 {
		for k := range j.state {
			j.state[k] /= j.stateMoved
		}
	}
	return j
}

// end is the time of the latest reading.
func (s *series) end() Hours { return s.times[len(s.times)-1] }

// closes says that a dig lies between the first reading and the last that clears.
func (s *series) closes(dug, last Hours) bool { return dug >= s.times[0] && dug <= last }

func (t sums) risk(d Dig, closed bool) Risk {
	r := Risk{Dig: d.ID, Closed: closed, Out: 1, Moved: 1, By: unit.Length(math.NaN()), Sigma: unit.Length(math.NaN())}
	if !closed {
		return r
	}
	r.Out, r.By, r.Sigma, r.Moved = probability(t.out), 0, 0, probability(t.weight)
	if t.weight > 0 {
		mean := t.mean / t.weight
		r.By = unit.Length(mean)
		r.Sigma = unit.Length(math.Sqrt(math.Max(t.square/t.weight-sq(mean), 0)))
	}
	return r
}

// play draws a hypothesis and adds up what comes of it.
func (s *series) play(j *judged, h hypothesis, w *walk, last Hours, totals []sums) {
	moves := s.moves(h)
	if !moves && w == nil {
		return
	}
	n := drawsOf(h.weight)
	each := h.weight / float64(n)
	if moves {
		j.stateMoved += h.weight
	}
	levers := s.levers()
	for i := range n {
		z := h.draw(i)
		p := s.moved(h, &z, i)
		some, next := false, false
		state := p.at(s.end())
		for k := range state {
			j.state[k] += float64(each * state[k])
		}
		for k := range s.log.Digs {
			d := &s.log.Digs[k]
			now := lift(state, levers[k]) + w.at(i, len(levers)+k, &h.unknowns, &z)
			next = next || outside(d.Band, now)
			if !s.closes(d.Dug, last) {
				continue
			}
			then := p.at(d.Dug)
			by := lift(then, levers[k]) + w.at(i, k, &h.unknowns, &z)
			some = totals[k].add(d.Band, by, each, then != [3]float64{} || w != nil) || some
		}
		if some {
			j.some += each
		}
		if next {
			j.next += each
		}
	}
}

// levers are the digs seen from the laser.
func (s *series) levers() []geom.Vector {
	out := make([]geom.Vector, len(s.log.Digs))
	for i, d := range s.log.Digs {
		out[i] = s.from(d.At)
	}
	return out
}

func (t *sums) add(b beam.Band, by, part float64, moved bool) (out bool) {
	if moved {
		t.weight += part
		t.mean += float64(part * by)
		t.square += float64(part * sq(by))
	}
	out = outside(b, by)
	if out {
		t.out += part
	}
	return out
}

func outside(b beam.Band, by float64) bool {
	return !(by <= float64(b.Above) && by >= -float64(b.Below))
}

// moves says that a hypothesis has a cause of the beam.
func (s *series) moves(h hypothesis) bool {
	for _, c := range h.causes {
		if s.list[c].OfBeam() {
			return true
		}
	}
	return false
}

// part is what one cause did to the beam in a draw, and when: a bump between its
// two readings at an even time.
type part struct {
	cause *cause
	when  Hours
	state [3]float64
}

// parts are those of a draw, at most a pair.
type parts [2]part

// moved is a draw's.
func (s *series) moved(h hypothesis, z *[maxUnknowns]float64, i int) parts {
	var out parts
	next := 0
	for k, c := range h.causes {
		one := &s.list[c]
		out[k].cause = one
		out[k].when = one.From + Hours(float64(uniform(i, 32+k)*float64(one.To-one.From)))
		for m, mode := range one.modes {
			for q := range mode {
				out[k].state[q] += float64(mode[q] * z[next+m])
			}
		}
		next += len(one.columns)
	}
	return out
}

// at is the departure at a time.
func (p *parts) at(at Hours) [3]float64 {
	var out [3]float64
	for k := range p {
		if p[k].cause == nil {
			break
		}
		if share := p[k].cause.share(at, p[k].when); share != 0 {
			for q := range out {
				out[q] += float64(share * p[k].state[q])
			}
		}
	}
	return out
}
