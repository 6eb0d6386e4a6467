package watch

import (
	"math"
	"slices"

	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// likely is the chance from which an explanation is acted upon.
const likely = 0.5

// sure is the chance from which a beam counts as moved even where no dig is out by
// it: one of a half would stop every twelfth day for jumps of a millimetre or two.
const sure = 0.99

// leastTold is the height from which a beam is told to stand higher or lower: what
// no rod is read to (common practice).
const leastTold = 1 * unit.Millimetre

// advise fills state and words.
func (v *Verdict) advise(l Log, limit unit.Chance) {
	last := l.lastClose()
	stopped := slices.ContainsFunc(l.Stops, func(t Hours) bool { return t >= last })
	for _, r := range v.Risks {
		if !r.Closed {
			v.open(r.Dig)
		}
	}
	off, found := v.pointOff()
	misread := v.misread(l)
	switch {
	case v.accuses(limit):
		v.bad(l)
	case l.Over:
		v.over(l, off)
	case misread != "":
		v.State, v.Point = ReadAgain, misread
		v.say("watch.read_again", phrase.With("point", misread))
	case found:
		v.State, v.Point = PointOff, off
		v.say("watch.point_off", phrase.With("point", off))
	case stopped || math.IsInf(float64(last), -1):
		v.State, v.Point = Unclosed, ""
		v.say("watch.stopped")
	case v.doubts(limit):
		v.blind(l)
	default:
		v.State, v.Point = Holds, ""
		v.say("watch.holds")
	}
	if len(v.Open) > 0 {
		v.say("watch.open", phrase.With("count", len(v.Open)), phrase.With("digs", v.Open))
	}
	if slices.ContainsFunc(l.Readings, func(r Reading) bool { return r.Machine }) {
		v.say("watch.check_shots")
	}
}

// open notes a dig, of several points once.
func (v *Verdict) open(dig string) {
	if !slices.Contains(v.Open, dig) {
		v.Open = append(v.Open, dig)
	}
}

func (v *Verdict) say(key phrase.Key, args ...phrase.Arg) {
	v.Do = append(v.Do, phrase.New(key, args...))
}

// over is a set-up that has ended without a word against its beam.
func (v *Verdict) over(l Log, off string) {
	v.State, v.Point = Unclosed, ""
	v.say("watch.over")
	if off != "" {
		v.Point = off
		v.say("watch.point_off", phrase.With("point", off))
	}
}

// bad is a close that does not fit: read again, then another point, then the
// beam is given up. Numbers go at once.
func (v *Verdict) bad(l Log) {
	again, next := l.readTwice(v.LastGood), l.unreadPoint(v.LastGood)
	switch {
	case l.Over:
		v.State, v.Point = BeamMoved, ""
		v.say("watch.had_moved")
		v.tellShift()
		v.tellDigs(l)
		return
	case !again:
		v.State = ReadAgain
		v.say("watch.numbers_go")
		v.say("watch.read_again", phrase.With("point", v.Point))
		return
	case next != "":
		v.State, v.Point = ReadNext, next
		v.say("watch.numbers_go")
		v.say("watch.read_next", phrase.With("point", next))
		return
	}
	v.State, v.Point = BeamMoved, ""
	v.say("watch.beam_moved")
	v.tellShift()
	v.tellDigs(l)
}

// blind is closes that fit but see too little: another point, or, where there is
// none, what they cannot see.
func (v *Verdict) blind(l Log) {
	if next := l.unreadPoint(v.LastGood); next != "" {
		v.State, v.Point = ReadNext, next
		v.say("watch.sees_little", phrase.With("point", next))
		return
	}
	v.State, v.Point = Holds, ""
	v.say("watch.holds")
	v.say("watch.cannot_see", phrase.With("chance", max(v.Out, v.Next)))
}

// readTwice says that some point was read twice by hand since a time.
func (l Log) readTwice(since Hours) bool {
	for i, r := range l.Readings {
		for _, q := range l.Readings[:i] {
			if q.Point == r.Point && min(q.At, r.At) > since && !q.Machine && !r.Machine {
				return true
			}
		}
	}
	return false
}

// unreadPoint is the first point worth reading that was not read since a time.
func (l Log) unreadPoint(since Hours) string {
	for _, p := range l.Points {
		fresh := slices.ContainsFunc(l.Readings, func(r Reading) bool { return r.Point == p.ID && r.At > since })
		if p.Known && !fresh {
			return p.ID
		}
	}
	return ""
}

// pointOff is a point that more likely than not is not where it was, by the
// odds of all hypotheses that say so.
func (v *Verdict) pointOff() (string, bool) {
	chances := map[string]float64{}
	for _, o := range v.Odds {
		for _, c := range o.Causes {
			if c.What == Moved || c.What == Wrong {
				if chances[c.Point] += float64(o.Chance); chances[c.Point] > likely {
					return c.Point, true
				}
			}
		}
	}
	return "", false
}

// misread is a point whose latest reading more likely than not is misread, or
// that it is or the point moved, which only another reading tells apart.
func (v *Verdict) misread(l Log) string {
	for i, r := range l.Readings {
		if slices.ContainsFunc(l.Readings, func(q Reading) bool { return q.Point == r.Point && q.At > r.At }) {
			continue
		}
		of, either := 0.0, 0.0
		for _, o := range v.Odds {
			if slices.ContainsFunc(o.Causes, func(c Cause) bool { return c.What == Misread && c.Reading == i }) {
				of += float64(o.Chance)
			} else if slices.ContainsFunc(o.Causes, func(c Cause) bool { return c.What == Moved && c.To == r.At && c.Point == r.Point }) {
				either += float64(o.Chance)
			}
		}
		if of+either > likely && of > 0.01 {
			return r.Point
		}
	}
	return ""
}

// tellShift says how the beam stands, as far as the points can tell.
func (v *Verdict) tellShift() {
	by := magnitude(v.Shift.Height)
	switch {
	case by < leastTold:
		v.say("watch.same_height")
	case v.Shift.Height < 0:
		v.say("watch.lower", phrase.With("by", by))
	default:
		v.say("watch.higher", phrase.With("by", by))
	}
	if v.Shift.Lean {
		v.say("watch.leans", phrase.With("bearing", v.Shift.Falls), phrase.With("grade", v.Shift.Grade))
		return
	}
	v.say("watch.no_direction")
}

func magnitude(l unit.Length) unit.Length { return unit.Length(math.Abs(float64(l))) }

// tellDigs lists what lies under the moved beam, what to shoot first, and what is
// the foreman's.
func (v *Verdict) tellDigs(l Log) {
	for i, r := range v.Risks {
		if !r.Closed || l.Digs[i].Dug <= v.LastGood {
			continue
		}
		if l.Digs[i].Concrete {
			v.Foreman = append(v.Foreman, r)
		} else {
			v.Shoot = append(v.Shoot, r)
		}
	}
	v.Shoot, v.Foreman = sorted(v.Shoot), sorted(v.Foreman)
	for _, r := range v.Foreman {
		v.say("watch.concrete", phrase.With("dig", r.Dig))
	}
	for i, r := range v.Shoot {
		key := phrase.Key("watch.shoot_high")
		switch {
		case r.By < 0 && i == 0:
			key = "watch.shoot_low_first"
		case r.By < 0:
			key = "watch.shoot_low"
		case i == 0:
			key = "watch.shoot_high_first"
		}
		v.say(key, phrase.With("dig", r.Dig), phrase.With("by", magnitude(r.By)), phrase.With("sigma", 2*r.Sigma), phrase.With("chance", r.Out))
	}
}
