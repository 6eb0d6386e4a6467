package plan

import (
	"spadework/engine/beam"
	"spadework/engine/dig"
	"spadework/engine/geom"
	"spadework/engine/trust"
	"spadework/engine/unit"
)

// ConditionKind is what a tolerance asks of two places of a dig together.
type ConditionKind string

// The kinds.
const (
	KeepsFall  ConditionKind = "fall"       // a fall as designed
	KeepsLevel ConditionKind = "level_over" // levelness over a length
	NoReverse  ConditionKind = "no_reverse" // no piece falls the other way
	EqualEnds  ConditionKind = "equal"      // outlets at one level
)

// Condition is such a demand under the beam of one set-up, with its chance: what
// both places share under the beam drops out.
type Condition struct {
	Excavation, Part, Setup string
	Kind                    ConditionKind
	From, To                geom.Point
	Limit                   unit.Length // most that the heights of both may depart from each other
	Outlook                 trust.Outlook
	Chance                  unit.Chance // NaN where it is not known
}

// findConditions works out the conditions of every dig under every set-up that
// gives it a number.
func (p *Plan) findConditions() {
	walk := digWalk{p: p}
	for i := 0; i < len(p.Numbers); {
		id, last := p.Numbers[i].Excavation, ""
		d := walk.to(id)
		t := d.Excavation.Tolerance
		asks := t != nil && (t.Fall > 0 || t.LevelOver > 0 || t.NoReverse || t.Equal > 0)
		var seen []string
		for ; i < len(p.Numbers) && p.Numbers[i].Excavation == id; i++ {
			n := &p.Numbers[i]
			if asks && n.From == FromBeam && n.Setup != last && !contains(seen, n.Setup) {
				seen, last = append(seen, n.Setup), n.Setup
				c := conditions{p: p, d: d, s: p.setup(n.Setup)}
				c.find(*t)
			}
		}
	}
}

func contains(ids []string, id string) bool {
	for _, x := range ids {
		if x == id {
			return true
		}
	}
	return false
}

// conditions works out those of one dig under one set-up.
type conditions struct {
	p *Plan
	d *Dig
	s *Setup
}

func (c conditions) find(t dig.Tolerance) {
	for i := range c.d.Parts {
		part := &c.d.Parts[i]
		from, to, ok := endsOf(part)
		if !ok {
			continue
		}
		length := unit.Length(from.Distance(to))
		if t.Fall > 0 && part.Run() {
			c.add(KeepsFall, part, [2]geom.Point{from, to}, t.Fall.Over(length))
		}
		if t.LevelOver > 0 {
			c.add(KeepsLevel, part, [2]geom.Point{from, to}, t.Levelness(length))
		}
		if t.NoReverse && part.Run() && part.Grade != 0 {
			c.reverse(part)
		}
	}
	if t.Equal > 0 {
		c.equal(t.Equal)
	}
}

// endsOf are the places of a part that lie furthest apart: the ends of a run, two
// corners of an area.
func endsOf(part *dig.Part) (from, to geom.Point, ok bool) {
	if part.Run() {
		return part.Line[0], part.Line[len(part.Line)-1], true
	}
	apart := 0.0
	for i, a := range part.Outline {
		for _, b := range part.Outline[i+1:] {
			if d := a.Distance(b); d > apart {
				from, to, apart = a, b, d
			}
		}
	}
	return from, to, apart > 0
}

// end is a place with the rod over it.
func (c conditions) end(at geom.Point, bottom unit.Elevation) trust.End {
	return trust.End{At: at, Rod: c.s.Plane.GradeRod(at, bottom)}
}

func (c conditions) difference(part *dig.Part, ends [2]geom.Point) trust.Outlook {
	return c.s.belief.Difference(c.end(ends[0], part.BottomAt(ends[0])), c.end(ends[1], part.BottomAt(ends[1])), c.s.way)
}

func (c conditions) add(kind ConditionKind, part *dig.Part, ends [2]geom.Point, most unit.Length) {
	o := c.difference(part, ends)
	c.keep(Condition{Part: part.ID, Kind: kind, From: ends[0], To: ends[1], Limit: most, Outlook: o, Chance: o.Differs(most)})
}

func (c conditions) keep(out Condition) {
	out.Excavation, out.Setup = c.d.Excavation.ID, c.s.ID
	c.p.Conditions = append(c.p.Conditions, out)
}

// reverse judges the piece between two numbers that is likeliest to fall the
// other way: a piece of the job's interval, or the whole where it is shorter.
// Shorter pieces are not judged: two readings side by side tell nothing of a
// fall.
func (c conditions) reverse(part *dig.Part) {
	length := unit.Length(part.To - part.From)
	piece := min(c.p.Job.Interval, length)
	from, to := part.PointAt(part.To-unit.Station(piece)), part.PointAt(part.To)
	drop := part.Grade.Over(piece)
	if drop > 0 { // rises onward: looked at from its high end
		from, to = to, from
	}
	o := c.difference(part, [2]geom.Point{from, to})
	drop = max(drop, -drop)
	c.keep(Condition{Part: part.ID, Kind: NoReverse, From: from, To: to, Limit: drop, Outlook: o, Chance: o.KeepsFall(drop)})
}

// equal judges the outlets of a box, or the trenches of a field at their first
// points.
func (c conditions) equal(most unit.Length) {
	var ends []trust.End
	for _, pt := range c.d.Points(c.p.Job.Interval) {
		box := c.d.Excavation.Kind == dig.Box && pt.Kind == dig.Outlet
		field := c.d.Excavation.Kind == dig.Field && pt.Kind == dig.Start
		if box || field {
			ends = append(ends, c.end(pt.At, pt.Bottom))
		}
	}
	if len(ends) < 2 {
		return
	}
	from, to, way := ends[0], ends[len(ends)-1], c.s.way
	if c.d.Excavation.Kind == dig.Box { // outlets are set by hand to the rod, not dug
		way.Guidance, way.Trimming = beam.ByRod, 0
	}
	c.keep(Condition{
		Kind: EqualEnds, From: from.At, To: to.At, Limit: most,
		Outlook: c.s.belief.Difference(from, to, way), Chance: c.s.belief.Equal(ends, way, most),
	})
}
