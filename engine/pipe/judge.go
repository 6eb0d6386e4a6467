package pipe

import (
	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// Reach is a straight piece of a pipeline between two breaks.
type Reach struct {
	Part     string
	From, To unit.Station
	Fall     unit.Grade // along the water, + falls
}

// Drop is a step of the flow line in a structure or at a station.
type Drop struct {
	Station unit.Station
	Fall    unit.Length // along the water, + falls
}

// Pipeline is what is known of a pipe or cable in a trench; zero is not known.
type Pipeline struct {
	ID        string
	Purpose   Purpose
	Section   *Section    // nil: no pipe given
	Nominal   unit.Length // 0: the inside diameter stands for it
	Roughness float64     // Manning's n, 0: DefaultRoughness
	Flow      unit.Flow   // of the design, 0: not given
	Method    Method      // of a cable
	Under     Place       // of a cable
	Bedding   unit.Length
	Width     unit.Length // of the trench at the bottom, 0 unknown
	Widths    WidthRule
	Rock      bool
	Reaches   []Reach
	Drops     []Drop
	Cover     *LeastCover // nil: the ground is not known
}

// LeastCover is the least ground over the top of a pipe, and where.
type LeastCover struct {
	Cover   unit.Length
	Station unit.Station
}

// Nominally is the size by which tables are read.
func (p *Pipeline) Nominally() unit.Length {
	switch {
	case p.Nominal > 0:
		return p.Nominal
	case p.Section != nil:
		return p.Section.Inside()
	}
	return 0
}

// Conduit is a reach as the hydraulics take it; ok is false where no pipe is
// given, it carries no water by gravity, or the reach does not fall.
func (p *Pipeline) Conduit(r Reach) (c Conduit, ok bool) {
	if p.Section == nil || !p.Purpose.Drains() || !(r.Fall > 0) {
		return Conduit{}, false
	}
	n := p.Roughness
	if n == 0 {
		n = DefaultRoughness
	}
	return Conduit{p.Section.Inside(), n, r.Fall}, true
}

// same is the difference under which two figures are one: what float64 leaves
// of a figure like 2 ft/s.
const same = 1e-9

// Judge holds a pipeline against the limits. It changes nothing: the grade is
// the designer's.
func Judge(p Pipeline) []phrase.Finding {
	j := judge{p: p}
	j.known()
	if p.Purpose.Drains() {
		for _, r := range p.Reaches {
			j.reach(r)
		}
		for _, d := range p.Drops {
			j.drop(d)
		}
	}
	if p.Purpose.Drains() && p.Section != nil {
		j.bedding()
		j.width()
	}
	j.cable()
	return j.out
}

// judge gathers the findings of one pipeline.
type judge struct {
	p   Pipeline
	out []phrase.Finding
}

// find adds a finding of a limit. What it says and the remedy are the texts of
// the rule; a figure that was not read in its source says so.
func (j *judge) find(l Limit, rule, part string, measured any, args ...phrase.Arg) {
	limit := l.Quantity(j.outside())
	args = append([]phrase.Arg{phrase.With("id", j.p.ID), phrase.With("measured", measured), phrase.With("limit", limit)}, args...)
	what := phrase.New(phrase.Key("pipe.find_"+rule), args...)
	if l.Mark != Read {
		what = phrase.New("pipe.unchecked", phrase.With("what", what))
	}
	j.out = append(j.out, phrase.Finding{
		Rule: "pipe_" + rule, Severity: l.Severity, Where: phrase.Where{Excavation: j.p.ID, Part: part},
		What: what, Measured: measured, Limit: limit, Clause: l.Clause,
		Remedy: phrase.New(phrase.Key("pipe.find_" + rule + ".remedy")), Decides: phrase.New(l.Decides),
	})
}

// tell adds a finding that rests on no table.
func (j *judge) tell(s phrase.Severity, rule, part string, measured any, args ...phrase.Arg) {
	args = append([]phrase.Arg{phrase.With("id", j.p.ID), phrase.With("measured", measured)}, args...)
	j.out = append(j.out, phrase.Finding{
		Rule: "pipe_" + rule, Severity: s, Where: phrase.Where{Excavation: j.p.ID, Part: part},
		What: phrase.New(phrase.Key("pipe.find_"+rule), args...), Measured: measured,
		Remedy: phrase.New(phrase.Key("pipe.find_" + rule + ".remedy")), Decides: phrase.New("who.engineer"),
	})
}

func (j *judge) outside() unit.Length {
	if j.p.Section == nil {
		return 0
	}
	return j.p.Section.Outside
}

// known tells what must be known before a pipe can be judged.
func (j *judge) known() {
	switch {
	case j.p.Purpose == "" && j.p.Section != nil:
		j.tell(phrase.Note, "no_purpose", "", nil)
	case j.p.Purpose.Drains() && j.p.Section == nil:
		j.tell(phrase.Note, "no_pipe", "", nil)
	}
}

// reach judges the slope of one reach and what runs in it.
func (j *judge) reach(r Reach) {
	along := []phrase.Arg{phrase.With("from", r.From), phrase.With("to", r.To)}
	if !(r.Fall > 0) {
		j.tell(phrase.Caution, "reverse", r.Part, r.Fall, along...)
		return
	}
	if a, ok := Anchors(r.Fall); ok {
		j.find(a, "anchors", r.Part, r.Fall, along...)
	}
	c, ok := j.p.Conduit(r)
	if !ok {
		return
	}
	j.flat(r, c, along)
	v, full := c.Full()
	if l := limit("too_fast"); float64(v) > l.Add+same {
		j.find(l, "fast", r.Part, v, along...)
	}
	if j.p.Flow > full*(1+same) {
		j.tell(phrase.Caution, "over_full", r.Part, j.p.Flow, append(along, phrase.With("limit", full))...)
		j.out[len(j.out)-1].Limit = full
	}
}

// flat judges whether a reach falls enough: by the table of least slopes and by
// the speed that the table stands for.
func (j *judge) flat(r Reach, c Conduit, along []phrase.Arg) {
	size := j.p.Nominally()
	l, ok := LeastSlope(j.p.Purpose, size)
	if ok && float64(r.Fall) < l.Add-same {
		j.find(l, "least_slope", r.Part, r.Fall, append(along, phrase.With("size", size))...)
		return
	}
	if !ok {
		j.tell(phrase.Note, "no_row", r.Part, size, along...)
	}
	v, _ := c.Full()
	if l, ok := rowFor("self_cleansing."+string(j.p.Purpose), 0); ok && float64(v) < l.Add*(1-tableRounding) {
		j.find(l, "slow", r.Part, v, append(along, phrase.With("n", c.N))...)
	}
}

// tableRounding is how far the tables of least slopes miss the speed that they
// stand for by rounding: 42 in at 0.036 % runs at 1.987 ft/s.
const tableRounding = 0.01

// drop judges a step of the flow line.
func (j *judge) drop(d Drop) {
	if d.Fall < -unit.Micrometre {
		j.tell(phrase.Caution, "drop_reverse", "", -d.Fall, phrase.With("station", d.Station))
	}
}

// bedding judges what lies under a pipe; 100 mm count as 4 in.
func (j *judge) bedding() {
	l := LeastBedding(j.p.Section.Outside, j.p.Rock)
	if float64(j.p.Bedding) < l.Value(j.p.Section.Outside)*(1-nearSize) {
		j.find(l, "bedding", "", j.p.Bedding)
	}
}

// width judges the room beside a pipe.
func (j *judge) width() {
	if !(j.p.Width > 0) {
		return
	}
	l, ok := LeastWidth(j.p.Widths, j.p.Section.Outside, j.p.Nominally())
	if ok && float64(j.p.Width) < l.Value(j.p.Section.Outside)-same {
		j.find(l, "width", "", j.p.Width)
	}
}

// cable judges the cover of a cable.
func (j *judge) cable() {
	if j.p.Purpose != Cable {
		return
	}
	if j.p.Method == "" && j.p.Under == "" {
		j.tell(phrase.Note, "no_method", "", nil)
	}
	l := CableCover(j.p.Method, j.p.Under)
	switch c := j.p.Cover; {
	case c == nil:
		j.tell(phrase.Note, "no_cover", "", nil)
	case float64(c.Cover) < l.Add-same:
		j.find(l, "cable_cover", "", c.Cover, phrase.With("station", c.Station))
	}
}
