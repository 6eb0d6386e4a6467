package plan

import (
	"math"

	"spadework/engine/dig"
	"spadework/engine/job"
	"spadework/engine/phrase"
	"spadework/engine/pipe"
	"spadework/engine/safety"
	"spadework/engine/unit"
)

// Pipe is what runs in a trench, with its figures.
type Pipe struct {
	pipe.Pipeline
	Reaches []Reach
}

// Reach is a straight piece of a pipe: how steep the table wants it and what it
// carries. Nil is not known or not judged.
type Reach struct {
	pipe.Reach
	Least    *unit.Grade // least slope of the table
	Speed    *unit.Speed // full
	Capacity *unit.Flow  // full
	Depth    *unit.Length
	FlowsAt  *unit.Speed // at the design flow
}

// resolvePipes works the pipes out and judges them. The grade is the designer's:
// findings tell of it, nothing changes it.
func (p *Plan) resolvePipes() *phrase.Fault {
	for _, d := range p.Digs {
		if d.Excavation.Kind == dig.Field || d.source.Carries.Purpose == pipe.Absorption {
			p.Findings = append(p.Findings, pipe.JudgeAbsorption(d.absorption())...)
			continue
		}
		if d.Excavation.Kind != dig.Trench || d.Excavation.Pipe == nil && d.source.Carries.Purpose == "" {
			continue
		}
		line := p.pipeline(d)
		p.Pipes = append(p.Pipes, Pipe{line, reachesOf(line)})
		p.Findings = append(p.Findings, pipe.Judge(line)...)
	}
	p.separate()
	return nil
}

// absorption is a field as the limits take it.
func (d Dig) absorption() pipe.AbsorptionField {
	x := d.Excavation
	out := pipe.AbsorptionField{ID: x.ID, Width: x.Width, Count: x.Count, Apart: x.Spacing - x.Width - 2*x.Working}
	length := unit.Length(0)
	for i, part := range d.Parts {
		out.Falls = append(out.Falls, part.Grade)
		if i > 0 && part.From == 0 {
			length = 0
		}
		length += unit.Length(part.To - part.From)
		out.Length = max(out.Length, length)
	}
	return out
}

// pipeline is a trench as the limits take it.
func (p *Plan) pipeline(d Dig) pipe.Pipeline {
	x, c := d.Excavation, d.source.Carries
	out := pipe.Pipeline{
		ID: x.ID, Purpose: c.Purpose, Section: x.Pipe, Nominal: d.source.Nominal, Roughness: c.Roughness, Flow: c.Flow,
		Method: c.Method, Under: c.Under, Bedding: x.Bedding, Width: x.Width + 2*x.Working, Widths: pipe.ByEN,
		Rock: safety.Soil(x.Soil) == safety.Rock, Cover: p.leastCover(d),
	}
	if p.Job.Style.System == unit.Imperial {
		out.Widths = pipe.ByASTM
	}
	sign := d.flowSign()
	var last *dig.Part
	for i := range d.Parts {
		part := &d.Parts[i]
		if !part.Run() {
			continue
		}
		out.Reaches = append(out.Reaches, pipe.Reach{Part: part.ID, From: part.From, To: part.To, Fall: unit.Grade(-sign) * part.Grade})
		if last != nil {
			at := part.Line[0]
			if step := last.BottomAt(at).Above(part.BottomAt(at)); step > unit.Micrometre || step < -unit.Micrometre {
				out.Drops = append(out.Drops, pipe.Drop{Station: part.From, Fall: unit.Length(sign) * step})
			}
		}
		last = part
	}
	return out
}

// flowSign is 1 where water runs onward from the first station, else −1. Water
// runs toward the lower end.
func (d Dig) flowSign() float64 {
	first, last := math.NaN(), math.NaN()
	for _, part := range d.Parts {
		if !part.Run() {
			continue
		}
		if math.IsNaN(first) {
			first = float64(part.BottomAt(part.Line[0]))
		}
		last = float64(part.BottomAt(part.Line[len(part.Line)-1]))
	}
	if last > first {
		return -1
	}
	return 1
}

// topOver is how far the top of a dig's pipe lies over its bottom.
func (d Dig) topOver() unit.Length {
	x := d.Excavation
	out := x.Bedding + x.Blinding + x.Subbase
	if x.Pipe != nil {
		out += x.Pipe.Outside
	}
	return out
}

// leastCover is the least ground over the pipe along its line, of the finished
// ground where that is given; nil where the ground is not known all along.
func (p *Plan) leastCover(d Dig) *pipe.LeastCover {
	ground := p.Job.Finished
	if ground == nil {
		ground = p.Job.Existing
	}
	if ground == nil {
		return nil
	}
	best := pipe.LeastCover{Cover: unit.Length(math.Inf(1))}
	for _, part := range d.Parts {
		if part.Run() && !coverUnder(ground, part, d.topOver(), &best) {
			return nil
		}
	}
	if math.IsInf(float64(best.Cover), 0) {
		return nil
	}
	return &best
}

