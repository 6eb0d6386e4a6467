package beam

import (
	"math"

	"spadework/engine/geom"
	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// State tells a number to be expected from one to dig to.
type State uint8

// The states.
const (
	Planned State = iota // a place and a window of beam heights
	Live                 // from today's backsight, under a tag
)

// String is the word of the plan.
func (s State) String() string {
	if s == Live {
		return "live"
	}
	return "planned"
}

// Window is the beam heights at the laser that a planned set-up may have.
type Window struct{ Low, High unit.Elevation }

// Bottom is a place on a bottom.
type Bottom struct {
	ID        string
	At        geom.Point
	Elevation unit.Elevation
}

// WindowFor is the widest window of HI in which every bottom has a reading on
// the rod. The HI of pl does not count. The fault names the two bottoms that no
// height serves together.
func WindowFor(pl Plane, rod Rod, bottoms []Bottom) (Window, *phrase.Fault) {
	if f := checkWindow(pl, rod, bottoms); f != nil {
		return Window{}, f
	}
	w := Window{Low: unit.Elevation(math.Inf(-1)), High: unit.Elevation(math.Inf(1))}
	var deep, shallow string
	for _, b := range bottoms {
		under := b.Elevation.Plus(-pl.Rise(b.At))
		if low := under.Plus(unit.Length(rod.Shortest)); low > w.Low {
			w.Low, shallow = low, b.ID
		}
		if high := under.Plus(unit.Length(rod.Longest)); high < w.High {
			w.High, deep = high, b.ID
		}
	}
	if w.Low > w.High.Plus(rounding) {
		return Window{}, &phrase.Fault{
			Code: phrase.Conflict,
			What: phrase.New("beam.no_window", phrase.With("a", shallow), phrase.With("low", w.Low),
				phrase.With("b", deep), phrase.With("high", w.High), phrase.With("rod", rod.ID)),
			Remedy: phrase.New("beam.no_window_remedy"),
		}
	}
	return w, nil
}

// checkWindow refuses figures that are not finite and a set-up without bottoms.
func checkWindow(pl Plane, rod Rod, bottoms []Bottom) *phrase.Fault {
	pl.HI = 0
	if f := checkPlaneAndBand(pl, Band{}); f != nil {
		return f
	}
	if f := finite(named{"rod.shortest", float64(rod.Shortest)}, named{"rod.longest", float64(rod.Longest)}); f != nil {
		return f
	}
	if len(bottoms) == 0 {
		return phrase.NewFault(phrase.New("beam.no_bottoms"), phrase.New("beam.no_bottoms_remedy"))
	}
	for _, b := range bottoms {
		if f := finite(named{"at", b.At.X}, named{"at", b.At.Y}, named{"bottom", float64(b.Elevation)}); f != nil {
			return f
		}
	}
	return nil
}

// PlannedRod is a rod before the backsight: what to take off the HI, and the
// readings it will lie between.
type PlannedRod struct {
	Subtract  unit.Elevation // bottom less the beam's rise from the laser to it
	Low, High unit.Reading   // at both ends of the window
}

// PlannedRod is the rod of a bottom at p under a plane whose HI is still a
// window: rod = HI − Subtract. The HI of pl does not count. NaN where anything
// is not finite.
func (pl Plane) PlannedRod(p geom.Point, bottom unit.Elevation, w Window) PlannedRod {
	pl.HI = 0
	subtract := unit.Elevation(-pl.GradeRod(p, bottom))
	return PlannedRod{
		Subtract: subtract,
		Low:      unit.Reading(w.Low.Above(subtract)),
		High:     unit.Reading(w.High.Above(subtract)),
	}
}

// Text is the sum left open for the crew: "HI ____ − 98.42 = ____".
func (r PlannedRod) Text() phrase.Message {
	return phrase.New("beam.planned_rod", phrase.With("subtract", r.Subtract))
}
