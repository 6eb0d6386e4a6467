package plan

import (
	"slices"
	"strconv"

	"spadework/engine/geom"
	"spadework/engine/machine"
	"spadework/engine/phrase"
	"spadework/engine/stands"
	"spadework/engine/unit"
)

// Stands is where the machine stands, in its order.
type Stands struct {
	Machine string
	Rows    []Stand
	Out     []geom.Point // the way out after the last stand
	Hand    []Work       // by hand after the machine has left
	Entry   geom.Point
	Told    bool // the job tells the entry
	Travel  unit.Length
	Missed  []Unserved // what no stand digs
	Turned  []Unserved // gravity runs that are not dug from their low end, and why that cannot be done

	Count, Bound int
	Proven       bool // among the places of the lattice nothing goes with fewer
	Candidates   int
	Cells        int

	problem stands.Problem
	made    stands.Plan
}

// Stand is one place that the machine works from.
type Stand struct {
	ID     string // its number in the order
	Place  machine.Place
	Path   []geom.Point // from the stand before
	Setup  string       // that its digs have their numbers from; "" none, or several, which the work tells
	Digs   []string
	Work   []Work
	Opened []Work // by hand before the machine comes
	Heaps  []stands.Heap
	Loaded unit.Volume // on a truck at the job's truck place
	Carted unit.Volume // loose, with room neither for a heap nor for a truck
	Turned bool        // the number has another set-up than at the stand before
}

// Work is a piece of a dig that is dug from one stand.
type Work struct {
	Excavation, Part string
	Outline          geom.Ring // of its bottom
	Hand             bool      // hands or vacuum only
	From, To         unit.Station
	Run              bool // From and To hold
	Setup            string
	Stages           []Stage
	whole            bool // all of the dig
}

// Whole says that the work is all of its dig.
func (w Work) Whole() bool { return w.whole }

// standing is the question where the machine stands, and what its cells are.
type standing struct {
	p      *Plan
	out    *Stands
	work   []Work // by cell
	solver *stands.Solver
}

// newStanding puts the question; needs says what a job does not tell, zero where
// it has no digs or no machine.
func (p *Plan) newStanding() (s *standing, needs phrase.Message) {
	if len(p.Job.Machines) == 0 || len(p.Digs) == 0 {
		return nil, phrase.Message{}
	}
	body, needs := p.standingMachine()
	if !needs.IsZero() {
		return nil, needs
	}
	if p.Job.Existing == nil {
		return nil, phrase.New("plan.stand_ground")
	}
	s = &standing{p: p, out: &Stands{Machine: body.ID}}
	s.out.problem = p.standSite(body)
	s.dig()
	s.tie()
	s.out.problem.Entry, s.out.Told = p.entry(s.out.problem)
	s.out.Entry = s.out.problem.Entry
	s.out.Cells = len(s.work)
	s.solver = stands.New(s.out.problem, standWork)
	return s, phrase.Message{}
}

// standingMachine is the first machine that tells its footprint and its reach.
func (p *Plan) standingMachine() (machine.Machine, phrase.Message) {
	var needs phrase.Message
	for _, m := range p.Job.Machines {
		body := m.Body()
		switch {
		case !body.Base.Known():
			needs = phrase.New("plan.stand_footprint", phrase.With("machine", m.ID))
		case !body.Envelope.Known():
			needs = phrase.New("plan.stand_reach", phrase.With("machine", m.ID))
		default:
			return body, phrase.Message{}
		}
	}
	return machine.Machine{}, needs
}

// step works on the stands. Where a gravity run cannot be dug from its low end,
// it is asked for in any order.
func (s *standing) step(work int64) (done bool) {
	if !s.solver.Step(work) {
		return false
	}
	best, _ := s.solver.Best()
	if !s.giveUp(best) {
		return true
	}
	s.solver = stands.New(s.out.problem, standWork)
	return false
}

// giveUp frees the gravity runs that an order keeps from being dug, and says
// whether there are any.
func (s *standing) giveUp(best stands.Plan) bool {
	more := false
	digs := s.out.problem.Digs
	defer func() { sortUnserved(s.out.Turned) }()
	for _, u := range best.Unserved {
		d := s.out.problem.Cells[u.Cell].Dig
		if waits := u.Why == stands.Waits || u.Why == stands.NoWay || u.Why == stands.NoGround; !waits || !digs[d].InOrder {
			continue
		}
		digs[d].InOrder, more = false, true
		w := s.work[u.Cell]
		s.out.Turned = append(s.out.Turned, Unserved{Excavation: w.Excavation, Part: w.Part, Reason: phrase.New(missed[u.Why])})
	}
	return more
}