// coverUnder takes in the cover along one part; false where the ground is not
// known. Ground and pipe are straight between the points of a profile.
func coverUnder(ground *job.Ground, part dig.Part, over unit.Length, best *pipe.LeastCover) bool {
	profile := ground.Profile(part.Line)
	for i, pt := range profile {
		if !pt.Known || pt.Gap && i+1 < len(profile) {
			return false
		}
		top := part.BottomAt(pt.At).Plus(over)
		if c := pipe.Cover(unit.Elevation(pt.Z), top); c < best.Cover {
			*best = pipe.LeastCover{Cover: c, Station: part.From + unit.Station(pt.Station)}
		}
	}
	return true
}

// reachesOf are the figures of a pipeline's reaches.
func reachesOf(line pipe.Pipeline) []Reach {
	out := make([]Reach, len(line.Reaches))
	for i, r := range line.Reaches {
		out[i].Reach = r
		if l, ok := pipe.LeastSlope(line.Purpose, line.Nominally()); ok {
			least := unit.Grade(l.Add)
			out[i].Least = &least
		}
		c, ok := line.Conduit(r)
		if !ok {
			continue
		}
		v, q := c.Full()
		out[i].Speed, out[i].Capacity = &v, &q
		if depth, speed, ok := c.Depth(line.Flow); ok && line.Flow > 0 {
			out[i].Depth, out[i].FlowsAt = &depth, &speed
		}
	}
	return out
}

// separate judges every sewer against every water pipe, planned or in the
// ground already.
func (p *Plan) separate() {
	sewers, waters := p.tracks()
	for _, s := range sewers {
		for _, w := range waters {
			if s.dug || w.dug {
				p.Findings = append(p.Findings, pipe.JudgeNear(s.Track, w.Track)...)
			}
		}
	}
}

// laid is a pipe in plan; dug says that it is dug by this job.
type laid struct {
	pipe.Track
	dug bool
}

// tracks are the sewers by their tops and the water pipes by their undersides.
func (p *Plan) tracks() (sewers, waters []laid) {
	for _, d := range p.Digs {
		purpose := d.source.Carries.Purpose
		if d.Excavation.Kind != dig.Trench {
			continue
		}
		switch {
		case purpose.Drains():
			sewers = append(sewers, laid{d.track(d.topOver()), true})
		case purpose == pipe.Water:
			half := unit.Length(0)
			if d.Excavation.Pipe != nil {
				half = d.Excavation.Pipe.Outside
			}
			waters = append(waters, laid{d.track(d.topOver() - half), true})
		}
	}
	for _, u := range p.Job.Utilities {
		switch u.Kind {
		case "water":
			waters = append(waters, laid{trackOf(u, -u.Size), false})
		case "sewer", "drain":
			sewers = append(sewers, laid{trackOf(u, 0), false})
		}
	}
	return sewers, waters
}

// track is the axis of a dig's pipe, over its bottom by a height.
func (d Dig) track(over unit.Length) pipe.Track {
	t := pipe.Track{ID: d.Excavation.ID, Known: true}
	if d.Excavation.Pipe != nil {
		t.Half = d.Excavation.Pipe.Outside / 2
	}
	for _, part := range d.Parts {
		for _, at := range part.Line {
			t.Line = append(t.Line, at.Raised(float64(part.BottomAt(at).Plus(over))))
		}
	}
	return t
}

// trackOf is a service; its level is known where it was exposed, and taken for
// level, and its size is given.
func trackOf(u job.Utility, over unit.Length) pipe.Track {
	t := pipe.Track{ID: u.ID, Half: u.Size / 2, Known: u.Exposed != nil && u.Size > 0}
	z := 0.0
	if u.Exposed != nil {
		z = float64(u.Exposed.Top.Plus(over))
	}
	for _, at := range u.Line {
		t.Line = append(t.Line, at.Raised(z))
	}
	return t
}

func (w *planWriter) pipe(p Pipe) {
	w.text("excavation", p.ID)
	w.textOrNull("purpose", string(p.Purpose))
	w.size("nominal", float64(p.Nominal))
	if p.Section != nil {
		w.number("inside", float64(p.Section.Inside()))
		w.number("outside", float64(p.Section.Outside))
	} else {
		w.null("inside", "outside")
	}
	n := p.Roughness
	if n == 0 {
		n = pipe.DefaultRoughness
	}
	w.number("roughness", n)
	w.size("flow", float64(p.Flow))
	w.key("cover")
	if p.Cover == nil {
		w.b = append(w.b, "null"...)
	} else {
		w.object(func() {
			w.number("least", float64(p.Cover.Cover))
			w.number("station", float64(p.Cover.Station))
		})
	}
	array(&w.encoder, "reaches", p.Reaches, w.reach)
	array(&w.encoder, "drops", p.Drops, func(d pipe.Drop) {
		w.number("station", float64(d.Station))
		w.number("fall", float64(d.Fall))
	})
}

// size writes a figure whose zero is not known.
func (w *planWriter) size(name string, v float64) {
	if v == 0 {
		w.null(name)
		return
	}
	w.number(name, v)
}

func (w *planWriter) reach(r Reach) {
	w.text("part", r.Part)
	w.number("from", float64(r.From))
	w.number("to", float64(r.To))
	w.number("fall", float64(r.Fall))
	optional(&w.encoder, "least_fall", r.Least)
	optional(&w.encoder, "velocity_full", r.Speed)
	optional(&w.encoder, "capacity", r.Capacity)
	optional(&w.encoder, "depth", r.Depth)
	optional(&w.encoder, "velocity", r.FlowsAt)
}
