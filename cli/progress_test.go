package cli

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// manyPads is a job of 15 × 15 pads without a set-up, long enough for several
// looks at whether to go on.
func manyPads() string {
	var b strings.Builder
	b.WriteString("[job]\nname = \"Many pads\"\nunits = \"m\"\n[[benchmark]]\nid = \"BM1\"\nat = [0, 0]\nelevation = 100.5\n[ground]\nlevel = 100\n" +
		"[[laser]]\nid = \"L1\"\naccuracy = \"1.5 mm per 30 m\"\nrange = 60\nheights = [1.2, 2.0]\n" +
		"[[rod]]\nid = \"R1\"\nface = \"metric\"\nshortest = 0.5\nlongest = 4\n")
	for i := range 225 {
		fmt.Fprintf(&b, "[[excavation]]\nid = \"P%d\"\nkind = \"pad\"\nat = [%d, %d]\nsize = [2, 2]\nbottom = { elevation = 99 }\ntolerance = \"30 mm\"\n", i+1, 10*(i%15)-70, 10*(i/15)-70)
	}
	return b.String()
}

// Asked to stop, a long plan ends with the best so far and says so, with nothing
// proven; let go on, it is. Four set-ups are needed: a site of 142 × 142 m, its
// corners 99 m from the middle, and a range of 60 m.
func TestALongPlanEndsWhenAsked(t *testing.T) {
	path := filepath.Join(t.TempDir(), "job.toml")
	if err := os.WriteFile(path, []byte(manyPads()), 0o600); err != nil {
		t.Fatal(err)
	}
	stopped, stop := context.WithCancel(context.Background())
	stop()
	for _, c := range []struct {
		name  string
		ctx   context.Context
		early bool
	}{{"asked to stop", stopped, true}, {"let go on", context.Background(), false}} {
		var out, errs bytes.Buffer
		Run(c.ctx, []string{"plan", "--explain", path}, Streams{In: strings.NewReader(""), Out: &out, Err: &errs})
		if told := strings.Contains(errs.String(), "Ended early: this is the best plan so far."); told != c.early {
			t.Errorf("%s: told that it ended early: %v, want %v: %s", c.name, told, c.early, errs.String())
		}
		proven, sited := strings.Contains(out.String(), ": proven."), strings.Contains(out.String(), "S4, planned by the program")
		unlooked := strings.Contains(out.String(), "was not looked for")
		if proven == c.early || !sited || unlooked != c.early || strings.Contains(out.String(), "0.0 mm") {
			t.Errorf("%s: proven %v, a fourth set-up %v, error not bounded %v; want %v, true, %v\n%s", c.name, proven, sited, unlooked, !c.early, c.early, out.String())
		}
	}
}
