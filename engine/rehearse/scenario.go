package rehearse

import (
	"math"

	"spadework/engine/beam"
	"spadework/engine/geom"
	"spadework/engine/trust"
	"spadework/engine/unit"
)

// Scenario is the kind of days to rehearse. Bounds and sigmas as in package
// trust; all in SI.
type Scenario struct {
	Size       [2]float64 // of the site
	Digs       int        // of a day
	PerTie     int        // digs of one stand, where the machine has sensors
	Benchmarks int        // at most; a day reads from one to all of them
	Known      float64    // sigma of a benchmark
	Accuracy   [2]float64 // of the laser, a bound, least and most
	Steepest   float64    // dialled grade at most; a third of the days are dialled
	DialStep   float64
	Aiming     float64 // bound
	Tolerance  [2]float64
	Rod        float64 // bound of its lean
	Face       float64 // step of its face
	DeadBand   float64
	Eye        float64 // sigma of a reading beside dead band and face
	Trimming   float64 // sigma
	Cutting    float64 // sigma, of sensors
	Depth      float64 // sigma, of sensors
	Refraction float64 // bound
	Guided     Guided
}

// Guided is how the crews of a scenario come down to their numbers.
type Guided uint8

// The ways.
const (
	ByEither Guided = iota // by rod on every other day
	ByRod
	BySensors
)

// Reference is the scenario of the reference site: 24 digs on 60 × 40 m, readings
// of 2 mm and what a careful crew leaves.
func Reference() Scenario {
	return Scenario{
		Size: [2]float64{60, 40}, Digs: 24, PerTie: 4, Benchmarks: 3, Known: 0.002,
		Accuracy: [2]float64{5e-5, 1.5e-4}, Steepest: 0.03, DialStep: 5e-5, Aiming: math.Pi / 360,
		Tolerance: [2]float64{0.004, 0.014}, Rod: math.Pi / 180, Face: 0.001, DeadBand: 0.003, Eye: 0.0017,
		Trimming: 0.0025, Cutting: 0.002, Depth: 0.002, Refraction: 0.25,
	}
}

// Record is a line of the log that the program gets: a rod read on a benchmark.
type Record struct {
	Benchmark string
	At        geom.Point
	Elevation unit.Elevation // as the job gives it
	Rod       unit.Reading   // as read
}

// Dig is a bottom to be dug, and the number it was dug to.
type Dig struct {
	At      geom.Point // where the beam was read for it: at the dig, or at its tie
	Bottom  unit.Elevation
	Band    beam.Band
	Tie     int
	Aim     unit.Length
	GradeTo unit.Reading // rod over the bottom, as the program gives it
}

// Day is what the program gets of a job-day.
type Day struct {
	Setup   trust.Setup
	Control trust.Control
	Way     trust.Way
	Plane   beam.Plane
	Records []Record
	Digs    []Dig
}

// Truth is how far each bottom really ended over its design, in metres.
type Truth []float64

// readingSigma is what a job tells of a reading on a benchmark.
func (s Scenario) readingSigma() unit.Length {
	return unit.Length(math.Sqrt(sq(s.DeadBand)/12 + sq(s.Face)/12 + sq(s.Eye)))
}

// world is a day as nature has it.
type world struct {
	s    Scenario
	n    Nature
	r    *Rand
	beam trueBeam
	off  []float64 // of each benchmark
}

// Day draws one. A day whose backsights disagree is read again, as a crew is told
// to; again counts how often.
func (s Scenario) Day(n Nature, r *Rand) (d Day, truth Truth, again int) {
	for {
		w := &world{s: s, n: n, r: r}
		day, ok := w.day()
		if ok {
			return day, w.dig(&day), again
		}
		again++
	}
}

func (s Scenario) place(r *Rand) geom.Point {
	return geom.Point{X: r.Between(0, s.Size[0]), Y: r.Between(0, s.Size[1])}
}

