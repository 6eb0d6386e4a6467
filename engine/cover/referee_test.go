package cover

import (
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// lp writes a problem in the LP format.
func lp(p Problem) string {
	var b strings.Builder
	b.WriteString("Minimize\n obj:")
	for j := range p.Sets {
		fmt.Fprintf(&b, " + %d x%d\n", p.cost(int32(j)), j)
	}
	b.WriteString("Subject To\n")
	rows := make([]string, p.Elements)
	for j, set := range p.Sets {
		for _, e := range set {
			rows[e] += fmt.Sprintf(" + x%d", j)
		}
	}
	for _, r := range rows {
		fmt.Fprintf(&b, "%s >= 1\n", r)
	}
	b.WriteString("Binary\n")
	for j := range p.Sets {
		fmt.Fprintf(&b, " x%d\n", j)
	}
	return b.String() + "End\n"
}

// glpk is the optimum by glpsol (Debian glpk-utils).
func glpk(t *testing.T, p Problem) int64 {
	t.Helper()
	file := filepath.Join(t.TempDir(), "p.lp")
	if err := os.WriteFile(file, []byte(lp(p)), 0o600); err != nil {
		t.Fatal(err)
	}
	if out, err := exec.Command("glpsol", "--lp", file, "-w", file+".out").CombinedOutput(); err != nil {
		t.Fatalf("glpsol: %v: %s", err, out)
	}
	text, err := os.ReadFile(file + ".out")
	if err != nil {
		t.Fatal(err)
	}
	found := regexp.MustCompile(`(?m)^s mip \d+ \d+ o (\S+)`).FindSubmatch(text)
	if found == nil {
		t.Fatal("glpsol has no optimum")
	}
	z, err := strconv.ParseFloat(string(found[1]), 64)
	if err != nil {
		t.Fatal(err)
	}
	return int64(z + 0.5)
}

// Problems without geometry, of unit, small and lexicographic cost, against
// GLPK. Runs with SPADEWORK_LONG=1 and needs glpsol.
func TestGLPKAgrees(t *testing.T) {
	if os.Getenv("SPADEWORK_LONG") == "" {
		t.Skip("long: set SPADEWORK_LONG=1")
	}
	r := rand.New(rand.NewPCG(1, 2))
	for n := range 60 {
		p := Problem{Elements: 60, Sets: make([][]int32, 40)}
		for e := range p.Elements {
			for _, j := range r.Perm(len(p.Sets))[:2+r.IntN(3)] {
				p.Sets[j] = append(p.Sets[j], int32(e))
			}
		}
		for range p.Sets {
			switch n % 3 {
			case 1:
				p.Cost = append(p.Cost, 1+r.Int64N(30))
			case 2:
				p.Cost = append(p.Cost, 10_000+r.Int64N(100))
			}
		}
		if got, want := solve(t, p).Best().Cost, glpk(t, p); got != want {
			t.Errorf("problem %d: Best().Cost = %d, want %d by GLPK", n, got, want)
		}
	}
}
