package watch

import (
	"math"

	"spadework/engine/geom"
)

// walk is the random walk of the beam at digs given all readings, apart from any
// cause: mean without causes, what a unit of each unknown takes off it, and the
// triangle of its covariance. Nil where the beam is told not to drift.
type walk struct {
	mean  []float64
	slope [][]float64 // by dig, by unknown
	lower [][]float64
	drawn [][]float64 // by draw, by dig: triangle times normal values
}

// place is where and when a departure is asked for.
type place struct {
	v  geom.Vector
	at Hours
}

func (s *series) walk(places []place) *walk {
	h := s.log.Habits
	if h.DriftHeight == 0 && h.DriftTilt == 0 {
		return nil
	}
	w := &walk{}
	var with, projected [][]float64
	for _, p := range places {
		k := make([]float64, len(s.readings))
		for i, r := range s.readings {
			k[i] = s.drift(p.v, s.from(s.points[i].At), math.Min(float64(p.at), float64(r.At)))
		}
		with, projected = append(with, k), append(projected, s.project(k))
		w.mean = append(w.mean, dot(k, s.py))
	}
	for d := range places {
		var slope []float64
		for _, c := range s.list {
			for _, a := range c.columns {
				slope = append(slope, dot(a, projected[d]))
			}
		}
		w.slope = append(w.slope, slope)
	}
	w.triangle(places, s, with, projected)
	return w
}

// triangle is Cholesky's, columns of no variance left out.
func (w *walk) triangle(places []place, s *series, with, projected [][]float64) {
	for i, p := range places {
		row := make([]float64, i+1)
		own := s.drift(p.v, p.v, float64(p.at))
		for j := range i + 1 {
			q := places[j]
			v := s.drift(p.v, q.v, math.Min(float64(p.at), float64(q.at))) - dot(with[i], projected[j])
			for k := range j {
				v -= float64(row[k] * w.lowerAt(j, k, row, i))
			}
			switch {
			case j < i && w.lower[j][j] > 0:
				row[j] = v / w.lower[j][j]
			case j == i && v > own*1e-12:
				row[i] = math.Sqrt(v)
			}
		}
		w.lower = append(w.lower, row)
	}
}

func (w *walk) lowerAt(j, k int, row []float64, i int) float64 {
	if j == i {
		return row[k]
	}
	return w.lower[j][k]
}

// at is the i-th draw of the walk at a dig given a draw of unknowns.
func (w *walk) at(i, dig int, u *unknowns, z *[maxUnknowns]float64) float64 {
	if w == nil {
		return 0
	}
	out := w.mean[dig]
	for k := range u.n {
		out -= float64(w.slope[dig][u.at[k]] * z[k])
	}
	for len(w.drawn) <= i {
		w.drawn = append(w.drawn, w.next(len(w.drawn)))
	}
	return out + w.drawn[i][dig]
}

// next is draw i of the walk about its mean.
func (w *walk) next(i int) []float64 {
	var z, out []float64
	for d, row := range w.lower {
		z = append(z, normal(i, 64+d))
		out = append(out, dot(row, z))
	}
	return out
}
