package plan

import (
	"cmp"
	"math"
	"slices"

	"spadework/engine/geom"
	"spadework/engine/machine"
	"spadework/engine/phrase"
	"spadework/engine/stands"
	"spadework/engine/unit"
)

const (
	// tripodRoom is what a machine leaves free about a tripod, benchRoom about a
	// benchmark, from their middle. Assumed by this program: a machine that comes
	// nearer shakes what others trust.
	tripodRoom = 1.5 * unit.Metre
	benchRoom  = 0.5 * unit.Metre
)

// standNoDepth is why a dig without a known depth has no stand.
var standNoDepth = phrase.New("plan.stand_no_depth")

// standSite is the site as the stands room takes it, without cells and entry.
func (p *Plan) standSite(body machine.Machine) stands.Problem {
	q := stands.Problem{
		Machine: body, Setback: p.Bounds.PlantSetback.Distance, SpoilSetback: max(p.Bounds.SpoilSetback.Distance, p.Job.Spoil.Setback),
		Allowed: p.Job.Allowed.Machine, Ground: p.Job.Existing,
	}
	if q.Setback == 0 { // a rule set that tells none
		q.Setback = defaultSetback
	}
	if q.SpoilSetback == 0 {
		q.SpoilSetback = defaultSetback
	}
	q.Keepouts, q.Walls = p.standKeepouts(), p.standWalls()
	if t := p.Job.Trucks; t.Placed {
		q.Trucks = []geom.Point{t.At}
	}
	for _, n := range p.Numbers {
		if s, ok := p.Setup(n.Setup); ok && n.From == FromBeam {
			q.Sights = append(q.Sights, stands.Sight{From: s.Plane.At, To: n.At, Low: s.lowest(n.At)})
		}
	}
	for _, stake := range p.Stakes {
		q.Sights = append(q.Sights, stands.Sight{From: stake.point.At, To: stake.point.At})
	}
	return q
}

// lowest is what must stay under a beam where it stands and at a place, nil where
// the beam has no height.
func (s Setup) lowest(at geom.Point) *[2]unit.Elevation {
	if !s.Known {
		return nil
	}
	down := unit.Length(0)
	if s.Window != nil { // it may be set up as low as this
		down = max(0, s.Plane.HI.Above(s.Window.Low))
	}
	return &[2]unit.Elevation{s.Plane.Beam(s.Plane.At).Plus(-down - clearance), s.Plane.Beam(at).Plus(-down - clearance)}
}

// standKeepouts are where no machine, way or heap may be: no-go ground, heaps,
// tripods, benchmarks, the clearance along overhead lines, and digs of stands
// that the job tells, whose order is not known.
func (p *Plan) standKeepouts() []geom.Ring {
	var out []geom.Ring
	for _, k := range p.Job.Keepouts {
		out = append(out, k.Outline)
	}
	for _, h := range p.Job.Heaps {
		out = append(out, h.Outline)
	}
	for i := range p.Setups {
		out = append(out, square(p.Setups[i].Plane.At, tripodRoom))
	}
	for _, b := range p.Job.Benchmarks {
		if b.Placed {
			out = append(out, square(b.At, benchRoom))
		}
	}
	for i, line := range p.Job.Overheads {
		if i < len(p.Bounds.Clearances) {
			for k := 1; k < len(line.Line); k++ {
				out = append(out, geom.Band(line.Line[k-1:k+1], 2*float64(p.Bounds.Clearances[i].Distance)))
			}
		}
	}
	return slices.DeleteFunc(out, func(r geom.Ring) bool { return len(r) < 3 })
}

// standWalls are things that stand up: no tail swings into them.
func (p *Plan) standWalls() []geom.Ring {
	var out []geom.Ring
	for _, o := range p.Job.Obstacles {
		out = append(out, o.Outline)
	}
	for _, s := range p.Job.Structures {
		out = append(out, s.Outline)
	}
	return slices.DeleteFunc(out, func(r geom.Ring) bool { return len(r) < 3 })
}

func square(at geom.Point, half unit.Length) geom.Ring {
	return geom.BoxOf(at).Grown(float64(half)).Ring()
}

// entrySteps is how many places a side are looked at for the machine's way in,
// entryRings how far out from the digs.
const (
	entrySteps = 8
	entryRings = 4
)

// entry is where the machine comes in: as told, else the free place about the
// digs that is nearest to their south-west, on known ground.
func (p *Plan) entry(q stands.Problem) (at geom.Point, told bool) {
	if a := p.Job.Allowed; a.Entered {
		return a.Entry, true
	}
	box := geom.EmptyBox()
	for i := range q.Cells {
		box = box.Union(q.Cells[i].Ring.Bounds())
	}
	if box.Empty() {
		return geom.Point{}, false
	}
	room := float64(max(q.Machine.Base.Length, q.Machine.Base.Width)) + float64(q.Setback)
	corner := box.Grown(float64(entryRings) * room).Min
	var free []geom.Point
	for ring := 1; ring <= entryRings; ring++ {
		b := box.Grown(float64(ring) * room)
		for i := range entrySteps + 1 {
			for j := range entrySteps + 1 {
				at := geom.Point{X: b.Min.X + b.Width()*float64(i)/entrySteps, Y: b.Min.Y + b.Height()*float64(j)/entrySteps}
				if p.freeEntry(q, at, room) {
					free = append(free, at)
				}
			}
		}
	}
	if len(free) == 0 {
		return corner, false
	}
	return slices.MinFunc(free, func(a, b geom.Point) int { return cmp.Compare(a.Distance(corner), b.Distance(corner)) }), false
}

// freeEntry says that a machine has room to turn at a place.
func (p *Plan) freeEntry(q stands.Problem, at geom.Point, room float64) bool {
	if _, known := p.Job.Existing.Height(at); !known {
		return false
	}
	if len(q.Allowed) > 0 && (q.Allowed.Contains(at) == geom.Outside || lineGap(geom.Ring{at}, append(q.Allowed[:len(q.Allowed):len(q.Allowed)], q.Allowed[0])) < unit.Length(room)) {
		return false
	}
	clear := func(r geom.Ring) bool { return lineGap(r, []geom.Point{at}) >= unit.Length(room) }
	for _, list := range [][]geom.Ring{q.Keepouts, q.Walls} {
		for _, r := range list {
			if !clear(r) {
				return false
			}
		}
	}
	for _, c := range q.Cells {
		edge := c.Daylight
		if edge == nil {
			edge = c.Ring
		}
		if !clear(edge) {
			return false
		}
	}
	return true
}

// pointGap is how far a place lies from a ring, 0 within it.
func pointGap(ring geom.Ring, at geom.Point) float64 {
	if len(ring) == 0 {
		return math.Inf(1)
	}
	return float64(lineGap(ring, []geom.Point{at}))
}
