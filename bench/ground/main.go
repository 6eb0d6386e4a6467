// Command ground writes point sets and times ground.Build on them, as cgal.cpp
// times CGAL: CPU seconds of the process, one line a run.
//
//	ground make DIR          writes the sets
//	ground run FILE REPEATS  builds the set of a file
//	ground heights FILE REPEATS  and takes 1 000 000 heights from it
//	ground csv FILE  prints the set's points as CSV, for gdal_grid
package main

import (
	"bufio"
	"encoding/binary"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"runtime"
	"strconv"
	"syscall"

	"spadework/engine/geom"
	"spadework/engine/ground"
)

func main() {
	if err := run(os.Args[1:]); err != nil {
		fmt.Fprintln(os.Stderr, "ground:", err)
		os.Exit(1)
	}
}

func run(args []string) error {
	switch {
	case len(args) == 2 && args[0] == "make":
		return makeSets(args[1])
	case len(args) == 3 && args[0] == "run":
		return timeSet(args[1], args[2], false)
	case len(args) == 3 && args[0] == "heights":
		return timeSet(args[1], args[2], true)
	case len(args) == 2 && args[0] == "csv":
		return printSet(args[1])
	}
	return fmt.Errorf("usage: ground make DIR | ground run|heights FILE REPEATS | ground csv FILE")
}

// set is points and segments between them by index.
type set struct {
	points   []geom.Point
	segments [][2]uint32
}

func makeSets(dir string) error {
	sets := map[string]set{
		"random100k.bin": {points: random(100_000)},
		"random1m.bin":   {points: random(1_000_000)},
		"random5m.bin":   {points: random(5_000_000)},
		"breaks1m.bin":   broken(1_000_000, 100),
		"grid1m.bin":     {points: lattice(1000, 1)},
		"decimal1m.bin":  {points: lattice(1000, 0.1)},
		"east1m.bin":     {points: moved(random(1_000_000))},
		"clusters1m.bin": {points: clusters(1_000_000)},
		"circle1m.bin":   {points: circle(1_000_000)},
		"twice1m.bin":    {points: repeated(1_000_000, 100_000)},
	}
	for name, s := range sets {
		if err := write(filepath.Join(dir, name), s); err != nil {
			return err
		}
	}
	return nil
}

// random is n points spread evenly over 1 000 × 1 000 m.
func random(n int) []geom.Point {
	r := rand.New(rand.NewPCG(uint64(n), 1))
	out := make([]geom.Point, n)
	for i := range out {
		out[i] = geom.Point{X: 1000 * r.Float64(), Y: 1000 * r.Float64()}
	}
	return out
}

// moved is points at real eastings and northings.
func moved(points []geom.Point) []geom.Point {
	for i := range points {
		points[i] = points[i].Add(geom.Vector{X: 500_000, Y: 4_900_000})
	}
	return points
}

// broken is n random points and side² short segments that do not cross, each
// within its own square, whose ends are the last points.
func broken(n, side int) set {
	s := set{points: random(n)}
	r := rand.New(rand.NewPCG(uint64(n), 2))
	cell := 1000 / float64(side)
	for i := range side * side {
		for range 2 {
			x, y := float64(i%side)+r.Float64(), float64(i/side)+r.Float64()
			s.points = append(s.points, geom.Point{X: x * cell, Y: y * cell})
		}
		k := uint32(len(s.points))
		s.segments = append(s.segments, [2]uint32{k - 2, k - 1})
	}
	return s
}

// lattice is a full grid in shuffled order.
func lattice(side int, step float64) []geom.Point {
	out := make([]geom.Point, side*side)
	for i := range out {
		out[i] = geom.Point{X: float64(i%side) * step, Y: float64(i/side) * step}
	}
	r := rand.New(rand.NewPCG(uint64(side), 3))
	r.Shuffle(len(out), func(i, j int) { out[i], out[j] = out[j], out[i] })
	return out
}

// clusters is n points in 100 heaps of very different size.
func clusters(n int) []geom.Point {
	r := rand.New(rand.NewPCG(uint64(n), 4))
	out := make([]geom.Point, n)
	var at [100]geom.Point
	for i := range at {
		at[i] = geom.Point{X: 1000 * r.Float64(), Y: 1000 * r.Float64()}
	}
	for i := range out {
		k := i % len(at)
		size := 20 / float64(k+1)
		out[i] = at[k].Add(geom.Vector{X: size * r.NormFloat64(), Y: size * r.NormFloat64()})
	}
	return out
}

