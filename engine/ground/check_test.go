package ground

import (
	"fmt"
	"math"
	"math/big"
	"slices"

	"spadework/engine/geom"
)

// validate tests what defines the triangulation of the input: a mesh whose
// faces fit together, all counter-clockwise, none with another's point in its
// circle unless a fixed edge hides it (that each free edge is locally Delaunay
// is enough: Lee and Lin 1986), filling the hull exactly; every point used or
// counted; every leg of every breakline a chain of fixed edges.
func validate(t *TIN, r Report, shots []Shot, lines []Breakline) error {
	for _, check := range []func() error{
		t.validateFit,
		t.validateCircles,
		t.validateArea,
		func() error { return t.validateUse(r, shots, lines) },
		func() error { return t.validateLines(lines) },
	} {
		if err := check(); err != nil {
			return err
		}
	}
	return nil
}

func (t *TIN) validateFit() error {
	for f := range int32(len(t.faces)) {
		for i := range int32(3) {
			e := f<<2 | i
			o := t.twin(e)
			if t.twin(o) != e || t.from(o) != t.to(e) || t.to(o) != t.from(e) {
				return fmt.Errorf("edge %d and its twin %d do not fit", e, o)
			}
			if t.isFixed(e) != t.isFixed(o) {
				return fmt.Errorf("edge %d is fixed on one side", e)
			}
		}
		v := t.faces[f].v
		if !t.isGhost(f) && geom.Orient(t.pts[v[0]], t.pts[v[1]], t.pts[v[2]]) <= 0 {
			return fmt.Errorf("face %d of %v is not counter-clockwise", f, v)
		}
	}
	return nil
}

func (t *TIN) validateCircles() error {
	for f := range int32(len(t.faces)) {
		for i := range int32(3) {
			e := f<<2 | i
			o := t.twin(e)
			if t.isFixed(e) || t.isGhost(f) || t.isGhost(o>>2) {
				continue
			}
			if geom.InCircle(t.pts[t.from(e)], t.pts[t.to(e)], t.pts[t.apex(e)], t.pts[t.apex(o)]) > 0 {
				return fmt.Errorf("vertex %d lies in the circle of face %d", t.apex(o), f)
			}
		}
	}
	return nil
}

// validateArea compares the faces' exact area with that of a convex hull found
// another way.
func (t *TIN) validateArea() error {
	sum := new(big.Rat)
	for f := range int32(len(t.faces)) {
		if !t.isGhost(f) {
			v := t.faces[f].v
			sum.Add(sum, area2(geom.Ring{t.pts[v[0]], t.pts[v[1]], t.pts[v[2]]}))
		}
	}
	if want := area2(hull(t.pts)); sum.Cmp(want) != 0 {
		got, _ := sum.Float64()
		w, _ := want.Float64()
		return fmt.Errorf("faces cover twice %v m², hull twice %v m²", got, w)
	}
	return nil
}

// area2 is twice the exact area.
func area2(r geom.Ring) *big.Rat {
	sum := new(big.Rat)
	rat := func(v float64) *big.Rat { return new(big.Rat).SetFloat64(v) }
	for i := range r {
		a, b := r.Side(i)
		sum.Add(sum, new(big.Rat).Mul(rat(a.X), rat(b.Y)))
		sum.Sub(sum, new(big.Rat).Mul(rat(a.Y), rat(b.X)))
	}
	return sum
}

// hull is the convex hull by the monotone chain (Andrew 1979).
func hull(points []geom.Point) geom.Ring {
	p := slices.Clone(points)
	slices.SortFunc(p, func(a, b geom.Point) int {
		switch {
		case a.X < b.X || a.X == b.X && a.Y < b.Y:
			return -1
		case a == b:
			return 0
		}
		return 1
	})
	p = slices.Compact(p)
	var out geom.Ring
	for range 2 {
		base := len(out)
		for _, q := range p {
			for len(out) >= base+2 && geom.Orient(out[len(out)-2], out[len(out)-1], q) <= 0 {
				out = out[:len(out)-1]
			}
			out = append(out, q)
		}
		out = out[:len(out)-1]
		slices.Reverse(p)
	}
	return out
}

func (t *TIN) validateUse(r Report, shots []Shot, lines []Breakline) error {
	used := map[geom.Point]bool{}
	for f := range t.faces {
		for _, v := range t.faces[f].v[:3] {
			if v != far {
				used[t.pts[v]] = true
			}
		}
	}
	total := 0
	for _, part := range append([][]Shot{shots}, asShots(lines)...) {
		for _, s := range part {
			total++
			if !used[s.At] {
				return fmt.Errorf("point %v is not used", s.At)
			}
		}
	}
	added := 0
	for _, row := range t.rows {
		if row == far {
			added++
		}
	}
	if r.Points+r.Outside+r.Merged+r.Conflicts-added != total && r.Outside == 0 {
		return fmt.Errorf("%d points used, %d merged, %d in conflict, %d added, want %d", r.Points, r.Merged, r.Conflicts, added, total)
	}
	return nil
}

func asShots(lines []Breakline) (out [][]Shot) {
	for _, l := range lines {
		out = append(out, l)
	}
	return out
}

// validateLines follows every leg along fixed edges whose ends lie on it, within
// what the rounding of crossing points can move them (1e-9 of the survey's
// extent; each crossing moves a leg by less than 1e-15 of it).
func (t *TIN) validateLines(lines []Breakline) error {
	if len(lines) == 0 {
		return nil
	}
	next := map[geom.Point][]geom.Point{}
	for f := range int32(len(t.faces)) {
		for i := range int32(3) {
			if e := f<<2 | i; t.isFixed(e) {
				p, q := t.pts[t.from(e)], t.pts[t.to(e)]
				next[p] = append(next[p], q)
			}
		}
	}
	tol := 1e-9 * max(t.box.Width(), t.box.Height())
	for n, l := range lines {
		for i := 1; i < len(l); i++ {
			if !reachable(next, l[i-1].At, l[i].At, tol) {
				return fmt.Errorf("leg %d of breakline %d is not in the mesh: %v to %v", i, n, l[i-1].At, l[i].At)
			}
		}
	}
	return nil
}

func reachable(next map[geom.Point][]geom.Point, a, b geom.Point, tol float64) bool {
	seen := map[geom.Point]bool{a: true}
	todo := []geom.Point{a}
	for len(todo) > 0 {
		p := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		if p == b {
			return true
		}
		for _, q := range next[p] {
			if !seen[q] && offSegment(q, a, b) <= tol {
				seen[q] = true
				todo = append(todo, q)
			}
		}
	}
	return false
}

// offSegment is the distance of p from the segment a–b.
func offSegment(p, a, b geom.Point) float64 {
	d := b.Sub(a)
	t := p.Sub(a).Dot(d) / d.Dot(d)
	return p.Distance(a.Toward(b, math.Min(1, math.Max(0, t))))
}

// bruteDelaunay finds a vertex in the circle of a face, looking at all pairs.
func bruteDelaunay(t *TIN) error {
	for f := range int32(len(t.faces)) {
		if t.isGhost(f) {
			continue
		}
		v := t.faces[f].v
		for w, p := range t.pts {
			if geom.InCircle(t.pts[v[0]], t.pts[v[1]], t.pts[v[2]], p) > 0 {
				return fmt.Errorf("vertex %d lies in the circle of face %d", w, f)
			}
		}
	}
	return nil
}