// day sets the laser up and reads its backsights.
func (w *world) day() (Day, bool) {
	s, r := w.s, w.r
	d := Day{Way: w.way()}
	a := r.Between(s.Accuracy[0], s.Accuracy[1])
	d.Setup = trust.Setup{ID: "A1", Laser: "L1", At: s.place(r), Prior: trust.FromAccuracy(unit.Grade(a)), Dial: w.dial()}
	d.Control = trust.Control{Refraction: s.Refraction}
	w.stand(d.Setup, float64(d.Setup.Prior.Tilt))
	var sights []beam.Backsight
	for i := range 1 + r.Below(s.Benchmarks) {
		id := string(rune('A' + i))
		at := w.corner(i)
		z := unit.Elevation(r.Between(-0.5, 0.5))
		d.Control.Points = append(d.Control.Points, trust.Point{ID: id, At: at, Known: true, Sigma: unit.Length(s.Known)})
		w.off = append(w.off, w.n.err(r, s.Known))
		rec := Record{Benchmark: id, At: at, Elevation: z, Rod: w.read(at, float64(z)+w.off[i])}
		d.Records = append(d.Records, rec)
		sights = append(sights, beam.Backsight{Benchmark: id, At: at, Elevation: z, Sigma: unit.Length(s.Known),
			Rod: rec.Rod, ReadingSigma: s.readingSigma()})
	}
	plane, _, f := beam.FromBacksights(beam.Instrument{At: d.Setup.At, Gradient: d.Setup.Dial.Gradient, Accuracy: unit.Grade(a)}, sights)
	d.Plane = plane
	return d, f == nil
}

// corner is a benchmark outside the digs, each at a corner of its own.
func (w *world) corner(i int) geom.Point {
	x, y := -5.0, -5.0
	if i%2 == 1 {
		x = w.s.Size[0] + 5
	}
	if i > 0 && i < 3 {
		y = w.s.Size[1] + 5
	}
	return geom.Point{X: x + w.r.Between(-3, 3), Y: y + w.r.Between(-3, 3)}
}

// dial slopes every third day.
func (w *world) dial() trust.Dialling {
	if w.r.Below(3) > 0 {
		return trust.Dialling{}
	}
	d := beam.Dial{
		Bearing: unit.Angle(w.r.Between(0, 2*math.Pi)),
		Grade:   unit.Grade(toStep(w.r.Between(-w.s.Steepest, w.s.Steepest), w.s.DialStep)),
	}
	return trust.Dialling{Gradient: d.Gradient(), Bearing: d.Bearing, Axes: 1, Step: unit.Grade(w.s.DialStep), Aiming: unit.Angle(w.s.Aiming)}
}

// stand makes the true beam of a set-up.
func (w *world) stand(u trust.Setup, tilt float64) {
	g := u.Dial.Gradient
	if size := g.Length(); size > 0 {
		aside := w.n.err(w.r, w.s.Aiming/math.Sqrt(3))
		sin, cos := math.Sincos(aside)
		g = geom.Vector{X: float64(cos*g.X) - float64(sin*g.Y), Y: float64(sin*g.X) + float64(cos*g.Y)}
		sin, cos = math.Sincos(float64(u.Dial.Bearing))
		step := w.r.Between(-w.s.DialStep/2, w.s.DialStep/2)
		g = g.Plus(geom.Vector{X: sin, Y: cos}.Scale(step))
	}
	const mean, bend = 0.0675e-6, 1 / (2 * 6371e3) // as in the nominal beam; the earth's own
	w.beam = trueBeam{
		at: u.At, height: w.r.Between(1.2, 2.0),
		normal: turned(g, w.n.err(w.r, tilt), w.n.err(w.r, tilt)),
		curve:  mean - float64(bend*w.n.err(w.r, w.s.Refraction/math.Sqrt(3))),
	}
}

