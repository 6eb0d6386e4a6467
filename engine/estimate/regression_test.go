package estimate

import (
	_ "embed"
	"math"
	"strconv"
	"strings"
	"testing"
)

var (
	//go:embed testdata/longley_nist.csv
	longley string
	//go:embed testdata/norris.csv
	norris string
	//go:embed testdata/pontius.csv
	pontius string
)

// table reads the numbers of a CSV file under its heading.
func table(t *testing.T, data string) [][]float64 {
	t.Helper()
	var rows [][]float64
	for _, line := range strings.Split(strings.TrimSpace(data), "\n")[1:] {
		var row []float64
		for _, s := range strings.Split(line, ",") {
			v, err := strconv.ParseFloat(s, 64)
			if err != nil {
				t.Fatal(err)
			}
			row = append(row, v)
		}
		rows = append(rows, row)
	}
	return rows
}

// fit regresses y on the columns of x at weight 1.
func fit(t *testing.T, y []float64, x [][]float64) *Solution {
	t.Helper()
	p := Problem{Unknowns: len(x[0])}
	for i, row := range x {
		o := Observation{Value: y[i], Weight: 1}
		for j, v := range row {
			o.Terms = append(o.Terms, Term{j, v})
		}
		p.Observations = append(p.Observations, o)
	}
	s, err := LeastSquares(p)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// near says that got is want to a relative tolerance; NaN is not near.
func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol*math.Abs(want)) {
		t.Errorf("%s = %.15g, want %.15g (tol %g of it)", what, got, want, tol)
	}
}

func (s *Solution) deviation() float64 {
	s0sq, _ := s.VarianceFactor()
	return math.Sqrt(s0sq)
}

// TestNIST checks the regressions certified by NIST (StRD, linear regression).
// The tolerance leaves float64 the digits that the condition of each eats.
func TestNIST(t *testing.T) {
	t.Run("NoInt1", func(t *testing.T) {
		var x [][]float64
		var y []float64
		for i := range 11 {
			x, y = append(x, []float64{60 + float64(i)}), append(y, 130+float64(i))
		}
		s := fit(t, y, x)
		near(t, "B", s.X[0], 2.07438016528926, 1e-14)
		near(t, "standard error", s.EstimatedError(Term{0, 1}), 0.165289256198347e-01, 1e-13)
		near(t, "sd", s.deviation(), 3.56753034006338, 1e-14)
	})
	t.Run("NoInt2", func(t *testing.T) {
		s := fit(t, []float64{3, 4, 4}, [][]float64{{4}, {5}, {6}})
		near(t, "B", s.X[0], 0.727272727272727, 1e-14)
		near(t, "standard error", s.EstimatedError(Term{0, 1}), 0.420827318078432e-01, 1e-13)
	})
	t.Run("Norris", func(t *testing.T) {
		x, y := powers(table(t, norris), 1)
		s := fit(t, y, x)
		near(t, "B0", s.X[0], -0.262323073774029, 1e-12)
		near(t, "B1", s.X[1], 1.00211681802045, 1e-14)
		near(t, "sd", s.deviation(), 0.884796396144373, 1e-13)
	})
	t.Run("Pontius", func(t *testing.T) {
		x, y := powers(table(t, pontius), 2)
		s := fit(t, y, x)
		for i, want := range []float64{0.673565789473684e-03, 0.732059160401003e-06, -0.316081871345029e-14} {
			near(t, "B"+strconv.Itoa(i), s.X[i], want, 1e-11)
		}
		for i, want := range []float64{0.107938612033077e-03, 0.157817399981659e-09, 0.486652849992036e-16} {
			near(t, "standard error "+strconv.Itoa(i), s.EstimatedError(Term{i, 1}), want, 1e-11)
		}
		near(t, "residual sum of squares", s.SquareSum, 0.155761768796992e-05, 1e-11)
	})
	t.Run("Longley", func(t *testing.T) {
		var x [][]float64
		var y []float64
		for _, r := range table(t, longley) {
			x = append(x, []float64{1, r[0], 1000 * r[1], 10 * r[2], 10 * r[3], 1000 * r[4], r[5]})
			y = append(y, 1000*r[6])
		}
		s := fit(t, y, x)
		for i, want := range []float64{-3482258.63459582, 15.0618722713733, -0.358191792925910e-01,
			-2.02022980381683, -1.03322686717359, -0.511041056535807e-01, 1829.15146461355} {
			near(t, "B"+strconv.Itoa(i), s.X[i], want, 1e-9)
		}
		near(t, "standard error of B0", s.EstimatedError(Term{0, 1}), 890420.383607373, 1e-10)
		near(t, "standard error of B6", s.EstimatedError(Term{6, 1}), 455.478499142212, 1e-10)
		near(t, "residual sum of squares", s.SquareSum, 836424.055505915, 1e-10)
	})
}

// powers are the rows 1, x, … xᵏ and the values of a table with columns y, x.
func powers(rows [][]float64, k int) (x [][]float64, y []float64) {
	for _, r := range rows {
		row := []float64{1}
		for range k {
			row = append(row, row[len(row)-1]*r[1])
		}
		x, y = append(x, row), append(y, r[0])
	}
	return x, y
}

// TestGUM checks the calibration line of JCGM 100, H.3.
func TestGUM(t *testing.T) {
	temperature := []float64{21.521, 22.012, 22.512, 23.003, 23.507, 23.999, 24.513, 25.002, 25.503, 26.010, 26.511}
	b := []float64{-0.171, -0.169, -0.166, -0.159, -0.164, -0.165, -0.156, -0.157, -0.159, -0.161, -0.160}
	var x [][]float64
	for _, v := range temperature {
		x = append(x, []float64{1, v - 20})
	}
	s := fit(t, b, x)
	at30 := []Term{{0, 1}, {1, 10}}
	s0sq, _ := s.VarianceFactor()
	correlation := s.Cofactor.At(0, 1) / math.Sqrt(s.Cofactor.At(0, 0)*s.Cofactor.At(1, 1))
	for _, c := range []struct {
		what           string
		got, want, tol float64
	}{
		{"y1", s.X[0], -0.1712, 5e-5},
		{"u(y1)", s.EstimatedError(Term{0, 1}), 0.0029, 5e-5},
		{"y2", s.X[1], 0.00218, 5e-6},
		{"u(y2)", s.EstimatedError(Term{1, 1}), 0.00067, 5e-6},
		{"r", correlation, -0.93, 5e-3},
		{"b(30)", s.X[0] + 10*s.X[1], -0.1494, 5e-5},
		{"u(b(30))", s.EstimatedError(at30...), 0.0041, 5e-5},
		{"s", math.Sqrt(s0sq), 0.0035, 5e-5},
	} {
		if !(math.Abs(c.got-c.want) <= c.tol) {
			t.Errorf("%s = %v, want %v (tol %g °C: printed digits)", c.what, c.got, c.want, c.tol)
		}
	}
}

// TestPlane fits a plane through five shots (constructed, exact).
func TestPlane(t *testing.T) {
	s := fit(t, []float64{10.000, 10.004, 9.998, 10.003, 10.001},
		[][]float64{{1, 0, 0}, {1, 30, 0}, {1, 0, 20}, {1, 30, 20}, {1, 15, 10}})
	near(t, "height", s.X[0], 9.9997, 1e-14)
	near(t, "slope east", s.X[1], 0.00015, 1e-11)
	near(t, "slope north", s.X[2], -0.000075, 1e-11)
	near(t, "s", s.deviation(), 3.872983346e-4, 1e-9)
}
