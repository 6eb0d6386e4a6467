package watch

import (
	"cmp"
	"math"
	"slices"

	"spadework/engine/estimate"
	"spadework/engine/geom"
)

// series is the readings of a log in order of time, and what they say of the
// unknowns of every cause. With C the covariance of the readings if nothing
// happened and F what is known of nobody (the beam's height as set up, heights of
// marks and bottoms), P = C⁻¹ − C⁻¹F(F'C⁻¹F)⁻¹F'C⁻¹: the likelihood of a cause with
// columns A of standard normal unknowns is, against nothing,
// |I + A'PA|^−½ · exp(½ b'(I + A'PA)⁻¹b), b = A'Py (matrix determinant lemma; the
// restricted likelihood of H. D. Patterson and R. Thompson, Biometrika 58, 1971).
type series struct {
	log      Log
	readings []Reading
	index    []int   // of each in the log
	points   []Point // of each
	times    []Hours // rising, each once

	list     []cause
	unknowns int

	chol  *estimate.Cholesky
	free  [][]float64 // F, and C⁻¹F
	freeC [][]float64
	inner *estimate.Cholesky // F'C⁻¹F
	py    []float64
	gram  [][]float64 // A'PA
	right []float64   // A'Py
}

// newSeries takes the readings that keep says.
func newSeries(l Log, keep func(Reading) bool) *series {
	s := &series{log: l}
	for i, r := range l.Readings {
		if keep(r) {
			s.index = append(s.index, i)
		}
	}
	slices.SortStableFunc(s.index, func(a, b int) int {
		return cmp.Or(cmp.Compare(l.Readings[a].At, l.Readings[b].At), cmp.Compare(a, b))
	})
	for _, i := range s.index {
		r := l.Readings[i]
		s.readings = append(s.readings, r)
		p := slices.IndexFunc(l.Points, func(p Point) bool { return p.ID == r.Point })
		s.points = append(s.points, l.Points[p])
		s.times = append(s.times, r.At)
	}
	s.times = slices.Compact(s.times)
	return s
}

func (s *series) from(p geom.Point) geom.Vector { return p.Sub(s.log.Setup.At) }

// solve fills in what all hypotheses need.
func (s *series) solve() {
	n := len(s.readings)
	c := estimate.NewMatrix(n, n)
	for i := range n {
		for j := range i + 1 {
			c.Set(i, j, s.covariance(i, j))
		}
	}
	chol, err := estimate.NewCholesky(c)
	if err != nil {
		panic("watch: " + err.Error()) // every reading has an error of its own
	}
	s.chol = chol
	s.improper()
	y := make([]float64, n)
	for i, r := range s.readings {
		y[i] = float64(r.Off)
	}
	s.py = s.project(y)
	s.products()
}

// covariance of two readings if nothing happened.
func (s *series) covariance(i, j int) float64 {
	a, b := s.readings[i], s.readings[j]
	v, w := s.from(s.points[i].At), s.from(s.points[j].At)
	out := float64(sq(float64(s.log.Setup.Tilt)) * v.Dot(w))
	out += s.drift(v, w, math.Min(float64(a.At), float64(b.At)))
	if a.Machine && b.Machine {
		out += sq(float64(s.log.MachineBias))
	}
	if a.Point == b.Point && s.points[i].Known {
		out += sq(float64(s.points[i].Sigma))
	}
	if i == j {
		out += sq(float64(a.Sigma))
	}
	return out
}

// drift is the covariance of the random walk at two places after the shorter time.
func (s *series) drift(v, w geom.Vector, hours float64) float64 {
	h := s.log.Habits
	return float64(math.Max(hours, 0) * (sq(float64(h.DriftHeight)) + float64(sq(float64(h.DriftTilt))*v.Dot(w))))
}

// improper finds F: a column for each point of unknown height, and one for the
// beam unless no benchmark tells it from those.
func (s *series) improper() {
	benchmark := false
	var seen []string
	for _, p := range s.points {
		if p.Known {
			benchmark = true
		} else if !slices.Contains(seen, p.ID) {
			seen = append(seen, p.ID)
			s.free = append(s.free, s.indicator(func(q Point) bool { return q.ID == p.ID }))
		}
	}
	if benchmark {
		s.free = append(s.free, s.indicator(func(Point) bool { return true }))
	}
	m := estimate.NewMatrix(len(s.free), len(s.free))
	for i, f := range s.free {
		s.freeC = append(s.freeC, s.chol.Solve(f))
		for j := range i + 1 {
			m.Set(i, j, dot(s.free[j], s.freeC[i]))
		}
	}
	inner, err := estimate.NewCholesky(m)
	if err != nil {
		panic("watch: " + err.Error()) // every column has a reading that no other has
	}
	s.inner = inner
}

func (s *series) indicator(is func(Point) bool) []float64 {
	out := make([]float64, len(s.points))
	for i, p := range s.points {
		if is(p) {
			out[i] = 1
		}
	}
	return out
}

// project is P·v.
func (s *series) project(v []float64) []float64 {
	out := s.chol.Solve(v)
	if len(s.free) == 0 {
		return out
	}
	f := make([]float64, len(s.free))
	for k, w := range s.freeC {
		f[k] = dot(w, v)
	}
	for k, z := range s.inner.Solve(f) {
		for i, w := range s.freeC[k] {
			out[i] -= float64(z * w)
		}
	}
	return out
}

// products fills gram and right.
func (s *series) products() {
	var columns, projected [][]float64
	for _, c := range s.list {
		for _, a := range c.columns {
			columns = append(columns, a)
			projected = append(projected, s.project(a))
			s.right = append(s.right, dot(a, s.py))
		}
	}
	for i := range columns {
		row := make([]float64, len(columns))
		for j := range i + 1 {
			row[j] = dot(columns[j], projected[i])
		}
		s.gram = append(s.gram, row)
	}
	for i := range s.gram {
		for j := range i {
			s.gram[j][i] = s.gram[i][j]
		}
	}
}

func dot(a, b []float64) float64 {
	sum := 0.0
	for i, v := range a {
		sum += float64(v * b[i])
	}
	return sum
}

func sq(x float64) float64 { return float64(x * x) }