// read is a rod read on a foot: the receiver stops anywhere in its dead band, and
// the face is read to its step. Backsights are held plumb.
func (w *world) read(at geom.Point, foot float64) unit.Reading {
	rod := w.beam.over(at) - foot
	rod += w.r.Between(-w.s.DeadBand/2, w.s.DeadBand/2) + float64(w.s.Eye*w.r.Normal())
	return unit.Reading(toStep(rod, w.s.Face))
}

// way is by rod on every other day, else by sensors, where the scenario has both.
func (w *world) way() trust.Way {
	s := w.s
	out := trust.Way{DeadBand: unit.Length(s.DeadBand), Reading: unit.Length(s.Eye), Shown: unit.Length(s.Face), Trimming: unit.Length(s.Trimming)}
	if rod := w.r.Below(2) == 0; s.Guided == ByRod || s.Guided == ByEither && rod {
		out.Plumb = unit.Angle(s.Rod)
		return out
	}
	out.Guidance, out.Measures = beam.SensorsBeam, true
	out.Cutting, out.Depth = unit.Length(s.Cutting), unit.Length(s.Depth)
	return out
}

// dig digs every dig of the day to its number.
func (w *world) dig(d *Day) Truth {
	b := w.belief(*d)
	ties := map[int]tie{}
	half := w.r.Between(w.s.Tolerance[0], w.s.Tolerance[1])
	var out Truth
	drift := w.n.err(w.r, w.n.Drift)
	for i := range w.s.Digs {
		one := Dig{At: w.s.place(w.r), Tie: i / w.s.PerTie, Bottom: unit.Elevation(w.r.Between(-1.5, -0.5))}
		one.Band = beam.Band{Above: unit.Length(half * w.r.Between(0.5, 1.5)), Below: unit.Length(half * w.r.Between(0.5, 1.5))}
		sensors := d.Way.Guidance == beam.SensorsBeam
		if sensors {
			if _, made := ties[one.Tie]; !made {
				ties[one.Tie] = w.tie(one.At)
			}
			one.At = ties[one.Tie].at
		}
		rod := d.Plane.GradeRod(one.At, one.Bottom)
		one.Aim = b.At(one.At, rod, d.Way).Best(one.Band)
		one.GradeTo = rod
		d.Digs = append(d.Digs, one)
		w.beam.height += drift / float64(w.s.Digs)
		out = append(out, w.bottom(one, ties[one.Tie], sensors))
	}
	return out
}

// belief is what the program aims by.
func (w *world) belief(d Day) *trust.Belief {
	site, f := d.Site(len(d.Records))
	if f != nil {
		panic("rehearse: " + f.Error()) // every figure is of the scenario
	}
	return site.Belief(d.Setup.ID)
}

// tie is where a stand zeroed its sensors at the beam, and how far out.
type tie struct {
	at  geom.Point
	off float64
}

func (w *world) tie(at geom.Point) tie {
	off := w.r.Between(-w.s.DeadBand/2, w.s.DeadBand/2) + float64(w.s.Eye*w.r.Normal())
	if w.r.Uniform() < w.n.StaleTie {
		off += w.n.StaleBy * w.r.Normal()
	}
	return tie{at, off}
}

// bottom is how far a dig ends over its design.
func (w *world) bottom(d Dig, t tie, sensors bool) float64 {
	number := toStep(float64(d.GradeTo)-float64(d.Aim), w.s.Face)
	z := w.beam.over(d.At) - number
	if sensors {
		return z + t.off + w.n.err(w.r, w.s.Depth) + w.n.err(w.r, w.s.Cutting) - float64(d.Bottom)
	}
	z += w.r.Between(-w.s.DeadBand/2, w.s.DeadBand/2) + float64(w.s.Eye*w.r.Normal())
	return z + lean(w.r, w.s.Rod, number) + w.n.err(w.r, w.s.Trimming) - float64(d.Bottom)
}
