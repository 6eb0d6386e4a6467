package watch

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"
	"pgregory.net/rapid"

	"spadework/engine/beam"
	"spadework/engine/geom"
	"spadework/engine/unit"
)

var band = beam.Band{Above: 0.012, Below: 0.012}

// oneMark is a laser that only jumps in height, one benchmark read twice and one
// dig half-way.
func oneMark(off unit.Length) Log {
	return Log{
		Habits: Habits{Bumps: []Bump{{Kind: HeightJump, Rate: 0.1, Height: 0.01}}},
		Points: []Point{{ID: "BM1", At: geom.Point{X: 30, Y: 10}, Known: true, Sigma: 0.003}},
		Readings: []Reading{{At: 0, Point: "BM1", Sigma: 0.002},
			{At: 2, Point: "BM1", Off: off, Sigma: 0.002}},
		Digs: []Dig{{ID: "F1", At: geom.Point{X: 5, Y: 5}, Dug: 1.5, Band: band}},
	}
}

// TestOneMarkByHand: the difference of two readings is N(0, 2σ²), or N(0, 2σ² + s²)
// after a jump, whatever height and benchmark are; the jump's mean is
// s²/(s² + 2σ²) of it (algebra, exact).
func TestOneMarkByHand(t *testing.T) {
	const d, quiet, jumpy = 0.009, 8e-6, 1.08e-4
	v, f := Judge(oneMark(d), DefaultLimit)
	if f != nil {
		t.Fatal(f)
	}
	density := func(variance float64) float64 { return math.Exp(-d*d/2/variance) / math.Sqrt(variance) }
	ratio := 0.2 * density(jumpy) / density(quiet)
	want := ratio / (1 + ratio)
	got := 0.0
	for _, o := range v.Odds {
		if len(o.Causes) > 0 {
			got += float64(o.Chance)
		}
	}
	if !(math.Abs(got-want) <= 1e-9) {
		t.Errorf("chance of a jump = %.12f, want %.12f (tol 1e-9: rounding)", got, want)
	}
	// The dig lies three quarters into the gap: it is under the jump with that chance.
	mean, sigma := d*1e-4/jumpy, math.Sqrt(1e-4*quiet/jumpy)
	over := 0.5 * math.Erfc((0.012-mean)/sigma/math.Sqrt2)
	if out := float64(v.Risks[0].Out); !(math.Abs(out-want*0.75*over) <= 0.03) {
		t.Errorf("chance of the dig being out = %.4f, want %.4f (tol 0.03: 1024 draws)", out, want*0.75*over)
	}
	if by := float64(v.Risks[0].By); !(math.Abs(by-mean) <= 4*sigma/math.Sqrt(700)) {
		t.Errorf("the dig departs by %.5f, want %.5f (tol four standard errors of the draws)", by, mean)
	}
	if by := float64(v.Shift.Height); !(math.Abs(by-mean) <= 4*sigma/math.Sqrt(1000)) {
		t.Errorf("the beam stands %.5f higher, want %.5f", by, mean)
	}
}

// anyLog is a log of everything: benchmarks, marks, drift, tilt, check shots.
func anyLog(t *rapid.T) Log {
	m := rapid.Float64Range(-0.02, 0.02)
	l := Log{
		Setup: Setup{At: geom.Point{X: 20, Y: 15}, Gradient: geom.Vector{X: 0.02, Y: -0.01}, Tilt: 5e-5},
		Habits: Habits{
			Bumps:      []Bump{{HeightJump, 0.05, 0.01, 0, 0}, {TwistJump, 0.02, 0.01, 0, 0.03}, {TiltJump, 0.03, 0.01, 2e-4, 0}},
			SettleRate: 0.01, SettleBy: 0.003, SettleTilt: 5e-5, DriftHeight: 0.0005, DriftTilt: 1e-5,
			Misread: 0.002, MisreadBy: 0.05, Moved: 0.002, Wrong: 0.01, MovedBy: 0.02,
		},
		MachineBias: 0.005,
		Points: []Point{{"BM1", geom.Point{X: -5, Y: -5}, true, 0.002}, {"BM2", geom.Point{X: 65, Y: 45}, true, 0.002},
			{"M1", geom.Point{X: 65, Y: -5}, false, 0}, {"F1", geom.Point{X: 30, Y: 30}, false, 0}},
	}
	for i, p := range []int{0, 1, 2, 3, 0, 3, 1, 2, 0} {
		at := Hours([]float64{0, 0, 0, 1, 2, 2.5, 4, 4, 6}[i])
		l.Readings = append(l.Readings, Reading{At: at, Point: l.Points[p].ID, Off: unit.Length(m.Draw(t, "off")), Sigma: 0.002, Machine: i == 5})
	}
	for i, at := range []Hours{0.5, 1.5, 3, 5} {
		l.Digs = append(l.Digs, Dig{ID: string(rune('a' + i)), At: geom.Point{X: float64(10 * i), Y: 20}, Dug: at, Band: band})
	}
	return l
}

