package gradeline

import (
	"math"

	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// Point is the ground at a station.
type Point struct {
	Station unit.Station
	Z       unit.Elevation
}

// Bends says where the line may bend between its ends.
type Bends uint8

// The bends: one straight grade, bends at the stations of Problem.At, or bends
// wherever they help.
const (
	Straight Bends = iota
	AtStations
	Anywhere
)

// Falls are the least and the most fall of the line, positive where it falls
// onward, negative where it rises; an infinity where there is none.
type Falls struct{ Least, Most unit.Grade }

// AnyFall is no limit.
func AnyFall() Falls { return Falls{unit.Grade(math.Inf(-1)), unit.Grade(math.Inf(1))} }

// Fixed is an invert that the drawing does give.
type Fixed struct {
	Station unit.Station
	Invert  unit.Elevation
}

// Pass is something in the way: the line's barrel stays Clearance over Level
// where Over is true, else Clearance under it.
type Pass struct {
	ID        string
	Station   unit.Station
	Over      bool
	Level     unit.Elevation // top of what is passed over, underside of what is passed under
	Clearance unit.Length    // ≥ 0
}

// Problem is a run whose grade is open. Covered has at least two points, their
// stations ascending; the run goes from the first to the last of them, straight
// from point to point. Dug covers the same stations; nil is Covered itself.
type Problem struct {
	Covered []Point     // the ground that cover counts from
	Dug     []Point     // the ground that is dug away
	Width   unit.Length // > 0
	Cover   unit.Length // least from the top of the barrel up to Covered, ≥ 0
	Over    unit.Length // from the line up to the top of the barrel, ≥ 0
	Wall    unit.Length // from the line down to the underside of the barrel, ≥ 0
	Under   unit.Length // from the line down to the dug bottom, ≥ Wall
	Falls   Falls
	Bends   Bends
	At      []unit.Station // of AtStations, within the run
	Fixed   []Fixed
	Passes  []Pass
}

// start and end are the ends of the run.
func (p *Problem) start() float64 { return float64(p.Covered[0].Station) }
func (p *Problem) end() float64   { return float64(p.Covered[len(p.Covered)-1].Station) }

// DugGround is the ground that is dug away.
func (p *Problem) DugGround() []Point {
	if p.Dug == nil {
		return p.Covered
	}
	return p.Dug
}

// check is a fault if the problem says nothing that can be found; NaN is one.
func (p *Problem) check() *phrase.Fault {
	if f := checkGround(p.Covered); f != nil {
		return f
	}
	if f := checkGround(p.DugGround()); f != nil {
		return f
	}
	if d := p.DugGround(); float64(d[0].Station) > p.start()+grain || float64(d[len(d)-1].Station) < p.end()-grain {
		return fault("gradeline.ground_short")
	}
	if !(p.Width > 0) || math.IsInf(float64(p.Width), 0) {
		return fault("gradeline.width", phrase.With("value", p.Width))
	}
	for _, l := range []unit.Length{p.Cover, p.Over, p.Wall, p.Under - p.Wall} {
		if !(l >= 0) || math.IsInf(float64(l), 0) {
			return fault("gradeline.layers", phrase.With("value", l))
		}
	}
	if !(p.Falls.Least <= p.Falls.Most) || math.IsInf(float64(p.Falls.Least), 1) || math.IsInf(float64(p.Falls.Most), -1) {
		return fault("gradeline.falls", phrase.With("least", p.Falls.Least), phrase.With("most", p.Falls.Most))
	}
	return p.checkStations()
}

// checkGround judges a profile.
func checkGround(ground []Point) *phrase.Fault {
	if len(ground) < 2 {
		return fault("gradeline.ground_points", phrase.With("count", len(ground)))
	}
	for i, g := range ground {
		if !finite(float64(g.Station)) || !finite(float64(g.Z)) || i > 0 && !(g.Station > ground[i-1].Station) {
			return fault("gradeline.ground_order", phrase.With("station", g.Station))
		}
	}
	return nil
}

// checkStations judges bends, fixed inverts and passes.
func (p *Problem) checkStations() *phrase.Fault {
	inside := func(s unit.Station) bool { return float64(s) >= p.start()-grain && float64(s) <= p.end()+grain }
	for _, s := range p.At {
		if !inside(s) {
			return p.beyond(s)
		}
	}
	for _, f := range p.Fixed {
		if !inside(f.Station) || !finite(float64(f.Invert)) {
			return p.beyond(f.Station)
		}
	}
	for _, x := range p.Passes {
		if !inside(x.Station) || !finite(float64(x.Level)) {
			return p.beyond(x.Station)
		}
		if !(x.Clearance >= 0) || !finite(float64(x.Clearance)) {
			return fault("gradeline.clearance", phrase.With("value", x.Clearance))
		}
	}
	return nil
}

func (p *Problem) beyond(s unit.Station) *phrase.Fault {
	return fault("gradeline.beyond", phrase.With("station", s),
		phrase.With("from", unit.Station(p.start())), phrase.With("to", unit.Station(p.end())))
}

func fault(key phrase.Key, args ...phrase.Arg) *phrase.Fault {
	return phrase.NewFault(phrase.New(key, args...), phrase.New(key+"_remedy"))
}

func finite(v float64) bool { return v-v == 0 }

// grain is how near two stations are one: the micrometre that plan coordinates
// are rounded to on reading.
const grain = 1e-6
