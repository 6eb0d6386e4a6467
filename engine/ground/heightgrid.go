package ground

import (
	"math"

	"spadework/engine/geom"
)

// HeightGrid is the grid g with the elevations of the surface at its nodes, NaN
// where the survey does not speak; g.Z is not read. Cols or Rows ≤ 0, or a
// spacing that is not positive, give no elevations.
func (t *TIN) HeightGrid(g GridData) GridData {
	g.Z = nil
	if g.Cols <= 0 || g.Rows <= 0 || !(g.DX > 0 && g.DY > 0) {
		return g
	}
	g.Z = make([]float64, g.Cols*g.Rows)
	for i := range g.Z {
		g.Z[i] = math.NaN()
	}
	for f := range int32(len(t.faces)) {
		if v := &t.faces[f].v; v[0]|v[1]|v[2] >= 0 && v[3]&noGround == 0 {
			t.stamp(&g, f)
		}
	}
	return g
}

// stamp writes the elevations of the nodes in face f.
func (t *TIN) stamp(g *GridData, f int32) {
	v := &t.faces[f].v
	c := [3]geom.Point{t.pts[v[0]], t.pts[v[1]], t.pts[v[2]]}
	west := min(c[0].X, c[1].X, c[2].X) - g.Origin.X
	east := max(c[0].X, c[1].X, c[2].X) - g.Origin.X
	if c0, c1 := nodeRange(west/g.DX, east/g.DX, g.Cols); c0 > c1 {
		return
	}
	r0, r1 := nodeRange((min(c[0].Y, c[1].Y, c[2].Y)-g.Origin.Y)/g.DY, (max(c[0].Y, c[1].Y, c[2].Y)-g.Origin.Y)/g.DY, g.Rows)
	if r0 > r1 {
		return
	}
	var lean [3]float64 // of each side: run east per metre north
	for i := range c {
		to := c[(i+1)%3]
		lean[i] = (to.X - c[i].X) / (to.Y - c[i].Y)
	}
	for r := r0; r <= r1; r++ {
		y := g.Node(0, r).Y
		low, high := west, east
		for i := range c {
			x := c[i].X + float64(lean[i]*(y-c[i].Y)) - g.Origin.X
			switch dy := c[(i+1)%3].Y - c[i].Y; {
			case dy > 0: // the face is on the left, west of a side that runs north
				high = min(high, x)
			case dy < 0:
				low = max(low, x)
			}
		}
		if k0, k1 := nodeRange(low/g.DX, high/g.DX, g.Cols); k0 <= k1 {
			t.stampRow(g, v, r, k0, k1)
		}
	}
}

// stampRow writes nodes k0 to k1 of row r, most of which lie in the face of
// corners v. Nodes at or near its edges, where rounded weights cannot tell, are
// asked of Height.
func (t *TIN) stampRow(g *GridData, v *[4]int32, r, k0, k1 int) {
	a, b, c := t.pts[v[0]], t.pts[v[1]], t.pts[v[2]]
	za, dzb, dzc := t.z[v[0]], t.z[v[1]]-t.z[v[0]], t.z[v[2]]-t.z[v[0]]
	for k := k0; k <= k1; k++ {
		p := g.Node(k, r)
		ax, ay, bx, by, cx, cy := a.X-p.X, a.Y-p.Y, b.X-p.X, b.Y-p.Y, c.X-p.X, c.Y-p.Y
		wa, ea := turn(bx, by, cx, cy)
		wb, eb := turn(cx, cy, ax, ay)
		wc, ec := turn(ax, ay, bx, by)
		switch {
		case wa > ea && wb > eb && wc > ec:
			g.Z[r*g.Cols+k] = za + (float64(wb*dzb)+float64(wc*dzc))/(wa+wb+wc)
		case wa < -ea || wb < -eb || wc < -ec:
		default:
			if z, ok := t.Height(p); ok {
				g.Z[r*g.Cols+k] = z
			}
		}
	}
}

// nodeRange is the first and the last of n nodes that may lie between low and
// high, both in steps from node 0: a node too many at either end does no harm.
func nodeRange(low, high float64, n int) (first, last int) {
	const slack = 1e-3 // far more than the rounding of a node's place
	low, high = low-slack, high+slack
	if !(high >= 0 && low <= float64(n-1) && low <= high) {
		return 0, -1
	}
	first, last = int(max(0, low)), int(min(float64(n-1), high))
	if float64(first) < low {
		first++
	}
	return first, last
}
