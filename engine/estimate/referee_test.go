package estimate

import (
	"testing"

	"gonum.org/v1/gonum/mat"
	"pgregory.net/rapid"
)

// TestAgainstGonum compares least squares and Cholesky with gonum's.
func TestAgainstGonum(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawProblem(t)
		design, values, err := p.weighted()
		if err != nil {
			t.Fatal(err)
		}
		a := mat.NewDense(design.Rows, design.Cols, append([]float64(nil), design.data...))
		y := mat.NewVecDense(len(values), values)
		var x, normal mat.Dense
		if err := x.Solve(a, y); err != nil {
			t.Skip(err) // gonum finds it badly conditioned
		}
		s := solve(t, p)
		for i, got := range s.X {
			if want := x.At(i, 0); !alike(got, want, 1e-9) {
				t.Errorf("unknown %d = %v, gonum has %v", i, got, want)
			}
		}
		normal.Mul(a.T(), a)
		compareCholesky(t, &normal)
	})
}

func compareCholesky(t *rapid.T, normal *mat.Dense) {
	n, _ := normal.Dims()
	ours, theirs := NewMatrix(n, n), mat.NewSymDense(n, nil)
	rhs := make([]float64, n)
	for i := range n {
		rhs[i] = float64(i + 1)
		for j := range n {
			ours.Set(i, j, normal.At(i, j))
			theirs.SetSym(i, j, normal.At(i, j))
		}
	}
	var want mat.Cholesky
	got, err := NewCholesky(ours)
	if !want.Factorize(theirs) || err != nil {
		t.Fatal("a positive matrix has no triangle:", err)
	}
	if !alike(got.LogDeterminant(), want.LogDet(), 1e-10) {
		t.Errorf("LogDeterminant = %v, gonum has %v", got.LogDeterminant(), want.LogDet())
	}
	var x mat.VecDense
	if err := want.SolveVecTo(&x, mat.NewVecDense(n, rhs)); err != nil {
		t.Skip(err)
	}
	for i, v := range got.Solve(rhs) {
		if !alike(v, x.AtVec(i), 1e-8) {
			t.Errorf("Cholesky.Solve[%d] = %v, gonum has %v", i, v, x.AtVec(i))
		}
	}
	if d := got.Distance(rhs); !alike(d, mat.Dot(&x, mat.NewVecDense(n, rhs)), 1e-8) {
		t.Errorf("Distance = %v, gonum has %v", d, mat.Dot(&x, mat.NewVecDense(n, rhs)))
	}
	var l mat.TriDense
	want.LTo(&l)
	for i := range n {
		for j := range i + 1 {
			if !alike(got.Lower().At(i, j), l.At(i, j), 1e-9) {
				t.Errorf("L[%d,%d] = %v, gonum has %v", i, j, got.Lower().At(i, j), l.At(i, j))
			}
		}
	}
}