// filter is the reference: a Kalman filter over height, tilts, every point's
// height, the machine's bias and the unknowns of the causes, unknown heights with
// a standard deviation of 30 m. It returns the log-likelihood of all readings.
func filter(s *series, causes ...int) float64 {
	var columns [][]float64
	for _, c := range causes {
		columns = append(columns, s.list[c].columns...)
	}
	points := s.log.Points
	n := 3 + len(points) + 1 + len(columns)
	p := mat.NewDense(n, n, nil)
	p.Set(0, 0, 900)
	p.Set(1, 1, sq(float64(s.log.Setup.Tilt)))
	p.Set(2, 2, sq(float64(s.log.Setup.Tilt)))
	for i, q := range points {
		p.Set(3+i, 3+i, 900)
		if q.Known {
			p.Set(3+i, 3+i, sq(float64(q.Sigma)))
		}
	}
	p.Set(3+len(points), 3+len(points), sq(float64(s.log.MachineBias)))
	for k := range columns {
		p.Set(4+len(points)+k, 4+len(points)+k, 1)
	}
	x, now, out := mat.NewVecDense(n, nil), Hours(0), 0.0
	for i, r := range s.readings {
		for k, q := range []float64{float64(s.log.Habits.DriftHeight), float64(s.log.Habits.DriftTilt), float64(s.log.Habits.DriftTilt)} {
			p.Set(k, k, p.At(k, k)+q*q*float64(r.At-now))
		}
		now = r.At
		h := mat.NewVecDense(n, nil)
		v := s.from(s.points[i].At)
		h.SetVec(0, 1)
		h.SetVec(1, v.X)
		h.SetVec(2, v.Y)
		for k, q := range points {
			if q.ID == r.Point {
				h.SetVec(3+k, 1)
			}
		}
		if r.Machine {
			h.SetVec(3+len(points), 1)
		}
		for k, c := range columns {
			h.SetVec(4+len(points)+k, c[i])
		}
		var ph mat.VecDense
		ph.MulVec(p, h)
		variance := mat.Dot(h, &ph) + sq(float64(r.Sigma))
		e := float64(r.Off) - mat.Dot(h, x)
		out -= (math.Log(variance) + e*e/variance) / 2
		x.AddScaledVec(x, e/variance, &ph)
		var gain mat.Dense
		gain.Outer(1/variance, &ph, &ph)
		p.Sub(p, &gain)
	}
	return out
}

// TestLikelihoodsAreTheFilters: every hypothesis weighs as by a Kalman filter that
// takes the readings one after the other (R. E. Kalman 1960; gonum the referee).
func TestLikelihoodsAreTheFilters(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := newSeries(anyLog(t), func(Reading) bool { return true })
		s.causes()
		s.solve()
		nothing := filter(s)
		for range 12 {
			i := rapid.IntRange(0, len(s.list)-1).Draw(t, "cause")
			j := rapid.IntRange(0, len(s.list)-1).Draw(t, "other")
			causes, odds := []int{i}, s.list[i].odds
			if j != i {
				causes, odds = append(causes, j), odds+s.list[j].odds
			}
			got, want := s.hypothesis(odds, causes...).weight-odds, filter(s, causes...)-nothing
			if !(math.Abs(got-want) <= 1e-3*(1+math.Abs(want))) {
				t.Fatalf("likelihood of %+v against nothing = %.6f, want %.6f (tol 1e-3: 30 m are not boundless, and cancel)", causes, got, want)
			}
		}
	})
}

// TestOddsAddUp and risks are chances, whatever was read.
func TestOddsAddUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v, f := Judge(anyLog(t), DefaultLimit)
		if f != nil {
			t.Fatal(f)
		}
		sum := 0.0
		for _, o := range v.Odds {
			sum += float64(o.Chance)
		}
		if !(math.Abs(sum-1) <= 1e-9) {
			t.Fatalf("odds add up to %.12f", sum)
		}
		for _, r := range v.Risks {
			if !(r.Out >= 0 && r.Out <= v.Out || !r.Closed) {
				t.Fatalf("%s out with %g, some dig with %g", r.Dig, r.Out, v.Out)
			}
		}
	})
}