// takeStands takes the best stands found over; nothing where work ended before
// there were any.
func (p *Plan) takeStands(s *standing) {
	made, ok := s.solver.Best()
	if !ok {
		return
	}
	out := s.out
	out.made, out.Out, out.Travel = made, made.Out, made.Travel
	out.Count, out.Bound, out.Candidates = len(made.Visits), s.solver.Bound(), s.solver.Candidates()
	out.Proven = len(made.Unserved) == 0 && out.Count <= out.Bound
	for _, c := range made.Hand {
		out.Hand = append(out.Hand, s.work[c])
	}
	for i, v := range made.Visits {
		out.Rows = append(out.Rows, s.stand(i, v))
	}
	s.miss(made.Unserved)
	sortUnserved(out.Missed)
	p.Stands = out
	p.assignSetups()
	p.assignStands()
	p.placePlant()
}

// stand is one visit in the words of the plan.
func (s *standing) stand(i int, v stands.Visit) Stand {
	out := Stand{ID: strconv.Itoa(i + 1), Place: v.Stand, Path: v.Path, Heaps: v.Heaps, Loaded: v.Loaded, Carted: v.Carted}
	out.Work, out.Opened = s.works(v.Cells), s.works(v.Opened)
	for _, list := range [][]Work{out.Opened, out.Work} {
		for _, w := range list {
			out.Digs = append(out.Digs, w.Excavation)
		}
	}
	out.Digs = distinctIDs(out.Digs)
	return out
}

// works are the pieces behind cells, in the order of digging.
func (s *standing) works(cells []int) []Work {
	out := make([]Work, 0, len(cells))
	for _, c := range cells {
		out = append(out, s.work[c])
	}
	return out
}

// missed are the words for why a cell is not dug.
var missed = map[stands.Why]phrase.Key{
	stands.NoReach: "plan.stand_no_reach", stands.NoGround: "plan.stand_no_ground", stands.NoWay: "plan.stand_no_way",
	stands.Waits: "plan.stand_waits", stands.Ambiguous: "plan.stand_ring", stands.NotConvex: "plan.stand_no_shape", stands.NoBeam: "plan.stand_no_beam",
}

// miss tells what no stand digs, one row for each dig, part and reason.
func (s *standing) miss(list []stands.Unserved) {
	type row struct {
		excavation, part string
		why              stands.Why
	}
	told := map[row]bool{}
	for _, u := range list {
		w := s.work[u.Cell]
		if key := (row{w.Excavation, w.Part, u.Why}); !told[key] {
			told[key] = true
			s.out.Missed = append(s.out.Missed, Unserved{Excavation: w.Excavation, Part: w.Part, Reason: phrase.New(missed[u.Why])})
		}
	}
}

// placePlant lets the safety rules judge the stands.
func (p *Plan) placePlant() {
	open := map[string][]geom.Ring{}
	problem := p.Stands.problem
	body := problem.Machine
	for i, row := range p.Stands.Rows {
		v := p.Stands.made.Visits[i]
		for _, c := range append(v.Opened[:len(v.Opened):len(v.Opened)], v.Cells...) {
			cell := problem.Cells[c]
			id := p.Digs[cell.Dig].Excavation.ID
			edge := cell.Daylight
			if edge == nil {
				edge = cell.Ring
			}
			open[id] = append(open[id][:len(open[id]):len(open[id])], edge)
		}
		at := Plant{ID: row.ID, Machine: body, Place: row.Place, Digs: row.Digs, open: map[string][]geom.Ring{}}
		for _, id := range row.Digs {
			at.open[id] = open[id]
		}
		p.planned = append(p.planned, at)
	}
}

// Played moves the machine through the plan with a checker of its own and is the
// first rule that it breaks, nil for none.
func (s *Stands) Played() *stands.Violation { return stands.Play(s.problem, s.made) }

// standWork is how much work goes into the proof of the fewest stands: about a
// tenth of a second.
const standWork = 100_000_000

// IDs are the names of the stands in their order.
func (s *Stands) IDs() []string {
	out := make([]string, 0, len(s.Rows))
	for _, row := range s.Rows {
		out = append(out, row.ID)
	}
	return out
}

// Has says that a stand has that name.
func (s *Stands) Has(id string) bool { return slices.Contains(s.IDs(), id) }

// Of are the stands that a dig is dug from, in their order.
func (s *Stands) Of(excavation string) []Stand {
	var out []Stand
	for _, row := range s.Rows {
		if slices.Contains(row.Digs, excavation) {
			out = append(out, row)
		}
	}
	return out
}
