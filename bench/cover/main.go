// Command cover compares engine/cover with the solvers HiGHS (npm package
// highs), CBC (Debian coinor-cbc) and GLPK (Debian glpk-utils) on the files of
// testdata/covers and on fresh instances of the same kinds:
//
//	(cd bench/cover && npm install) && go run ./bench/cover
//
// All run interleaved, as processes of their own; what counts is CPU seconds,
// user and system, of all threads. HiGHS and ours report those of the solve
// alone, without starting and (ours) reading the file; from the processes of
// CBC and GLPK the CPU seconds of the same program that only reads the same
// file are taken off. A solver that took over 5 s runs once. The referees may stop at a gap
// below 1, which is a proof where every cost is whole. Every solver that ends
// in time must report our optimum, else the command fails.
package main

import (
	"flag"
	"fmt"
	"log"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"

	"spadework/bench/cover/site"
	"spadework/engine/cover"
)

// settings of a run.
type settings struct {
	seeds, rounds int
	kinds         string
	referees      string
	limit         float64 // CPU or wall seconds that a referee gets
	folder        string
}

func main() {
	log.SetFlags(0)
	var s settings
	solve := flag.String("solve", "", "solve this file, print the cost and the proof, and end")
	flag.IntVar(&s.seeds, "seeds", 10, "fresh instances of each kind")
	flag.IntVar(&s.rounds, "rounds", 3, "runs of each solver on each instance")
	flag.StringVar(&s.kinds, "kinds", "abc", "first letters of the kinds to run")
	flag.StringVar(&s.referees, "referees", "HiGHS,CBC,GLPK", "those that run")
	flag.Float64Var(&s.limit, "limit", 120, "seconds a referee gets")
	glance := flag.Bool("glance", false, "print our best cover and bound after one CPU second, and end")
	flag.Parse()
	if *glance {
		s.glance()
		return
	}
	if *solve != "" {
		solveFile(*solve)
		return
	}
	folder, err := os.MkdirTemp("", "cover")
	if err != nil {
		log.Fatal(err)
	}
	defer os.RemoveAll(folder)
	s.folder = folder
	if err := s.run(); err != nil {
		log.Fatal(err)
	}
}

// solveFile is our side: a process that reads, proves and prints.
func solveFile(path string) {
	p, err := site.Read(path)
	if err != nil {
		log.Fatal(err)
	}
	before := cpu()
	s, err := cover.New(cover.Problem{Elements: p.Elements, Sets: p.Sets})
	if err != nil {
		log.Fatal(err)
	}
	for !s.Step(100_000_000) {
	}
	fmt.Printf(`{"status":"Optimal","objective":%d,"cpu":%g,"work":%d}`+"\n", s.Best().Cost, cpu()-before, s.Work())
}

// cpu seconds of this process, user and system.
func cpu() float64 {
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		log.Fatal(err)
	}
	return float64(u.Utime.Nano()+u.Stime.Nano()) / 1e9
}

// run compares on all instances and prints a table.
func (s settings) run() error {
	fmt.Printf("%-16s %6s", "instance", "fewest")
	for _, v := range solvers {
		fmt.Printf(" %10s", v.name)
	}
	fmt.Printf(" %8s\n", "ratio")
	for k, kind := range site.Kinds {
		if !strings.Contains(s.kinds, kind.Name[:1]) {
			continue
		}
		if err := s.runKind(k); err != nil {
			return err
		}
	}
	return nil
}

// glance prints what one CPU second gives on fresh instances.
func (s settings) glance() {
	for _, kind := range site.Kinds {
		for seed := 1; seed <= s.seeds && strings.Contains(s.kinds, kind.Name[:1]); seed++ {
			p := kind.Fresh(uint64(seed))
			start := cpu()
			v, err := cover.New(cover.Problem{Elements: p.Elements, Sets: p.Sets})
			if err != nil {
				log.Fatal(err)
			}
			for cpu()-start < 1 && !v.Step(1_000_000) {
			}
			fmt.Printf("%s %d: best %d, bound %d, work %d\n", kind.Name, seed, v.Best().Cost, v.Bound(), v.Work())
		}
	}
}

// runKind runs the file of a kind, if there is one, and its fresh instances.
func (s settings) runKind(k int) error {
	kind := site.Kinds[k]
	ratios := []float64{}
	if p, err := site.Read(filepath.Join("testdata/covers", kind.Name+".txt")); err == nil {
		r, err := s.compare(kind.Name, p)
		if err != nil {
			return err
		}
		ratios = append(ratios, r.print())
	} else if !os.IsNotExist(err) {
		return err
	}
	for seed := 1; seed <= s.seeds; seed++ {
		r, err := s.compare(kind.Name+" "+strconv.Itoa(seed), kind.Fresh(uint64(seed)))
		if err != nil {
			return err
		}
		ratios = append(ratios, r.print())
	}
	fmt.Printf("%s: geometric mean of the ratios %.3f, largest %.3f\n", kind.Name, geometricMean(ratios), largest(ratios))
	return nil
}
