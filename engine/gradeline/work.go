package gradeline

import (
	"math"
	"sort"

	"spadework/engine/unit"
)

// bound is a rule as the solvers take it: z(s) ≤ z where upper, else ≥ z.
// Stations count from the run's start, elevations from work.zero.
type bound struct {
	s, z  float64
	upper bool
	rule  int
}

// work is a problem in plain figures.
type work struct {
	p           *Problem
	zero        float64   // elevation that z counts from
	least, most float64   // fall onward
	nodes       []float64 // stations where the line may bend, the ends among them
	bounds      []bound   // by station
	rules       []Rule
	floor, ceil float64 // box of every z: no trench goes so deep, no line so high
}

// give is what lower bounds give way by, so that rules which meet exactly are
// not torn apart by rounding: a nanometre, a thousandth of the grain of levels.
const give = 1e-9

// margin is how far below all rules a line may go, in metres: no trench in the
// open is deeper (common practice).
const margin = 100

func newWork(p *Problem) *work {
	w := &work{p: p, zero: float64(p.Covered[0].Z), least: float64(p.Falls.Least), most: float64(p.Falls.Most)}
	w.addNodes()
	w.addCover()
	for _, f := range p.Fixed {
		r := Rule{Kind: FixedAt, Station: f.Station, Level: f.Invert, Upper: true}
		w.add(r)
		r.Upper = false
		w.add(r)
	}
	for _, x := range p.Passes {
		if x.Over {
			w.add(Rule{Kind: PassOver, ID: x.ID, Station: x.Station, Level: x.Level.Plus(x.Clearance + p.Wall)})
		} else {
			w.add(Rule{Kind: PassUnder, ID: x.ID, Station: x.Station, Level: x.Level.Plus(-x.Clearance - p.Over), Upper: true})
		}
	}
	sort.SliceStable(w.bounds, func(i, j int) bool { return w.bounds[i].s < w.bounds[j].s })
	w.box()
	return w
}

// addNodes gathers where the line may bend.
func (w *work) addNodes() {
	p := w.p
	all := []float64{0, p.end() - p.start()}
	switch p.Bends {
	case AtStations:
		for _, s := range p.At {
			all = append(all, float64(s)-p.start())
		}
	case Anywhere:
		for _, g := range p.Covered {
			all = append(all, float64(g.Station)-p.start())
		}
		for _, f := range p.Fixed {
			all = append(all, float64(f.Station)-p.start())
		}
		for _, x := range p.Passes {
			all = append(all, float64(x.Station)-p.start())
		}
	}
	sort.Float64s(all)
	end := p.end() - p.start()
	for _, s := range all {
		s = max(0, min(s, end))
		if n := len(w.nodes); n == 0 || s > w.nodes[n-1]+grain {
			w.nodes = append(w.nodes, s)
		}
	}
	if n := len(w.nodes); n > 1 && w.nodes[n-1] != end {
		w.nodes[n-1] = end
	}
}

// addCover asks for the cover where the ground bends and where the line may;
// between them both are straight.
func (w *work) addCover() {
	p := w.p
	depth := p.Cover + p.Over
	cover := func(s unit.Station, z unit.Elevation) {
		w.add(Rule{Kind: Cover, Station: s, Level: z.Plus(-depth), Upper: true})
	}
	k := 0
	for i, g := range p.Covered {
		s := float64(g.Station) - p.start()
		for ; k < len(w.nodes) && w.nodes[k] <= s+grain; k++ {
			if i > 0 && w.nodes[k] < s-grain {
				at := unit.Station(w.nodes[k] + p.start())
				cover(at, between(p.Covered[i-1], g, at))
			}
		}
		cover(g.Station, g.Z)
	}
}

// between is the ground at a station between two points.
func between(a, b Point, s unit.Station) unit.Elevation {
	t := float64(s-a.Station) / float64(b.Station-a.Station)
	return a.Z + unit.Elevation(t*float64(b.Z-a.Z))
}

// add takes a rule in. A station within a micrometre of a node is the node's.
func (w *work) add(r Rule) {
	s := float64(r.Station) - w.p.start()
	if k := sort.SearchFloat64s(w.nodes, s-grain); k < len(w.nodes) && w.nodes[k] <= s+grain {
		s = w.nodes[k]
	}
	z := float64(r.Level) - w.zero
	if !r.Upper {
		z -= give
	}
	w.bounds = append(w.bounds, bound{s, z, r.Upper, len(w.rules)})
	w.rules = append(w.rules, r)
}

// box sets floor and ceiling so wide that no line worth having leaves them.
func (w *work) box() {
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, b := range w.bounds {
		lo, hi = min(lo, b.z), max(hi, b.z)
	}
	length := w.nodes[len(w.nodes)-1]
	room := margin + length*max(0, w.least, -w.most)
	w.floor, w.ceil = lo-room, hi+room
}

// solve is the best line at the nodes under the falls and some of the bounds; ok
// is false if there is none.
func (w *work) solve(bounds []bound) (z []float64, ok bool) {
	low, high := w.nodeLimits(bounds)
	inner := w.inner(bounds)
	if inner == nil {
		return w.sweep(low, high)
	}
	return w.chain(low, high, inner)
}

// nodeLimits are the bounds at the nodes themselves.
func (w *work) nodeLimits(bounds []bound) (low, high []float64) {
	low, high = make([]float64, len(w.nodes)), make([]float64, len(w.nodes))
	for k := range w.nodes {
		low[k], high[k] = w.floor, w.ceil
	}
	k := 0
	for _, b := range bounds {
		for w.nodes[k] < b.s {
			k++
		}
		switch {
		case w.nodes[k] != b.s:
		case b.upper:
			high[k] = min(high[k], b.z)
		default:
			low[k] = max(low[k], b.z)
		}
	}
	return low, high
}

// inner are the bounds between the nodes, by the slice that ends at node k; nil
// if there are none.
func (w *work) inner(bounds []bound) [][]bound {
	var out [][]bound
	k := 0
	for i := 0; i < len(bounds); i++ {
		for w.nodes[k] < bounds[i].s {
			k++
		}
		if w.nodes[k] == bounds[i].s {
			continue
		}
		if out == nil {
			out = make([][]bound, len(w.nodes))
		}
		out[k] = append(out[k], bounds[i])
	}
	return out
}
