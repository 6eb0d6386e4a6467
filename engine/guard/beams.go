package guard

import (
	"slices"

	"spadework/engine/phrase"
	"spadework/engine/plan"
	"spadework/engine/record"
	"spadework/engine/trust"
	"spadework/engine/watch"
)

// Beam is the watch over the beam of one tag.
type Beam struct {
	Tag     record.Tag
	Judged  bool // false: the log does not tell where the laser stands or how high
	Log     watch.Log
	Verdict watch.Verdict
	Digs    []DigRisk
	Shots   int // rods on bottoms that a machine had dug, which may accuse
	LeftOut int // readings on points without a place

	State   watch.State
	Numbers bool             // log and watch both leave numbers
	Why     phrase.Message   // why the log leaves none, zero where it does
	Do      []phrase.Message // what to do now, in order
	Next    *Next            // close that is due; nil: the tag has ended, or nothing is judged
}

// DigRisk is a point of a dig under the beam.
type DigRisk struct {
	Excavation string
	Point      record.PointState
	watch.Risk
}

// Beams is the watch over every tag of a log, in the log's order. Today, "" not
// told, holds tags of another day back.
func Beams(p *plan.Plan, st *record.State, today string) ([]Beam, *phrase.Fault) {
	t := newTimeline(st)
	var out []Beam
	for _, tag := range st.Tags {
		b, ok := newBuilder(p, st, t, tag)
		one := Beam{Tag: tag, State: watch.Unclosed, Why: st.MayDig(record.At{Setup: tag.Setup, Today: today})}
		if !ok {
			one.Do = []phrase.Message{phrase.New("guard.not_judged", phrase.With("tag", tag.Tag))}
			out = append(out, one)
			continue
		}
		b.build()
		if f := one.judge(b); f != nil {
			return nil, f
		}
		out = append(out, one)
	}
	return out, nil
}

// judge weighs the log of the tag and joins what both rooms say.
func (o *Beam) judge(b *builder) *phrase.Fault {
	v, f := watch.Judge(b.log, alarmFrom(b.p))
	if f != nil {
		return f
	}
	o.Judged, o.Log, o.Verdict, o.Shots, o.LeftOut = true, b.log, v, b.shots, b.left
	for i, d := range b.digs {
		o.Digs = append(o.Digs, DigRisk{d.dig, d.point, v.Risks[i]})
	}
	o.State = v.State
	o.Numbers = v.State.Numbers() && o.Why.IsZero()
	o.advise(b)
	if o.Tag.State != record.TagEnded {
		o.Next = b.next(*o)
	}
	return nil
}

// advise is what to do now: the watch's words, behind why the log leaves no number
// where that alone takes them.
func (o *Beam) advise(b *builder) {
	v := o.Verdict
	if v.State.Numbers() && !o.Why.IsZero() {
		o.State = watch.Unclosed
		o.say("guard.no_number", phrase.With("tag", o.Tag.Tag), phrase.With("why", o.Why))
		if b.log.Over {
			o.Do = o.Do[:0]
		}
	}
	if b.log.Over {
		o.say("guard.ended", phrase.With("tag", o.Tag.Tag), phrase.With("why", o.Why))
	}
	for _, m := range v.Do {
		if m.Key != "watch.holds" || o.Numbers {
			o.Do = append(o.Do, m)
		}
	}
	said := slices.ContainsFunc(o.Do, func(m phrase.Message) bool { return m.Key == "watch.check_shots" })
	if !said && o.Tag.Open > 0 {
		o.say("watch.check_shots")
	}
	if o.LeftOut > 0 {
		o.say("guard.left_out", phrase.With("count", o.LeftOut))
	}
}

func (o *Beam) say(key phrase.Key, args ...phrase.Arg) { o.Do = append(o.Do, phrase.New(key, args...)) }

// way is how the crew of the tag comes down to a bottom.
func (b *builder) way() trust.Way {
	if s, ok := b.p.Setup(b.tag.Tag); ok {
		return s.Way()
	}
	return trust.Way{}
}
