package dig

import (
	"math"

	"spadework/engine/ground"
	"spadework/engine/unit"
)

// AverageEndArea is L(A1 + A2)/2.
func AverageEndArea(l, a1, a2 float64) float64 { return l * (a1 + a2) / 2 }

// Prismoidal is L(A1 + 4Am + A2)/6 with Am measured at mid-length.
func Prismoidal(l, a1, am, a2 float64) float64 { return l * (a1 + float64(4*am) + a2) / 6 }

// TaperedEndArea is the average end area but where one end is zero a pyramid,
// L·A/3.
func TaperedEndArea(l, a1, a2 float64) float64 {
	if a1 == 0 || a2 == 0 {
		return l * (a1 + a2) / 3
	}
	return AverageEndArea(l, a1, a2)
}

// ByHand is what the usual hand methods give, for comparison. A run is cut across
// at every full interval and wherever the ground bends over its line, level
// across; an area is sliced level, under the mean of the ground over it.
type ByHand struct{ EndArea, Tapered, Prismoidal unit.Volume }

// Survey is ground that tells heights and triangles; every ground.Surface is one.
type Survey interface {
	Ground
	Facets
}

// ByHand sums the parts of a dig with a cut surface; false where the ground is not known. An interval under a
// centimetre asks for no sections of its own.
func (d Dig) ByHand(c CutSurface, g Survey, interval unit.Length) (ByHand, bool) {
	var sum ByHand
	for i := range d.Parts {
		p := &d.Parts[i]
		v, ok := ByHand{}, false
		if p.Run() {
			v, ok = d.runByHand(p, g, float64(interval))
		} else {
			v, ok = d.areaByHand(c, p, g)
		}
		if !ok {
			return ByHand{}, false
		}
		sum.EndArea += v.EndArea
		sum.Tapered += v.Tapered
		sum.Prismoidal += v.Prismoidal
	}
	return sum, len(d.Parts) > 0
}

// Overlap is the share of its parts' volumes, taken apart, that a dig of several
// parts has when what they share is counted once: 1 where they do not meet, and
// where the ground is not known. A hand method sums parts, so its figures are
// multiplied by it.
func (d Dig) Overlap(g Facets, whole unit.Volume) float64 {
	if len(d.Parts) < 2 || !(whole > 0) {
		return 1
	}
	apart := unit.Volume(0)
	for i := range d.Parts {
		one := d
		one.Parts = d.Parts[i : i+1]
		apart += one.CutSurface().Excavate(g).Bank
	}
	if !(apart > whole) {
		return 1
	}
	return float64(whole / apart)
}

// Times is the figures multiplied by a share.
func (v ByHand) Times(share float64) ByHand {
	return ByHand{v.EndArea * unit.Volume(share), v.Tapered * unit.Volume(share), v.Prismoidal * unit.Volume(share)}
}

// runByHand cuts a part across.
func (d Dig) runByHand(p *Part, g Ground, interval float64) (ByHand, bool) {
	var v ByHand
	at := g.Profile(p.Line)
	for i := range at {
		if !at[i].Known || !finite(at[i].Z) {
			return v, false
		}
	}
	last, before := 0.0, 0.0
	for i, s := range sections(at, float64(p.From), interval) {
		h := s.z - float64(p.bottomAtStation(p.From+unit.Station(s.station)))
		if i > 0 {
			l := s.station - last
			a1, am, a2 := d.section(before), d.section((before+h)/2), d.section(h)
			v.EndArea += unit.Volume(AverageEndArea(l, a1, a2))
			v.Tapered += unit.Volume(TaperedEndArea(l, a1, a2))
			v.Prismoidal += unit.Volume(Prismoidal(l, a1, am, a2))
		}
		last, before = s.station, h
	}
	return v, true
}

