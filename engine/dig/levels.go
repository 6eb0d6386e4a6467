package dig

import (
	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// startTrace is a trace of no terms yet.
func startTrace(words string, label phrase.Message, z unit.Elevation) Trace {
	return Trace{
		Words: words, Origin: Origin{Label: label, Elevation: z},
		Terms: make([]Term, 0, 4), Sum: z,
	}
}

// add appends a term; one of 0 is left out.
func (t *Trace) add(label phrase.Message, v unit.Length) {
	if v == 0 {
		return
	}
	t.Terms = append(t.Terms, Term{Label: label, Value: v})
	t.Sum = t.Sum.Plus(v)
}

// fixedTrace is the trace of a bottom that no ground and no invert decides.
func (x *Excavation) fixedTrace() Trace {
	b := &x.Bottom
	switch b.Rule {
	case BelowDatum:
		t := startTrace(x.Words, datumLabel(b.Datum), b.Datum.Elevation)
		t.add(phrase.New("dig.term.below"), -b.Depth)
		return t
	case BelowTop:
		t := startTrace(x.Words, phrase.New("dig.term.top"), b.Elevation)
		if b.Datum.ID != "" {
			t = startTrace(x.Words, datumLabel(b.Datum), b.Datum.Elevation)
			t.add(phrase.New("dig.term.to_top"), b.Offset)
		}
		t.add(phrase.New("dig.term.thickness"), -b.Thickness)
		return t
	}
	return startTrace(x.Words, phrase.New("dig.term.elevation"), b.Elevation)
}

// datumLabel names a datum in a trace.
func datumLabel(d Datum) phrase.Message {
	return phrase.New("dig.term.datum", phrase.With("id", d.ID))
}

// groundTrace starts at ground, existing or finished.
func (x *Excavation) groundTrace(label phrase.Message, z float64) Trace {
	t := startTrace(x.Words, label, unit.Elevation(z))
	if x.Bottom.Rule == BelowGround {
		t.add(phrase.New("dig.term.below"), -x.Bottom.Depth)
		return t
	}
	t.add(phrase.New("dig.term.cover"), -x.Bottom.Cover)
	if x.Pipe != nil {
		t.add(phrase.New("dig.term.outside"), -x.Pipe.Outside)
	}
	return t
}

// addLayers takes off what lies under the bottom.
func (x *Excavation) addLayers(t *Trace) {
	t.add(phrase.New("dig.term.bedding"), -x.Bedding)
	t.add(phrase.New("dig.term.blinding"), -x.Blinding)
	t.add(phrase.New("dig.term.subbase"), -x.Subbase)
}

// addFall adds what a grade makes over a run of stations, + or −.
func addFall(t *Trace, g unit.Grade, from, to unit.Station) {
	run := unit.Length(to - from)
	if g == 0 || run == 0 {
		return
	}
	over := run
	if over < 0 {
		over = -over
	}
	t.add(phrase.New("dig.term.fall", phrase.With("grade", g), phrase.With("run", over)), g.Over(run))
}

// rise is the grade of the run from its first point onward, never −0.
func (x *Excavation) rise() unit.Grade { return 0 - x.Fall }
