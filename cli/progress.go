package cli

import (
	"fmt"
	"os"
	"time"

	"golang.org/x/term"

	"spadework/engine/job"
	"spadework/engine/phrase"
	"spadework/engine/plan"
	"spadework/sheet"
)

// stepWork is how much work is done between two looks: some hundredths of a
// second.
const stepWork = 30_000_000

// patience is how long work goes on before anything is told of it.
const patience = time.Second

// make plans a job. Long work is told of where the errors go to a terminal, and
// ends with the best so far when the program is asked to stop.
func (a *app) make(j *job.Job, v sheet.View) (*plan.Plan, *phrase.Fault) {
	m, f := plan.NewMaker(j)
	if f != nil {
		return nil, f
	}
	f2, onTerminal := a.Err.(*os.File)
	onTerminal = onTerminal && term.IsTerminal(int(f2.Fd()))
	start, told := time.Now(), false
	for !m.Step(stepWork) && a.ctx.Err() == nil {
		if onTerminal && time.Since(start) > patience {
			fmt.Fprintf(a.Err, "\r\x1b[K%s", stageText(v, m))
			told = true
		}
	}
	if told {
		fmt.Fprint(a.Err, "\r\x1b[K")
	}
	if a.ctx.Err() != nil {
		fmt.Fprintln(a.Err, v.Text("cli.ended_early"))
	}
	return m.Plan()
}

// stageText is what planning is at.
func stageText(v sheet.View, m *plan.Maker) string {
	stage, done, total := m.Stage()
	key := map[plan.Progress]phrase.Key{
		plan.SurveyingPlaces: "cli.stage_places", plan.CountingSetups: "cli.stage_count",
		plan.BetteringSetups: "cli.stage_error", plan.WalkingSetups: "cli.stage_walk", plan.ExplainingSetups: "cli.stage_why",
		plan.SurveyingStands: "cli.stage_stand_places", plan.CountingStands: "cli.stage_stand_count",
		plan.OrderingStands: "cli.stage_stand_order", plan.HeapingStands: "cli.stage_stand_heaps", plan.AllDone: "cli.stage_stand_heaps",
	}[stage]
	share := int64(0)
	if total > 0 {
		share = 100 * done / total
	}
	return v.Text(key, phrase.With("done", int(done)), phrase.With("total", int(total)), phrase.With("share", int(share)))
}
