package cli

import (
	"cmp"
	"slices"
	"strconv"
	"sync"

	"spadework/engine/phrase"
	"spadework/engine/plan"
	"spadework/engine/rehearse"
	"spadework/sheet"
)

// rehearseCommand plays days with bumps before the job, to compare ways of
// closing.
type rehearseCommand struct {
	jobArgument
	Days  int    `help:"${help_rehearse_days}" default:"300"`
	Seed  uint64 `help:"${help_rehearse_seed}" default:"1"`
	Every []int  `help:"${help_rehearse_every}"`
}

// mostBudgetDays bounds the days drawn from the budget: some seconds.
const mostBudgetDays = 1000

// mostDays bounds a rehearsal: some minutes.
const mostDays = 20_000

// Run prints what the watch lets through, for each way of closing and kind of
// bump.
func (c *rehearseCommand) Run(a *app) error {
	p, v, err := a.loadPlan(c.jobArgument)
	if err != nil {
		return err
	}
	if c.Days < 20 || c.Days > mostDays {
		return outOfRange("cli.rehearse_days", c.Days, v)
	}
	for _, n := range c.Every {
		if n < 1 {
			return outOfRange("cli.rehearse_every", n, v)
		}
	}
	rows, fault := c.rehearsed(p)
	if fault != nil {
		return styled{fault, v.Language, v.Style}
	}
	budget, fault := rehearse.Judge(rehearse.BudgetForJob(p), rehearse.Nature{}, c.Seed, min(c.Days, mostBudgetDays), rehearse.Sound)
	if fault != nil {
		return styled{fault, v.Language, v.Style}
	}
	s := sheet.Rehearsal(v, rows, c.Days, c.Seed)
	s.Budget(budget[0])
	a.print(s)
	return nil
}

func outOfRange(key phrase.Key, value int, v sheet.View) error {
	return styled{phrase.NewFault(phrase.New(key, phrase.With("value", strconv.Itoa(value))), phrase.New(key+".remedy")), v.Language, v.Style}
}

// ways are the days to rehearse: every way of closing with every kind of bump.
func (c *rehearseCommand) ways(p *plan.Plan) []rehearse.BumpDay {
	base := rehearse.ForJob(p)
	every := c.Every
	if len(every) == 0 {
		every = []int{base.PerClose}
	}
	var out []rehearse.BumpDay
	for _, n := range every {
		for _, kind := range rehearse.BumpKinds() {
			day := base
			day.PerClose, day.Kind = min(n, day.Digs), kind
			out = append(out, day)
		}
	}
	return out
}

// rehearsed plays all of them at once; the rows keep their order, whatever ends
// first.
func (c *rehearseCommand) rehearsed(p *plan.Plan) ([]sheet.Rehearsed, *phrase.Fault) {
	ways := c.ways(p)
	rows := make([]sheet.Rehearsed, len(ways))
	faults := make([]*phrase.Fault, len(ways))
	var group sync.WaitGroup
	for i, day := range ways {
		group.Add(1)
		go func() {
			defer group.Done()
			all, f := day.Watched(c.Seed, c.Days, falseAlarms)
			if faults[i] = f; f != nil {
				return
			}
			k := slices.IndexFunc(all, func(e rehearse.Escapes) bool { return e.Method == rehearse.AsShipped })
			rows[i] = sheet.Rehearsed{Day: day, Escapes: all[k]}
			for _, e := range all {
				if e.Method == rehearse.Bayes {
					rows[i].Alarm = e.Limit
				}
			}
		}()
	}
	group.Wait()
	return rows, cmp.Or(faults...)
}

// falseAlarms is the share of unbumped days that the charts beside the watch are
// set to; the watch itself has no such limit.
const falseAlarms = 0.01
