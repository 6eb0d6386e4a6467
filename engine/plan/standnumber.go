package plan

import (
	"slices"

	"spadework/engine/beam"
	"spadework/engine/geom"
	"spadework/engine/job"
	"spadework/engine/reception"
	"spadework/engine/unit"
)

// Stage is a step of digging a piece: how high over the bottom it ends.
type Stage struct {
	Name StageName
	Left unit.Length // over the bottom, ≥ 0
}

// StageName names a stage.
type StageName string

// The stages, in their order.
const (
	Rough  StageName = "rough"  // with a cut left on, for the day of the pour
	Finish StageName = "finish" // what the machine leaves
	Trim   StageName = "trim"   // by hand, to the bottom
)

// usualLeave is the cut left on where a bottom is finished on the day of the
// pour and the job tells none: 2 in (common practice 2 to 4 in).
const usualLeave = 2 * unit.Inch

// stages are those of a dig's pieces.
func (p *Plan) stages(d *Dig, hand bool) []Stage {
	if hand {
		return []Stage{{Trim, 0}}
	}
	var out []Stage
	leave := p.Job.Practice.Leave
	if leave == 0 && d.Excavation.FinishOnPourDay {
		leave = usualLeave
	}
	if leave > 0 {
		out = append(out, Stage{Rough, leave})
	}
	if aim := p.aimOf(d.Excavation.ID); p.Job.WorkTo == job.Aim && aim > 0 {
		return append(out, Stage{Finish, aim}, Stage{Trim, 0})
	}
	return append(out, Stage{Finish, 0})
}

// aimOf is the greatest aim over a dig's numbers, 0 for none.
func (p *Plan) aimOf(id string) unit.Length {
	out := unit.Length(0)
	for _, n := range p.Numbers {
		if n.Excavation == id {
			out = max(out, n.Trust.Aim)
		}
	}
	return out
}

// tie asks for the beam at every stand where the machine catches it for its
// sensors: that of some set-up that has numbers for the cell.
func (s *standing) tie() {
	setups := s.sensing()
	if len(setups) == 0 {
		return
	}
	sites, _, f := s.p.newSites()
	if f != nil || sites == nil {
		return
	}
	type asked struct {
		at    geom.Point
		setup int
	}
	known := map[asked]bool{}
	received := func(at geom.Point, i int) bool {
		got, ok := known[asked{at, i}]
		if !ok {
			got = sites.caught(&s.p.Setups[i], at)
			known[asked{at, i}] = got
		}
		return got
	}
	serving := make([][]int, len(s.work))
	for c, w := range s.work {
		for _, i := range setups {
			if s.p.numbered(w.Excavation, s.p.Setups[i].ID) {
				serving[c] = append(serving[c], i)
			}
		}
	}
	s.out.problem.Tied = func(at geom.Point, cell int) bool {
		return len(serving[cell]) == 0 || slices.ContainsFunc(serving[cell], func(i int) bool { return received(at, i) })
	}
}

// sensing are the set-ups whose beam the machine catches at its stand.
func (s *standing) sensing() []int {
	var out []int
	for i, set := range s.p.Setups {
		if set.Guidance == beam.SensorsBeam && set.Known {
			out = append(out, i)
		}
	}
	return out
}

// caught says that a machine at a place receives the beam of a set-up.
func (s *sites) caught(set *Setup, at geom.Point) bool {
	low, high := crew{set.Guidance, set.Machine, set.Rod}.span()
	t, ok := s.field.Foot(at, low, high)
	return ok && unit.Length(at.Distance(set.Plane.At)) <= set.Laser.Range &&
		s.field.Serves(reception.Laser{At: set.Plane.At, Gradient: set.Plane.Gradient}, set.Plane.HI, t)
}

// numbered says that a dig has a number from a set-up.
func (p *Plan) numbered(excavation, setup string) bool {
	return slices.ContainsFunc(p.Numbers, func(n Number) bool { return n.Excavation == excavation && n.Setup == setup })
}

// assignSetups gives each piece the set-up that its numbers come from: the one
// in use where it can be, else a live one, else the first.
func (p *Plan) assignSetups() {
	byDig := map[string][]int{}
	for i, n := range p.Numbers {
		byDig[n.Excavation] = append(byDig[n.Excavation], i)
	}
	use := ""
	for i := range p.Stands.Rows {
		row := &p.Stands.Rows[i]
		before := use
		for _, list := range [][]Work{row.Opened, row.Work} {
			for k := range list {
				list[k].Setup = p.setupFor(byDig[list[k].Excavation], &list[k], use)
				if list[k].Setup != "" {
					use = list[k].Setup
				}
			}
		}
		row.Setup = oneSetup(row.Work)
		row.Turned = before != "" && use != before
	}
}

// setupFor is the set-up of a piece's nearest number that is to be preferred.
func (p *Plan) setupFor(numbers []int, w *Work, use string) string {
	nearest := map[string]float64{}
	var ids []string
	for _, i := range numbers {
		n := &p.Numbers[i]
		if n.Setup == "" || n.Part != w.Part && n.Part != "" {
			continue
		}
		gap := pointGap(w.Outline, n.At)
		if old, seen := nearest[n.Setup]; !seen {
			ids = append(ids, n.Setup)
			nearest[n.Setup] = gap
		} else {
			nearest[n.Setup] = min(old, gap)
		}
	}
	best := ""
	for _, id := range ids {
		if best == "" || p.preferred(id, best, use) {
			best = id
		}
	}
	return best
}

// preferred says that a set-up is better to work from than another.
func (p *Plan) preferred(id, than, use string) bool {
	if (id == use) != (than == use) {
		return id == use
	}
	a, _ := p.Setup(id)
	b, _ := p.Setup(than)
	return a.State == beam.Live && b.State != beam.Live
}

// oneSetup is the set-up that all pieces share, "" for several.
func oneSetup(work []Work) string {
	id := ""
	for i, w := range work {
		if i > 0 && w.Setup != id {
			return ""
		}
		id = w.Setup
	}
	return id
}

// assignStands tells for every number the stand that its place is dug from, and
// the stage that it is the number of.
func (p *Plan) assignStands() {
	type piece struct {
		stand string
		work  *Work
	}
	pieces := map[string][]piece{}
	for i := range p.Stands.Rows {
		row := &p.Stands.Rows[i]
		for _, list := range [][]Work{row.Opened, row.Work} {
			for k := range list {
				pieces[list[k].Excavation] = append(pieces[list[k].Excavation], piece{row.ID, &list[k]})
			}
		}
	}
	for i := range p.Numbers {
		n := &p.Numbers[i]
		best := 0.0
		for _, at := range pieces[n.Excavation] {
			gap := pointGap(at.work.Outline, n.At)
			if at.work.Part != n.Part && n.Part != "" {
				gap += 1e3 // another part's only where there is no other
			}
			if n.Stand == "" || gap < best-1e-9 {
				best, n.Stand = gap, at.stand
				n.Stage = at.work.Stages[len(at.work.Stages)-1].Name
			}
		}
	}
}

// sortUnserved sorts by dig as people count.
func sortUnserved(list []Unserved) {
	slices.SortStableFunc(list, func(a, b Unserved) int { return compareIDs(a.Excavation, b.Excavation) })
}

// sortIDs sorts ids as people count.
func sortIDs(ids []string) { slices.SortStableFunc(ids, compareIDs) }

// distinctIDs drops the later of equal ids and sorts them.
func distinctIDs(ids []string) []string {
	sortIDs(ids)
	return slices.Compact(ids)
}
