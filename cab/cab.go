package cab

import (
	"maps"
	"slices"

	"spadework/engine/guard"
	"spadework/engine/job"
	"spadework/engine/phrase"
	"spadework/engine/plan"
	"spadework/engine/record"
	"spadework/engine/tell"
	"spadework/exchange"
)

// Opening is what a job is opened from.
type Opening struct {
	ID       string          `json:"id"`
	Bundle   exchange.Bundle `json:"bundle"`
	Revision int64           `json:"revision"`
	Device   string          `json:"device"`
	Language phrase.Language `json:"language"` // "": the job's
	Today    string          `json:"today"`    // YYYY-MM-DD
	Foremen  []string        `json:"foremen"`
	Comma    *bool           `json:"comma"`   // the decimal mark, null: the job's
	Records  []string        `json:"records"` // canonical, in any order
}

// Cab is an open job.
type Cab struct {
	opening Opening
	drawn   *job.Job // as the bundle says it
	view    tell.View
	records []record.Record
	held    map[record.ID]record.Hash // of records
	state   *record.State
	planning
	beams    []guard.Beam
	reaches  *plan.ReachMap // nil not asked for yet
	cautions *plan.DigCautions
}

// Open reads and plans a job.
func Open(o Opening, progress func(Progress)) (*Cab, *phrase.Fault) {
	if f := o.Bundle.Check(); f != nil {
		return nil, f
	}
	j, voice, err := o.Bundle.Job()
	if err != nil {
		return nil, faultOf(err)
	}
	j.Today = o.Today
	c := &Cab{opening: o, drawn: j, view: tell.View{Language: voice.Language, Style: voice.Style}, held: map[record.ID]record.Hash{}}
	if o.Language != "" {
		c.view.Language = o.Language
	}
	if o.Comma != nil {
		c.view.Style.Comma = *o.Comma
	}
	if _, f := c.take(o.Records); f != nil {
		return nil, f
	}
	if f := c.replan(progress); f != nil {
		return nil, f
	}
	return c, c.watched()
}

// take adds records that are not here yet; made says that a set-up was among
// them.
func (c *Cab) take(lines []string) (made bool, f *phrase.Fault) {
	for _, line := range lines {
		r, f := record.Decode([]byte(line))
		if f != nil {
			return made, f
		}
		if hash, here := c.held[r.ID]; here && hash == r.Hash() {
			continue
		}
		c.held[r.ID] = r.Hash()
		c.records = append(c.records, r)
		made = made || touchesSetups(r.Kind())
	}
	c.state = record.Replay(record.Input{Records: c.records, Foremen: c.opening.Foremen})
	return made, nil
}

// touchesSetups says that a record may change which beams there are.
func touchesSetups(k record.Kind) bool {
	return k == record.KindSetup || k == record.KindCorrection || k == record.KindAccept
}

// Add takes records in and plans anew where they made a set-up. A fault leaves
// records and plan as they were.
func (c *Cab) Add(lines []string, progress func(Progress)) *phrase.Fault {
	next := *c
	next.held, next.records = maps.Clone(c.held), slices.Clip(c.records)
	made, f := next.take(lines)
	if f == nil && made {
		f = next.replan(progress)
	}
	if f == nil {
		f = next.watched()
	}
	if f == nil {
		*c = next
	}
	return f
}

// Progress is how far a plan is.
type Progress struct {
	Stage string `json:"stage"`
	Done  int64  `json:"done"`
	Of    int64  `json:"of"`
}

// stepWork is how much work is done between two words of progress.
const stepWork = 10_000_000

func (c *Cab) replan(progress func(Progress)) *phrase.Fault {
	p, f := planned(c.drawn, c.state, progress)
	if f != nil {
		return f
	}
	c.planning, c.cautions, c.reaches = p, p.plan.DigCautions(), nil
	return nil
}

// made plans a job step by step.
func made(j *job.Job, progress func(Progress)) (*plan.Plan, *phrase.Fault) {
	m, f := plan.NewMaker(j)
	if f != nil {
		return nil, f
	}
	for !m.Step(stepWork) {
		if progress != nil {
			stage, done, of := m.Stage()
			progress(Progress{string(stage), done, of})
		}
	}
	return m.Plan()
}
