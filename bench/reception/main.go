// Command reception writes a grid and places, and times the windows of digs and
// of stands there: CPU milliseconds a place.
//
//	reception make DIR
//	reception digs|dialled|curved|stands DIR
package main

import (
	"encoding/binary"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"syscall"

	"spadework/engine/beam"
	"spadework/engine/geom"
	"spadework/engine/ground"
	"spadework/engine/reception"
	"spadework/engine/unit"
)

func main() {
	if err := run(os.Args[1:]); err != nil {
		fmt.Fprintln(os.Stderr, "reception:", err)
		os.Exit(1)
	}
}

func run(args []string) error {
	if len(args) != 2 {
		return errors.New("usage: reception make|digs|dialled|curved|stands DIR")
	}
	if args[0] == "make" {
		return makeSite(args[1])
	}
	return timeKind(args[0], args[1])
}

const side = 2000

// makeSite writes slopes, mounds and noise, and places well within.
func makeSite(dir string) error {
	r := rand.New(rand.NewPCG(3, 5))
	z := make([]float64, side*side)
	for i := range z {
		x, y := 0.5*float64(i%side), 0.5*float64(i/side)
		z[i] = 0.01*x + 0.8*math.Sin(x/23)*math.Cos(y/31) + 0.05*r.NormFloat64()
	}
	places := make([]float64, 40)
	for i := range places {
		places[i] = 150 + 700*r.Float64()
	}
	if err := write(filepath.Join(dir, "grid.bin"), z); err != nil {
		return err
	}
	return write(filepath.Join(dir, "places.bin"), places)
}

func write(name string, values []float64) error {
	f, err := os.Create(name)
	if err != nil {
		return err
	}
	defer f.Close()
	return binary.Write(f, binary.LittleEndian, values)
}

func read(name string, n int) ([]float64, error) {
	f, err := os.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	out := make([]float64, n)
	return out, binary.Read(f, binary.LittleEndian, out)
}

func timeKind(kind, dir string) error {
	z, err := read(filepath.Join(dir, "grid.bin"), side*side)
	if err != nil {
		return err
	}
	places, err := read(filepath.Join(dir, "places.bin"), 40)
	if err != nil {
		return err
	}
	grid, err := ground.NewGrid(ground.GridData{DX: 0.5, DY: 0.5, Cols: side, Rows: side, Z: z})
	if err != nil {
		return err
	}
	site := reception.Site{Ground: grid, Range: 100, Curvature: beam.None}
	var l reception.Laser
	switch kind {
	case "curved":
		site.Curvature = beam.Combined
	case "dialled":
		l.Gradient = geom.Vector{X: 0.01, Y: -0.005}
	}
	field, err := reception.New(site)
	if err != nil {
		return err
	}
	targets := targetsOf(kind, field)
	var s reception.Scratch
	start, open := cpu(), 0
	for i := 0; i < len(places); i += 2 {
		l.At = geom.Point{X: places[i], Y: places[i+1]}
		for _, w := range field.From(l, targets, &s) {
			if w.Open() {
				open++
			}
		}
	}
	fmt.Printf("%.4f %d\n", 1000*(cpu()-start)/20, open)
	return nil
}

// targetsOf are 1 000 rods on bottoms 1.2 m under the ground, or stands 2 m apart.
func targetsOf(kind string, f *reception.Field) []reception.Target {
	r := rand.New(rand.NewPCG(9, 9))
	var out []reception.Target
	add := func(x, y float64, lowest, highest, depth unit.Length) {
		if t, ok := f.Foot(geom.Point{X: x, Y: y}, lowest, highest); ok {
			t.Bottom = t.Bottom.Plus(-depth)
			out = append(out, t)
		}
	}
	if kind != "stands" {
		for range 1000 {
			add(999*r.Float64(), 999*r.Float64(), 0.3, 4, 1.2)
		}
		return out
	}
	for x := 0.25; x < 999; x += 2 {
		for y := 0.25; y < 999; y += 2 {
			add(x, y, 1, 4, 0)
		}
	}
	return out
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
