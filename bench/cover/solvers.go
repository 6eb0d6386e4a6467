package main

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"spadework/bench/cover/site"
)

// solver is one side: how to start it on a file, and what it printed.
type solver struct {
	name   string
	lp     bool // reads the LP file
	argv   func(file string, limit float64) []string
	idle   func(file string) []string // starts and reads only; nil if run tells the solve alone
	answer *regexp.Regexp             // its first group is the optimum, and matches only with a proof
}

// solvers run in this order, ours first.
var solvers = []solver{
	{"ours", false, func(f string, _ float64) []string {
		return []string{os.Args[0], "-solve", f}
	}, nil, regexp.MustCompile(`"status":"Optimal","objective":(\d+)`)},
	{"HiGHS", true, func(f string, limit float64) []string {
		return []string{"node", "bench/cover/highs.mjs", f, seconds(limit)}
	}, nil, regexp.MustCompile(`"status":"Optimal","objective":([\d.]+)`)},
	{"CBC", true, func(f string, limit float64) []string {
		return []string{"cbc", f, "sec", seconds(limit), "ratio", "0", "allow", "0.999", "solve"}
	}, func(f string) []string {
		return []string{"cbc", f, "quit"}
	}, regexp.MustCompile(`(?s)Result - Optimal solution found\n.*?Objective value: +([\d.]+)`)},
	{"GLPK", true, func(f string, limit float64) []string {
		return []string{"glpsol", "--lp", f, "--tmlim", seconds(limit), "-w", f + ".out"}
	}, func(f string) []string {
		return []string{"glpsol", "--lp", f, "--check"}
	}, regexp.MustCompile(`INTEGER OPTIMAL SOLUTION FOUND`)},
}

func seconds(s float64) string { return strconv.Itoa(int(math.Ceil(s))) }

// result of all solvers on an instance.
type result struct {
	name   string
	fewest float64
	cpu    []float64 // medians, +Inf without a proof in time
}

// least is the shortest CPU time that the difference of two processes tells.
const least = 5e-5

// compare runs all solvers on p, interleaved, and takes off what starting and
// reading the same file cost.
func (s settings) compare(name string, p site.Instance) (result, error) {
	txt, lp := filepath.Join(s.folder, "p.txt"), filepath.Join(s.folder, "p.lp")
	if err := os.WriteFile(txt, []byte(p.Text()), 0o600); err != nil {
		return result{}, err
	}
	if err := os.WriteFile(lp, []byte(p.LP()), 0o600); err != nil {
		return result{}, err
	}
	r := result{name: name, fewest: math.NaN()}
	times, idle := make([][]float64, len(solvers)), make([][]float64, len(solvers))
	for round := range s.rounds {
		for k, v := range solvers {
			if v.name != "ours" && !strings.Contains(s.referees, v.name) {
				times[k], idle[k] = []float64{math.Inf(1)}, []float64{0}
				continue
			}
			if round > 0 && median(times[k]) > 5 {
				continue // one run tells enough
			}
			file := txt
			if v.lp {
				file = lp
			}
			best, cpu, err := v.run(file, s.limit)
			if err != nil {
				return r, fmt.Errorf("%s: %s: %w", name, v.name, err)
			}
			if k == 0 && round == 0 {
				r.fewest = best
			}
			if !math.IsInf(cpu, 0) && best != r.fewest {
				return r, fmt.Errorf("%s: %s says %v, ours %v", name, v.name, best, r.fewest)
			}
			times[k] = append(times[k], cpu)
			if cpu, err = v.rest(file); err != nil {
				return r, fmt.Errorf("%s: %s: %w", name, v.name, err)
			}
			idle[k] = append(idle[k], cpu)
		}
	}
	for k := range solvers {
		r.cpu = append(r.cpu, max(median(times[k])-median(idle[k]), least))
	}
	return r, nil
}

// run starts the solver on a file; +Inf CPU if it ended without a proof.
func (v solver) run(file string, limit float64) (best, cpu float64, err error) {
	argv := v.argv(file, limit)
	cmd := exec.Command(argv[0], argv[1:]...)
	out, err := cmd.CombinedOutput()
	if err != nil {
		return 0, 0, fmt.Errorf("%w: %s", err, out)
	}
	cpu = used(cmd)
	found := v.answer.FindSubmatch(out)
	if found == nil {
		return math.NaN(), math.Inf(1), nil
	}
	switch v.name {
	case "ours", "HiGHS":
		var told struct{ CPU float64 }
		if err := json.Unmarshal(out, &told); err != nil {
			return 0, 0, err
		}
		cpu = told.CPU
	case "GLPK":
		best, err = glpkObjective(file + ".out")
		return best, cpu, err
	}
	best, err = strconv.ParseFloat(string(found[1]), 64)
	return math.Round(best*1e6) / 1e6, cpu, err
}

// rest is the CPU time of starting and reading.
func (v solver) rest(file string) (float64, error) {
	if v.idle == nil {
		return 0, nil
	}
	argv := v.idle(file)
	cmd := exec.Command(argv[0], argv[1:]...)
	if out, err := cmd.CombinedOutput(); err != nil {
		return 0, fmt.Errorf("%w: %s", err, out)
	}
	return used(cmd), nil
}

// used is the CPU time of a command that has ended.
func used(cmd *exec.Cmd) float64 {
	return (cmd.ProcessState.UserTime() + cmd.ProcessState.SystemTime()).Seconds()
}

// glpkObjective reads the line "s mip ROWS COLUMNS o OBJECTIVE" of a solution.
func glpkObjective(file string) (float64, error) {
	text, err := os.ReadFile(file)
	if err != nil {
		return 0, err
	}
	found := regexp.MustCompile(`(?m)^s mip \d+ \d+ o (\S+)`).FindSubmatch(text)
	if found == nil {
		return 0, fmt.Errorf("no optimum in %q", file)
	}
	return strconv.ParseFloat(string(found[1]), 64)
}

// print shows the row and returns our time over the fastest referee's.
func (r result) print() float64 {
	fmt.Printf("%-16s %6.0f", r.name, r.fewest)
	for _, c := range r.cpu {
		fmt.Printf(" %10.4f", c)
	}
	ratio := r.cpu[0] / slices.Min(r.cpu[1:])
	fmt.Printf(" %8.4f\n", ratio)
	return ratio
}

func median(x []float64) float64 {
	x = slices.Sorted(slices.Values(x))
	return x[len(x)/2]
}

func largest(x []float64) float64 { return slices.Max(x) }

func geometricMean(x []float64) float64 {
	sum := 0.0
	for _, v := range x {
		sum += math.Log(v)
	}
	return math.Exp(sum / float64(len(x)))
}