// sections are the ends of a profile, the points where it bends by more than a
// micrometre, and every full interval of the run's stations.
func sections(at []ground.ProfilePoint, from, interval float64) []sample {
	bends := []sample{{at[0].Station, at[0].Z}}
	for i := 1; i < len(at); i++ {
		p, a := at[i], bends[len(bends)-1]
		if i+1 < len(at) {
			b := at[i+1]
			if onLine(p.Z - (a.z + (b.Z-a.z)*(p.Station-a.station)/(b.Station-a.station))) {
				continue
			}
		}
		bends = append(bends, sample{p.Station, p.Z})
	}
	if !(interval >= 0.01) {
		return bends
	}
	out := bends[:1:1]
	for i := 1; i < len(bends); i++ {
		a, b := bends[i-1], bends[i]
		for k := math.Floor((from+a.station)/interval) + 1; ; k++ {
			s := k*interval - from
			if s >= b.station-snap {
				break
			}
			if s > a.station+snap {
				out = append(out, sample{s, a.z + (b.z-a.z)*(s-a.station)/(b.station-a.station)})
			}
		}
		out = append(out, b)
	}
	return out
}

// section is the area across a run of a depth, 0 above the ground.
func (d Dig) section(depth float64) float64 {
	if !(depth > 0) {
		return 0
	}
	a := float64(d.Excavation.dugWidth()) * depth
	for _, side := range [...]int{0, 2} {
		a += riseOf(d.slope(side)).section(depth)
	}
	return a
}

// section is the area between a side and the vertical over its foot up to a
// height.
func (r rise) section(h float64) float64 {
	sum := 0.0
	for k, s := range r.shelves {
		next := r.end
		if k+1 < len(r.shelves) {
			next = r.shelves[k+1].from
		}
		d := min(next, r.width(h)) - s.from
		if s.height >= h || !(d > 0) {
			break
		}
		top := s.height + float64(d*s.grade)
		sum += d * (h - (s.height+top)/2)
	}
	return sum
}

// areaByHand slices a part level under the mean of the ground over it.
func (d Dig) areaByHand(c CutSurface, p *Part, g Facets) (ByHand, bool) {
	depth, ok := p.meanDepth(g)
	if !ok {
		return ByHand{}, false
	}
	if !(depth > 0) {
		return ByHand{}, true
	}
	if len(d.Parts) > 1 {
		c = Dig{Excavation: d.Excavation, Parts: []Part{*p}, Turned: d.Turned}.CutSurface()
	}
	at := func(h float64) float64 { return c.areaAt(h) }
	a1, am, a2 := at(0), at(depth/2), at(depth)
	end := unit.Volume(AverageEndArea(depth, a1, a2))
	return ByHand{end, end, unit.Volume(Prismoidal(depth, a1, am, a2))}, true
}

// meanDepth is the mean of the ground over a part's bottom, − where most of it lies under
// that; false where the survey does not cover the part. It is what a shaft from
// far below takes, over its area.
func (p *Part) meanDepth(g Facets) (float64, bool) {
	const far = 1000 // metres, more than any ground lies under a bottom
	shaft := *p
	shaft.Bottom.Z0 -= far
	e := Dig{Excavation: Excavation{Kind: Pit}, Parts: []Part{shaft}}.CutSurface().Excavate(g)
	if !e.Known() || !(e.Area > 0) {
		return 0, false
	}
	return float64(e.Bank)/float64(e.Area) - far, true
}

// areaAt is the plan area of what lies lower than h over the first bottom.
func (c CutSurface) areaAt(h float64) float64 {
	sum := 0.0
	var under patch
	cells := c.cells(h + 1e-9)
	for i := range cells {
		cells[i].keep(&under, cells[i].plane.negative().raised(h+1e-9), crease)
		if !under.empty() {
			sum += under.area()
		}
	}
	return sum
}

// displaced is the volume of a pipe along a run: π/4·outside² times its length.
func displaced(outside, length float64) float64 {
	return math.Pi / 4 * float64(outside*outside) * length
}
