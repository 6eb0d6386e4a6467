package rehearse

import (
	"io/fs"
	"testing"

	"spadework/engine/job"
	"spadework/engine/plan"
	"spadework/examples"
	"spadework/exchange"
)

func TestForJobTakesTheJobsOwnFigures(t *testing.T) {
	j := exampleJob(t, "alder-quay")
	j.Risk.Jump, j.Risk.Tilt, j.Closes.EveryDigs = 0.02, 3e-4, 6
	j.Risk.BeamAlarm, j.Risk.Twist, j.Closes.Hours = 0.02, 0.01, 10
	p, f := plan.Make(j)
	if f != nil {
		t.Fatal(f)
	}
	s := ForJob(p)
	if s.Digs != len(p.Digs) || s.Height != 0.02 || s.Tilt != 3e-4 || s.PerClose != 6 || s.Points != 2 ||
		s.Alarm != 0.02 || s.Twist != 0.01 || s.Hours != 10 {
		t.Errorf("ForJob = %+v, want the job's digs, jump, tilt, closes and two benchmarks", s)
	}
	// The narrowest band of the example: nothing high and 1 in low.
	if want := 0.0127; !(s.Tolerance > want-1e-9 && s.Tolerance < want+1e-9) {
		t.Errorf("ForJob tolerance = %v m, want %v (tol 1e-9 m)", s.Tolerance, want)
	}
}

// TestABudgetOfAJob: days drawn from the example's own budget come out as they are
// told: the mean chance of being in within four standard errors of what happens, no
// group of four.
func TestABudgetOfAJob(t *testing.T) {
	tooSlowInThePhone(t)
	p := examplePlan(t, "alder-quay")
	s := BudgetForJob(p)
	if s.Digs != len(p.Digs) || s.Guided != ByRod || s.Known != 0.002 || !(s.DeadBand-0.003 < 1e-9 && s.DeadBand-0.003 > -1e-9) || s.Eye != 0 {
		t.Errorf("BudgetForJob = %+v, want the job's digs, rods, benchmarks of 2 mm and a dead band of 3 mm", s)
	}
	all, f := Judge(s, Nature{}, seed, 200, Sound)
	if f != nil {
		t.Fatal(f)
	}
	v := all[0]
	if _, z := v.Worst(); !(z < 4) {
		t.Errorf("a group's |z| is %.1f: %+v", z, v.Groups)
	}
	if !(v.Over > 0 && v.Over <= v.Out) || !(v.Told-(1-v.Out) < 0.02 && v.Told-(1-v.Out) > -0.02) {
		t.Errorf("told in %.4f, happened %.4f, of all %.4f ended too low", v.Told, 1-v.Out, v.Over)
	}
}

// exampleJob is an example as it is read.
func exampleJob(t *testing.T, name string) *job.Job {
	t.Helper()
	folder, err := fs.Sub(examples.Files, name)
	if err != nil {
		t.Fatal(err)
	}
	b, err := exchange.BundleOf("job.toml", func(name string) ([]byte, error) { return fs.ReadFile(folder, name) })
	if err != nil {
		t.Fatal(err)
	}
	j, _, err := b.Job()
	if err != nil {
		t.Fatal(err)
	}
	return j
}

func examplePlan(t *testing.T, name string) *plan.Plan {
	t.Helper()
	p, f := plan.Make(exampleJob(t, name))
	if f != nil {
		t.Fatal(f)
	}
	return p
}
