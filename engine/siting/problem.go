package siting

import (
	"math"

	"spadework/engine/geom"
	"spadework/engine/reception"
	"spadework/engine/unit"
)

// Problem asks where the laser stands. Nothing in it is changed.
type Problem struct {
	// Places are where it may stand, in order of preference between equals.
	Places []Place
	// Gradients the plane may be dialled to, rise per metre east and north.
	Gradients []geom.Vector
	// Cells must each be served by one set-up.
	Cells []Cell
	// Benchmarks to read back on, Need of which each set-up must receive.
	Benchmarks []reception.Target
	Need       int
	// Kept are places of set-ups that stand already; they count for walking.
	Kept []geom.Point

	Receiver Receiver
	// Range is as far as anything is received, 0 if there is no saying: it spares
	// asking for what lies beyond.
	Range unit.Length
	// Judge may be nil: then nothing is known of errors and none is refused.
	Judge Judge
	// Ground makes a place where the list has none, false where none may be; nil
	// refines nothing.
	Ground func(geom.Point) (Place, bool)
	// Spacing is how far apart the listed places are, for refining.
	Spacing unit.Length
}

// Place is where a laser may stand and how high its beam can be there.
type Place struct {
	At        geom.Point
	Low, High unit.Elevation // of the beam, by the tripod
	Eyes      [2]unit.Elevation
}

// Cell is a part of a dig that one set-up serves as a whole.
type Cell struct {
	ID      string
	Targets []reception.Target
	// Any says that one of the targets is enough, as for a machine that needs the
	// beam somewhere in reach; else all must be received.
	Any bool
	// Spots must lie within the problem's Range of the laser besides, whatever is
	// received where.
	Spots []geom.Point
	// Gradients that suit the cell, as indices of the problem's.
	Gradients []int
}

// Receiver tells the beam heights that each target receives from a laser.
// *reception.Field is one.
type Receiver interface {
	// From is the window of each target.
	From(reception.Laser, []reception.Target, *reception.Scratch) []reception.Window
	// Within is the heights from low to high that all targets of a dig share. It
	// may be asked from several goroutines, each with a scratch.
	Within(l reception.Laser, low, high unit.Elevation, digs []reception.Dig, s *reception.Scratch) []reception.Window
}

// Judge tells how well numbers of a planned set-up will be known. It may be asked
// from several goroutines.
type Judge interface {
	// Setup is asked before Error: a laser at a place, dialled to a gradient and
	// read on some benchmarks, both by index.
	Setup(at geom.Point, gradient int, benchmarks []int) Outlook
}

// Outlook is what a Judge expects of one set-up.
type Outlook interface {
	// Error is the standard error of the finished bottom of a cell, the worst in
	// it; ok is false where it is out of tolerance too likely.
	Error(cell int) (sigma unit.Length, ok bool)
}

// beyond is how far the farthest of a cell's spots lies out of range of a place,
// 0 or less where all are in range.
func (p *Problem) beyond(c *Cell, at geom.Point) float64 {
	far := math.Inf(-1)
	for _, s := range c.Spots {
		far = max(far, s.Distance(at)-float64(p.Range))
	}
	if p.Range <= 0 {
		return 0
	}
	return far
}

// suits says whether a gradient suits a cell.
func (c Cell) suits(gradient int) bool {
	for _, g := range c.Gradients {
		if g == gradient {
			return true
		}
	}
	return false
}
