package plan

import (
	"math"
	"strconv"

	"spadework/engine/beam"
	"spadework/engine/dig"
	"spadework/engine/geom"
	"spadework/engine/job"
	"spadework/engine/reception"
	"spadework/engine/unit"
)

// cell is points of a dig that one set-up serves together: all of an area, a
// stretch of a run, all of a run that wants one rod.
type cell struct {
	dig       *Dig
	name      string
	points    []dig.NumberPoint
	gradients []int
}

// spot names a point of a dig.
type spot struct{ excavation, part, point string }

func (c *cell) spots() []spot {
	var out []spot
	for _, pt := range c.points {
		out = append(out, spot{c.dig.Excavation.ID, pt.Part, pt.Name})
	}
	return out
}

// places are those of a cell's points.
func (c *cell) places() []geom.Point {
	var out []geom.Point
	for _, pt := range c.points {
		out = append(out, pt.At)
	}
	return out
}

// stretchShare is the longest stretch of a run that must have one set-up, as a
// share of the laser's range.
const stretchShare = 1.0 / 3

// cellsOf cuts the digs into cells for a laser of some range.
func (p *Plan) cellsOf(reach unit.Length) []cell {
	var out []cell
	for i := range p.Digs {
		d := &p.Digs[i]
		points := d.Points(p.Job.Interval)
		if len(points) == 0 {
			continue
		}
		if d.source.OneRod || !d.Excavation.Kind.Run() {
			out = append(out, cell{dig: d, name: d.Excavation.ID, points: points})
			continue
		}
		out = append(out, stretches(d, points, float64(reach)*stretchShare)...)
	}
	return out
}

// stretches cuts the runs of a dig into stretches of equal length, none longer
// than most; the areas of its structures are cells of their own.
func stretches(d *Dig, points []dig.NumberPoint, most float64) []cell {
	var out []cell
	open := map[string]int{} // by what the points share: index of its cell
	run, from, length := 0, 0.0, 0.0
	for i, pt := range points {
		key := "part " + pt.Part
		if onLine(pt.Kind) {
			if pt.Kind == dig.Start {
				run++
				from, length = float64(pt.Station), lengthOf(points[i:])
			}
			key = "run " + strconv.Itoa(run) + " " + strconv.Itoa(stretch(float64(pt.Station)-from, length, most))
		}
		at, ok := open[key]
		if !ok {
			at = len(out)
			open[key] = at
			out = append(out, cell{dig: d, name: d.Excavation.ID + " " + key})
		}
		out[at].points = append(out[at].points, pt)
	}
	return out
}

// lengthOf is how far a run goes whose points come first.
func lengthOf(points []dig.NumberPoint) float64 {
	for _, pt := range points {
		if pt.Kind == dig.End {
			return float64(pt.Station - points[0].Station)
		}
	}
	return 0
}

// stretch is the stretch in which a point of a run lies, from 0.
func stretch(along, length, most float64) int {
	n := max(1, math.Ceil(length/most))
	return int(min(n-1, math.Floor(along/length*n)))
}

// crew is what a cell's numbers are read with.
type crew struct {
	guidance beam.Guidance
	machine  *job.Machine
	rod      beam.Rod
}

// anyHeight is the highest receiver where nobody tells how high it can be: above
// the teeth of every machine.
const anyHeight = 100 * unit.Metre

// span is how high over a bottom the receiver may be: for sensors over the
// ground they stand on.
func (c crew) span() (lowest, highest unit.Length) {
	if c.guidance == beam.ByRod {
		return unit.Length(c.rod.Shortest), unit.Length(c.rod.Longest)
	}
	if m := c.machine; m != nil && m.Clamp[1] > 0 {
		return m.Clamp[0], m.Clamp[1]
	}
	return 0, anyHeight
}

// targets is what must get the beam for a cell; any says that one is enough.
func (c crew) targets(f *reception.Field, ce *cell) (targets []reception.Target, any bool) {
	lowest, highest := c.span()
	if c.guidance == beam.SensorsBeam || c.guidance == beam.SensorsTouch {
		return c.ties(f, ce), true
	}
	for _, pt := range ce.points {
		targets = append(targets, reception.Target{At: pt.At, Bottom: pt.Bottom, Lowest: lowest, Highest: highest, Guidance: c.guidance})
	}
	return targets, false
}

// tieSpacing is how far apart the places are where a machine is taken to catch
// the beam for its sensors.
const tieSpacing = 5.0

// ties are places near a cell where its machine may catch the beam: the nodes of
// one lattice over the site.
func (c crew) ties(f *reception.Field, ce *cell) []reception.Target {
	box := geom.EmptyBox()
	for _, pt := range ce.points {
		box = box.With(pt.At)
	}
	reach := float64(nearDig)
	if c.machine != nil && c.machine.MaxReach > 0 {
		reach = float64(c.machine.MaxReach)
	}
	box = box.Grown(reach)
	lowest, highest := c.span()
	var out []reception.Target
	for y := math.Ceil(box.Min.Y / tieSpacing); y*tieSpacing <= box.Max.Y; y++ {
		for x := math.Ceil(box.Min.X / tieSpacing); x*tieSpacing <= box.Max.X; x++ {
			if t, ok := f.Foot(geom.Point{X: x * tieSpacing, Y: y * tieSpacing}, lowest, highest); ok {
				t.Guidance = c.guidance
				out = append(out, t)
			}
		}
	}
	return out
}

// judged are the points of a cell that its trust is judged at: the variance of a
// plane is convex, so that of an area its corners hold the worst.
func (c *cell) judged() []dig.NumberPoint {
	var out []dig.NumberPoint
	for _, pt := range c.points {
		if pt.Kind != dig.Centre && pt.Kind != dig.Outlet {
			out = append(out, pt)
		}
	}
	return out
}
