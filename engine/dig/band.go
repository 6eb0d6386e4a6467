package dig

import (
	"spadework/engine/geom"
	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// bands cuts the mitred band about a line at stations: piece k lies between
// breaks k and k+1. Cuts are square to the line, at bends along the mitre.
// breaks hold every point of the line, rising.
func (a alignment) bands(width float64, breaks []float64) ([]geom.Ring, error) {
	ring := geom.Band(a.points, width)
	n := len(a.points)
	if len(ring) != 2*n {
		return nil, fault("line", "dig.line_back")
	}
	out := make([]geom.Ring, 0, len(breaks)-1)
	k := 0
	for leg := 0; leg+1 < n; leg++ {
		quad := geom.Ring{ring[leg], ring[leg+1], ring[2*n-2-leg], ring[2*n-1-leg]}
		dir := a.direction(leg)
		if !(quad[1].Sub(quad[0]).Dot(dir) > 0 && quad[2].Sub(quad[3]).Dot(dir) > 0) {
			return nil, fault("line", "dig.leg_short", phrase.With("leg", leg+1),
				phrase.With("length", unit.Length(a.at[leg+1]-a.at[leg])))
		}
		for ; k+1 < len(breaks) && breaks[k+1] <= a.at[leg+1]; k++ {
			piece := quad
			if breaks[k] > a.at[leg] {
				piece = clip(piece, a.pointAt(breaks[k]), dir)
			}
			if breaks[k+1] < a.at[leg+1] {
				piece = clip(piece, a.pointAt(breaks[k+1]), dir.Scale(-1))
			}
			out = append(out, piece)
		}
	}
	return out, nil
}

// clip is the part of a convex ring on the side of p that dir points to.
func clip(r geom.Ring, p geom.Point, dir geom.Vector) geom.Ring {
	out := make(geom.Ring, 0, len(r)+1)
	for i := range r {
		from, to := r.Side(i)
		f, t := from.Sub(p).Dot(dir), to.Sub(p).Dot(dir)
		if f >= 0 {
			out = append(out, from)
		}
		if (f > 0 && t < 0) || (f < 0 && t > 0) {
			out = append(out, from.Toward(to, f/(f-t)))
		}
	}
	return out
}
