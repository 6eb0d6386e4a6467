package draw

import (
	"math"

	"spadework/engine/geom"
	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// Deviation is how far one shot lies off the bottom that was wanted. Off is + too
// high, − over-dug; Expanded is its uncertainty at the coverage the caller tells,
// 0 not told. Above and Below are the tolerance, ≥ 0; Judged says that there is
// one. A deviation that is not finite is not drawn and is counted.
type Deviation struct {
	Name         string
	Off          unit.Length
	Expanded     unit.Length
	Above, Below unit.Length
	Judged       bool
}

// Out says that the shot misses its tolerance.
func (d Deviation) Out() bool { return d.Judged && (d.Off > d.Above || -d.Off > d.Below) }

// DeviationPlot draws shots in their order about the bottom, a heavy line: each a
// small cross with its uncertainty, the tolerance a ticked band; one that is out
// stands in a ring with its amount and its word.
func DeviationPlot(shots []Deviation, v Voice, f Frame) Scene {
	c := newChart(len(shots), v, f)
	for _, d := range shots {
		c.nameLength = max(c.nameLength, min(c.nameWidth(d.Name), nameRoom*c.size))
	}
	for _, d := range shots {
		c.see(float64(d.Off)+float64(d.Expanded), float64(d.Off)-float64(d.Expanded))
		if d.Judged {
			c.see(float64(d.Above), -float64(d.Below))
		}
	}
	c.axis("draw.to_dig_axis", "draw.over_dug_axis")
	c.line(Bottom, c.at(0, 0), c.at(c.n, 0))
	for i, d := range shots {
		c.tolerance(i, d)
	}
	for i, d := range shots {
		c.shot(i, d)
	}
	c.avoid(Band, Bottom, Ink)
	for i, d := range shots {
		if d.Out() && finite(d.Off) {
			c.verdict(i, d)
		}
	}
	for i, d := range shots {
		c.placeName(i, d.Name)
	}
	return *c.Scene
}

// ChartPoint is one reading of a control chart: a close, a shot at a hard point.
type ChartPoint struct {
	Name  string
	Value unit.Length // + the beam reads high
	Alarm bool        // the judge's word, not this drawing's
}

// ControlChart draws readings in their order about zero, with the limits of the
// chart dashed and told; a reading that gave an alarm stands in a ring with its
// amount.
func ControlChart(points []ChartPoint, limits []unit.Length, v Voice, f Frame) Scene {
	c := newChart(len(points), v, f)
	for _, p := range points {
		c.nameLength = max(c.nameLength, min(c.nameWidth(p.Name), nameRoom*c.size))
	}
	for _, p := range points {
		c.see(float64(p.Value))
	}
	for _, l := range limits {
		c.see(float64(l))
	}
	c.axis("draw.high_axis", "draw.low_axis")
	c.line(Ink, c.at(0, 0), c.at(c.n, 0))
	for _, l := range limits {
		if finite(l) {
			c.line(Band, c.at(0, float64(l)), c.at(c.n, float64(l)))
		}
	}
	var line []geom.Point
	for i, p := range points {
		if !finite(p.Value) {
			c.Unplaced++
			continue
		}
		line = append(line, c.at(float64(i)+0.5, float64(p.Value)))
		c.cross(i, p.Value, p.Alarm)
	}
	if len(line) > 1 {
		c.line(Fine, line...)
	}
	c.avoid(Band, Ink)
	for _, l := range limits {
		if finite(l) {
			c.put(Ink, around(c.at(c.n, float64(l)), 0.2, 0.2), 0.85*c.size, v.say("draw.limit", phrase.With("size", v.finest(l))))
		}
	}
	for i, p := range points {
		if p.Alarm && finite(p.Value) {
			c.put(Ink, around(c.at(float64(i)+0.5, float64(p.Value)), c.size, c.size), c.size, v.small(p.Value))
		}
	}
	for i, p := range points {
		c.placeName(i, p.Name)
	}
	return *c.Scene
}

func finite(l unit.Length) bool { return !math.IsNaN(float64(l)) && !math.IsInf(float64(l), 0) }

// small is a size without its sign, whose word stands beside it: in the crew's
// fraction where it is no smaller, else at its finest.
func (v Voice) small(l unit.Length) string {
	size := max(l, -l)
	if text := v.Style.Length(size); size == 0 || text != v.Style.Length(0) {
		return text
	}
	return v.finest(l)
}

// finest is a size in thousandths of a foot or tenths of a millimetre.
func (v Voice) finest(l unit.Length) string {
	size := max(l, -l)
	if v.Style.System == unit.Imperial {
		return v.Style.Fixed(float64(size/unit.Foot), 3) + " ft"
	}
	return v.Style.Fixed(float64(size/unit.Millimetre), 1) + " mm"
}

// chart is a field of values over places numbered from 0.
type chart struct {
	*Scene
	labels
	v          Voice
	size       float64
	n          float64 // places
	low, high  float64 // values seen
	field      geom.Box
	perPlace   float64 // millimetres of paper
	perMetre   float64
	stepMetres float64
	nameLength float64 // of the longest name under it
}

func newChart(n int, v Voice, f Frame) *chart {
	c := &chart{Scene: &Scene{Width: f.Width, Height: f.Height}, v: v, size: f.Type, n: max(float64(n), 1)}
	c.labels.scene = c.Scene
	return c
}

// see widens the field to values that are finite.
func (c *chart) see(values ...float64) {
	for _, z := range values {
		if finite(unit.Length(z)) {
			c.low, c.high = min(c.low, z), max(c.high, z)
		}
	}
}

// leastSpan is the least height of a field in metres: 5 mm, so that a chart of
// good readings does not shout.
const leastSpan = 0.005

// axis scales the field and writes its figures: the amounts at the left and the
// word of each side over them.
func (c *chart) axis(above, below phrase.Key) {
	c.high, c.low = max(c.high, leastSpan/2), min(c.low, -leastSpan/2)
	room := Width(Label, c.size, c.v.small(unit.Length(c.high))+c.v.say(above)+c.v.say(below)) + 2*c.size
	c.field = geom.BoxOf(geom.Point{X: min(room, c.Width/2), Y: 2 * c.size}, geom.Point{X: c.Width - 8*c.size, Y: c.Height - c.nameLength - 2*c.size})
	c.perPlace = c.field.Width() / c.n
	c.perMetre = c.field.Height() / (1.1 * (c.high - c.low))
	c.stepMetres = c.interval()
	c.figures(above, below)
}

// interval is the step of the amounts at the left, eight of them at most: a
// millimetre, a hundredth of a foot or the crew's part of an inch, doubled as
// often as need be.
func (c *chart) interval() float64 {
	base := float64(unit.Millimetre)
	if c.v.Style.System == unit.Imperial {
		base = float64(unit.Foot) / 100
		if c.v.Style.Fraction > 0 {
			base = float64(unit.Inch) / float64(c.v.Style.Fraction)
		}
	}
	step := base
	for (c.high-c.low)/step > 8 {
		step *= 2
	}
	return step
}

func (c *chart) figures(above, below phrase.Key) {
	for k := math.Ceil(c.low / c.stepMetres); float64(k*c.stepMetres) <= c.high; k++ {
		z := float64(k * c.stepMetres)
		p := c.at(0, z)
		c.line(Fine, p.Add(geom.Vector{X: -1.2}), p)
		word := c.v.small(unit.Length(z))
		switch {
		case k > 0:
			word += " " + c.v.say(above)
		case k < 0:
			word += " " + c.v.say(below)
		}
		it := Item{Points: []geom.Point{{X: p.X - 2, Y: p.Y + 0.36*0.85*c.size}}, Size: 0.85 * c.size, Anchor: End, Text: word}
		if b := it.covers(); c.free(b) {
			c.write(Ink, it)
		}
	}
	c.line(Fine, c.at(0, c.low), c.at(0, c.high))
}

// at is where a value at a place stands on the paper.
func (c *chart) at(x, z float64) geom.Point {
	middle := (c.high + c.low) / 2
	return geom.Point{X: c.field.Min.X + x*c.perPlace, Y: c.field.Centre().Y - (z-middle)*c.perMetre}
}

// tolerance draws the band of one shot, ticked where it begins and ends.
func (c *chart) tolerance(i int, d Deviation) {
	if !d.Judged {
		return
	}
	for _, z := range []float64{float64(d.Above), -float64(d.Below)} {
		c.line(Band, c.at(float64(i), z), c.at(float64(i)+1, z))
	}
}

// shot draws a deviation with its uncertainty.
func (c *chart) shot(i int, d Deviation) {
	if !finite(d.Off) {
		c.Unplaced++
		return
	}
	if x := float64(i) + 0.5; d.Expanded > 0 && finite(d.Expanded) {
		a, b := c.at(x, float64(d.Off+d.Expanded)), c.at(x, float64(d.Off-d.Expanded))
		c.line(Fine, a, b)
		for _, p := range []geom.Point{a, b} {
			c.line(Fine, p.Add(geom.Vector{X: -0.8}), p.Add(geom.Vector{X: 0.8}))
		}
	}
	c.cross(i, d.Off, d.Out())
}

// cross is a small cross, in a ring where it is out.
func (c *chart) cross(i int, off unit.Length, ringed bool) {
	p, k := c.at(float64(i)+0.5, float64(off)), 0.35*c.size
	c.line(Ink, p.Add(geom.Vector{X: -k, Y: -k}), p.Add(geom.Vector{X: k, Y: k}))
	c.line(Ink, p.Add(geom.Vector{X: -k, Y: k}), p.Add(geom.Vector{X: k, Y: -k}))
	if !ringed {
		c.block(around(p, k, k))
		return
	}
	const sides = 16
	round := make([]geom.Point, sides)
	for s := range round {
		sin, cos := math.Sincos(2 * math.Pi * float64(s) / sides)
		round[s] = p.Add(geom.Vector{X: float64(1.9 * k * cos), Y: float64(1.9 * k * sin)})
	}
	c.ring(Ink, Hollow, round...)
	c.block(around(p, 1.9*k, 1.9*k))
}

// verdict writes the amount of a shot that is out, with its word.
func (c *chart) verdict(i int, d Deviation) {
	key := phrase.Key("draw.to_dig_amount")
	if d.Off < 0 {
		key = "draw.over_dug_amount"
	}
	thing := around(c.at(float64(i)+0.5, float64(d.Off)), 0.7*c.size, 0.7*c.size)
	c.put(Ink, thing, c.size, c.v.say(key, phrase.With("size", c.v.small(d.Off))))
}

// nameRoom is how long a name under a chart may be, in sizes.
const nameRoom = 8

func (c *chart) nameWidth(name string) float64 { return textWidth(0.85*c.size, name) }

// placeName writes a name along the lower edge, upwards, where it has room; one
// that has none is counted.
func (c *chart) placeName(i int, name string) {
	size := 0.85 * c.size
	x := c.at(float64(i)+0.5, 0).X
	it := Item{Points: []geom.Point{{X: x + 0.36*size, Y: c.field.Max.Y + c.size}}, Size: size, Anchor: End, Upward: true, Text: name}
	if name == "" || c.nameWidth(name) > nameRoom*c.size || !c.free(it.covers()) {
		c.Unplaced++
		return
	}
	c.write(Ink, it)
}
