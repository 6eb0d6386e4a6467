package plan

import (
	"errors"
	"slices"

	"spadework/engine/beam"
	"spadework/engine/dig"
	"spadework/engine/job"
	"spadework/engine/phrase"
	"spadework/engine/safety"
	"spadework/engine/unit"
)

// Plan is what a job comes to. Rows are sorted by id as people count.
type Plan struct {
	Job      *job.Job
	Setups   []Setup
	Digs     []Dig
	Numbers  []Number
	Stakes   []Stake
	Lines    []GradeLine // of runs whose grade is open
	Pipes    []Pipe
	Findings []phrase.Finding
	Unserved []Unserved

	Turns      []Turn      // in the order they were read
	Conditions []Condition // of falls, levelness and outlets, with their chance

	Counts job.Counts
	Bounds safety.Bounds // what the rules keep free, worked out before planning

	Quantities *Quantities // nil: no existing ground

	book         safety.Book
	digsAsJudged []safety.Dig        // the digs as the safety rules see them
	judged       []phrase.Finding    // by the safety rules, before any release
	logged       []safety.Entry      // of the log, beside those of the job
	safetyTo     int                 // how many findings there are up to the last of the safety rules
	others       [2][]phrase.Finding // findings told before and after those of the safety rules
	cells        map[string][]Cell   // of digs that a zone comes near
	planned      []Plant             // stands that a planner chose

	Stands     *Stands        // nil: no machine, or the job does not tell enough
	StandNeeds phrase.Message // what planning stands wants told, zero: nothing

	Siting    *Siting                   // nil: the job leaves no set-up out, or does not tell enough to plan one
	needs     phrase.Message            // what planning a set-up wants told, zero: nothing
	undialled map[string]phrase.Message // digs for which the laser cannot be dialled
}

// Dig is an excavation resolved, with how deep it goes under existing ground.
type Dig struct {
	dig.Dig
	Depth  *Depth // nil where the survey does not cover it
	Earth  *Earth // nil: no existing ground
	source job.Excavation
}

// Unserved is a dig, or a part of one, without a number, and why.
type Unserved struct {
	Excavation, Part string
	Reason           phrase.Message
}

// resolveDigs turns every excavation into its parts.
func (p *Plan) resolveDigs() *phrase.Fault {
	site := siteOf(p.Job)
	p.Digs = make([]Dig, 0, len(p.Job.Excavations))
	rows := 0.0
	for _, x := range p.Job.Excavations {
		if f := p.chooseGrade(&x); f != nil {
			return x.Fault(f)
		}
		d, err := dig.Resolve(x.Excavation, site)
		if err != nil {
			return x.Fault(faultOf(err))
		}
		rows += rowsOf(d, p.Job.Interval)
		if !(rows <= maxRows) {
			return x.Fault(tooManyRows(p.Job.Interval))
		}
		p.Digs = append(p.Digs, Dig{Dig: d, Depth: depthOf(d, p.Job.Existing), source: x})
	}
	slices.SortStableFunc(p.Digs, func(a, b Dig) int { return compareIDs(a.Excavation.ID, b.Excavation.ID) })
	return nil
}

// maxRows bounds the points along all runs, so that a slip in the interval does
// not fill the memory: a million is 10 km at a centimetre.
const maxRows = 1_000_000

// rowsOf is how many points an interval asks for along the runs of a dig.
func rowsOf(d dig.Dig, interval unit.Length) float64 {
	rows := 0.0
	for _, part := range d.Parts {
		rows += float64(part.To-part.From) / float64(interval)
	}
	return rows
}

func tooManyRows(interval unit.Length) *phrase.Fault {
	return phrase.NewFault(phrase.New("plan.too_many_rows", phrase.With("interval", interval), phrase.With("limit", maxRows)),
		phrase.New("plan.too_many_rows.remedy"))
}

// faultOf is the fault inside an error of an engine room, all of which return
// faults for what a user can cause.
func faultOf(err error) *phrase.Fault {
	var f *phrase.Fault
	if errors.As(err, &f) {
		return f
	}
	return phrase.NewFault(phrase.New("job.unreadable", phrase.With("detail", err.Error())), phrase.Message{})
}

// Dig finds an excavation by its id.
func (p *Plan) Dig(id string) (Dig, bool) {
	i := slices.IndexFunc(p.Digs, func(d Dig) bool { return d.Excavation.ID == id })
	if i < 0 {
		return Dig{}, false
	}
	return p.Digs[i], true
}

// Setup finds a set-up by its tag.
func (p *Plan) Setup(id string) (Setup, bool) {
	i := slices.IndexFunc(p.Setups, func(s Setup) bool { return s.ID == id })
	if i < 0 {
		return Setup{}, false
	}
	return p.Setups[i], true
}

// band is the tolerance of a dig as the beam room takes it, zero if it has none.
func (d Dig) band() beam.Band {
	t := d.Excavation.Tolerance
	if t == nil {
		return beam.Band{}
	}
	return beam.Band{Above: t.Above, Below: t.Below}
}

// InTolerance says whether a deviation (+ too high) keeps the dig's tolerance;
// known is false for a dig without one.
func (d Dig) InTolerance(deviation unit.Length) (within, known bool) {
	t := d.Excavation.Tolerance
	if t == nil {
		return false, false
	}
	return deviation <= t.Above+rounding && -deviation <= t.Below+rounding, true
}

// rounding is the difference under which two heights are one: what float64
// leaves of figures snapped to a micrometre.
const rounding = unit.Micrometre / 1000
