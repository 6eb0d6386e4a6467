package estimate

import "testing"

// network is a chain of n unknowns with cross ties, as level networks have.
func network(n int) Problem {
	p := Problem{Unknowns: n, Observations: []Observation{{[]Term{{0, 1}}, 100, 1}}}
	for i := 1; i < n; i++ {
		p.Observations = append(p.Observations, difference(i-1, i, 0.1, 1), difference(i*7919%n, i, 0.1, 1))
	}
	return p
}

func BenchmarkLeastSquares(b *testing.B) {
	for _, c := range []struct {
		name string
		n    int
	}{{"20", 20}, {"300", 300}, {"500", 500}} {
		b.Run(c.name, func(b *testing.B) {
			p := network(c.n)
			for b.Loop() {
				if _, err := LeastSquares(p); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

func BenchmarkBelief3(b *testing.B) {
	in := NewInformation(3)
	for i := range 8 {
		x := float64(i)
		if err := in.Observe(Observation{[]Term{{0, 1}, {1, x}, {2, x * x}}, 0.1, 1}); err != nil {
			b.Fatal(err)
		}
	}
	for b.Loop() {
		in.Belief()
	}
}
