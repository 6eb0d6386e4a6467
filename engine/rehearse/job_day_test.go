package rehearse

import (
	"io/fs"
	"testing"

	"spadework/engine/plan"
	"spadework/examples"
	"spadework/exchange"
)

func TestForJobTakesTheJobsOwnFigures(t *testing.T) {
	folder, err := fs.Sub(examples.Files, "alder-quay")
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
	j.Risk.Jump, j.Risk.Tilt, j.Closes.EveryDigs = 0.02, 3e-4, 6
	p, f := plan.Make(j)
	if f != nil {
		t.Fatal(f)
	}
	s := ForJob(p)
	if s.Digs != len(p.Digs) || s.Height != 0.02 || s.Tilt != 3e-4 || s.PerClose != 6 || s.Points != 2 {
		t.Errorf("ForJob = %+v, want the job's digs, jump, tilt, closes and two benchmarks", s)
	}
	// The narrowest band of the example: nothing high and 1 in low.
	if want := 0.0127; !(s.Tolerance > want-1e-9 && s.Tolerance < want+1e-9) {
		t.Errorf("ForJob tolerance = %v m, want %v (tol 1e-9 m)", s.Tolerance, want)
	}
}