// circle is n points on one circle, as near as they round, in random order.
func circle(n int) []geom.Point {
	r := rand.New(rand.NewPCG(uint64(n), 5))
	out := make([]geom.Point, n)
	for i := range out {
		s, c := math.Sincos(2 * math.Pi * r.Float64())
		out[i] = geom.Point{X: 500 + 500*c, Y: 500 + 500*s}
	}
	return out
}

// repeated is n points at random ones of fewer places.
func repeated(n, places int) []geom.Point {
	at := random(places)
	r := rand.New(rand.NewPCG(uint64(n), 6))
	out := make([]geom.Point, n)
	for i := range out {
		out[i] = at[r.IntN(places)]
	}
	return out
}

func write(name string, s set) error {
	f, err := os.Create(name)
	if err != nil {
		return err
	}
	defer f.Close()
	w := bufio.NewWriter(f)
	for _, part := range []any{[2]uint32{uint32(len(s.points)), uint32(len(s.segments))}, s.points, s.segments} {
		if err := binary.Write(w, binary.LittleEndian, part); err != nil {
			return err
		}
	}
	return w.Flush()
}

func read(name string) (set, error) {
	f, err := os.Open(name)
	if err != nil {
		return set{}, err
	}
	defer f.Close()
	r := bufio.NewReader(f)
	var head [2]uint32
	if err := binary.Read(r, binary.LittleEndian, &head); err != nil {
		return set{}, err
	}
	s := set{make([]geom.Point, head[0]), make([][2]uint32, head[1])}
	if err := binary.Read(r, binary.LittleEndian, s.points); err != nil {
		return set{}, err
	}
	return s, binary.Read(r, binary.LittleEndian, s.segments)
}

func printSet(name string) error {
	s, err := read(name)
	if err != nil {
		return err
	}
	w := bufio.NewWriter(os.Stdout)
	fmt.Fprintln(w, "x,y,z")
	for _, p := range s.points {
		fmt.Fprintln(w, strconv.FormatFloat(p.X, 'g', -1, 64)+","+strconv.FormatFloat(p.Y, 'g', -1, 64)+","+strconv.FormatFloat(p.X/50, 'g', -1, 64))
	}
	return w.Flush()
}

// timeSet times Build and, for heights, the heights at 1 000 × 1 000 nodes.
func timeSet(name, repeats string, heights bool) error {
	n, err := strconv.Atoi(repeats)
	if err != nil {
		return err
	}
	s, err := read(name)
	if err != nil {
		return err
	}
	shots, lines := asGround(s)
	for range n {
		runtime.GC()
		start := cpu()
		tin, report, err := ground.Build(shots, lines, ground.Options{})
		if err != nil {
			return err
		}
		if heights {
			nodes := ground.GridData{Origin: geom.Point{X: 0.5, Y: 0.5}, DX: 1, DY: 1, Cols: 1000, Rows: 1000}
			tin.HeightGrid(nodes)
		}
		fmt.Printf("%.4f %d\n", cpu()-start, report.Triangles)
	}
	return nil
}

// asGround is the set as shots on a gentle slope and breaklines. Ends of
// segments are given by the breaklines alone.
func asGround(s set) ([]ground.Shot, []ground.Breakline) {
	at := func(i uint32) ground.Shot { return ground.Shot{At: s.points[i], Z: s.points[i].X / 50} }
	lines := make([]ground.Breakline, len(s.segments))
	for i, g := range s.segments {
		lines[i] = ground.Breakline{at(g[0]), at(g[1])}
	}
	shots := make([]ground.Shot, len(s.points)-2*len(lines))
	for i := range shots {
		shots[i] = at(uint32(i))
	}
	return shots, lines
}

// cpu is the CPU time of the process in seconds.
func cpu() float64 {
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		return 0
	}
	seconds := func(t syscall.Timeval) float64 { return float64(t.Sec) + float64(t.Usec)*1e-6 }
	return seconds(u.Utime) + seconds(u.Stime)
}
