package dig

import (
	"strconv"
	"strings"

	"spadework/engine/geom"
	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// EdgeSides says which sides of an outline an edge runs along.
type EdgeSides string

// A compass name takes the sides whose outward normal lies within 45° of it, a
// side that faces a diagonal belongs to both names. SideIndex is the one side
// Edge.Index, 0 from the outline's first corner as given, or from a rectangle's
// right rear corner seen along its bearing.
const (
	AllSides  EdgeSides = "all"
	NorthSide EdgeSides = "north"
	EastSide  EdgeSides = "east"
	SouthSide EdgeSides = "south"
	WestSide  EdgeSides = "west"
	SideIndex EdgeSides = "index"
)

// Edge is a thickened edge of a slab: a band Width wide inside the outline that
// lies Depth under the rest of the bottom, both > 0. The haunch between the two
// is not part of it.
type Edge struct {
	Sides EdgeSides
	Index int
	Width unit.Length
	Depth unit.Length
}

// facings are the outward normals the compass names stand for.
var facings = [...]struct {
	name EdgeSides
	dir  geom.Vector
}{
	{NorthSide, geom.Vector{Y: 1}}, {EastSide, geom.Vector{X: 1}},
	{SouthSide, geom.Vector{Y: -1}}, {WestSide, geom.Vector{X: -1}},
}

// edgeOfSide tells for each side of the outline which edge runs along it, −1
// for none.
func (a *area) edgeOfSide() ([]int, error) {
	owner := make([]int, len(a.neat))
	for i := range owner {
		owner[i] = -1
	}
	for k, e := range a.x.Thickened {
		if err := positive(named{item("edges", k, "width"), e.Width},
			named{item("edges", k, "depth"), e.Depth}); err != nil {
			return nil, err
		}
		sides, err := a.sidesOf(e, item("edges", k, "side"))
		if err != nil {
			return nil, err
		}
		for _, i := range sides {
			if owner[i] >= 0 {
				return nil, conflict(item("edges", k, "side"), "dig.edge_twice", phrase.With("side", a.given(i)+1))
			}
			owner[i] = k
		}
	}
	return owner, nil
}

// sidesOf are the sides of the counter-clockwise outline that an edge runs
// along.
func (a *area) sidesOf(e Edge, path string) ([]int, error) {
	var out []int
	switch e.Sides {
	case AllSides:
		for i := range a.neat {
			out = append(out, i)
		}
		return out, nil
	case SideIndex:
		if e.Index < 0 || e.Index >= len(a.neat) {
			return nil, fault(strings.TrimSuffix(path, "side")+"index", "dig.edge_index", phrase.With("value", e.Index), phrase.With("last", len(a.neat)-1))
		}
		return []int{a.given(e.Index)}, nil
	}
	for _, f := range facings {
		if f.name != e.Sides {
			continue
		}
		if out = a.facing(f.dir); len(out) == 0 {
			return nil, fault(path, "dig.edge_none", phrase.With("value", string(e.Sides)))
		}
		return out, nil
	}
	return nil, fault(path, "dig.edge_side", phrase.With("value", string(e.Sides)))
}

// facing are the sides whose outward normal lies within 45° of dir.
func (a *area) facing(dir geom.Vector) []int {
	const cos45 = 0.7071067811865475
	var out []int
	for i := range a.neat {
		from, to := a.neat.Side(i)
		if to.Sub(from).Unit().Right().Dot(dir) >= cos45-1e-9 {
			out = append(out, i)
		}
	}
	return out
}

// given turns a side's index as given into that of the counter-clockwise
// outline and back.
func (a *area) given(i int) int {
	if a.turned {
		return len(a.neat) - 1 - i
	}
	return i
}

// addEdges adds the slab within its thickened edges and one part for each side
// they run along, mitred at the corners.
func (d *Dig) addEdges(a *area, base Trace) error {
	owner, err := a.edgeOfSide()
	if err != nil {
		return err
	}
	neat, err := a.rims(owner, 0)
	if err != nil {
		return err
	}
	dug, err := a.rims(owner, a.x.Working)
	if err != nil {
		return err
	}
	slab := base.copied()
	a.x.addLayers(&slab)
	d.Parts = append(d.Parts, levelPart("slab", neat.inner, dug.inner, slab))
	d.Parts[len(d.Parts)-1].outer = slabSides(owner)
	for i, k := range owner {
		if k < 0 {
			continue
		}
		t := base.copied()
		t.add(phrase.New("dig.term.edge"), -a.x.Thickened[k].Depth)
		a.x.addLayers(&t)
		id := "edge-" + strconv.Itoa(a.given(i)+1)
		d.Parts = append(d.Parts, levelPart(id, neat.band(i), dug.band(i), t))
		d.Parts[len(d.Parts)-1].outer = dug.bandSides(i, owner)
	}
	return nil
}

// copied is a trace that shares no terms with t.
func (t Trace) copied() Trace {
	t.Terms = append(make([]Term, 0, len(t.Terms)+4), t.Terms...)
	return t
}

// rim is an outline and what its edges leave of it; corner i of the one belongs
// to corner i of the other. kinks are concrete corners that the joint of two
// edges passes on its way from outer to inner, nil where it runs straight: with
// working space a joint of two widths does not, and each edge must lie under its
// own concrete.
type rim struct {
	outer, inner geom.Ring
	kinks        []*geom.Point
}

// band is the outline of the edge along side i.
func (r rim) band(i int) geom.Ring {
	j := (i + 1) % len(r.outer)
	out := geom.Ring{r.outer[i], r.outer[j]}
	if k := r.kinks[j]; k != nil {
		out = append(out, *k)
	}
	out = append(out, r.inner[j], r.inner[i])
	if k := r.kinks[i]; k != nil {
		out = append(out, *k)
	}
	return out
}

// slabSides tells which sides of a slab within its edges lie on the outline.
func slabSides(owner []int) []int {
	out := make([]int, len(owner))
	for i, k := range owner {
		out[i] = i
		if k >= 0 {
			out[i] = -1
		}
	}
	return out
}

// bandSides tells which sides of the band along side i lie on the outline: its
// own, and its ends where no edge goes on round the corner.
func (r rim) bandSides(i int, owner []int) []int {
	n := len(owner)
	j, h := (i+1)%n, (i+n-1)%n
	out := []int{i}
	if r.kinks[j] != nil {
		out = append(out, -1)
	}
	out = append(out, endSide(j, owner), -1)
	if r.kinks[i] != nil {
		out = append(out, -1)
	}
	return append(out, endSide(h, owner))
}

// endSide is the side on which a band ends, −1 where that has an edge too.
func endSide(i int, owner []int) int {
	if owner[i] >= 0 {
		return -1
	}
	return i
}

// rims are the outline with a working space and the slab within the edges.
func (a *area) rims(owner []int, working unit.Length) (rim, error) {
	out, in := make([]float64, len(owner)), make([]float64, len(owner))
	for i, k := range owner {
		out[i], in[i] = float64(working), float64(working)
		if k >= 0 {
			in[i] = -float64(a.x.Thickened[k].Width)
		}
	}
	outer, err := moved(a.neat, out)
	if err != nil {
		return rim{}, err
	}
	inner, err := geom.OffsetOutward(a.neat, in)
	if err != nil || len(inner) != len(outer) {
		return rim{}, fault("edges", "dig.edge_wide")
	}
	return rim{outer, inner, a.kinks(owner, working)}, nil
}

// kinks are the corners where two edges of different width meet and there is
// working space.
func (a *area) kinks(owner []int, working unit.Length) []*geom.Point {
	n := len(owner)
	out := make([]*geom.Point, n)
	if working == 0 {
		return out
	}
	for i, k := range owner {
		h := owner[(i+n-1)%n]
		if k >= 0 && h >= 0 && a.x.Thickened[k].Width != a.x.Thickened[h].Width {
			out[i] = &a.neat[i]
		}
	}
	return out
}
