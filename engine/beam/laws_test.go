package beam_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"spadework/engine/beam"
	"spadework/engine/geom"
	"spadework/engine/unit"
)

func anyPoint(t *rapid.T, name string) geom.Point {
	return geom.Point{
		X: rapid.Float64Range(-300, 300).Draw(t, name+".x"),
		Y: rapid.Float64Range(-300, 300).Draw(t, name+".y"),
	}
}

func anyGradient(t *rapid.T) geom.Vector {
	return geom.Vector{
		X: rapid.Float64Range(-0.1, 0.1).Draw(t, "gx"),
		Y: rapid.Float64Range(-0.1, 0.1).Draw(t, "gy"),
	}
}

func anyCurvature(t *rapid.T) beam.Curvature {
	return rapid.SampledFrom([]beam.Curvature{beam.Combined, beam.None}).Draw(t, "curvature")
}

func anyElevation(t *rapid.T, name string) unit.Elevation {
	return unit.Elevation(rapid.Float64Range(-50, 900).Draw(t, name))
}

// anyRun is 5 to 150 m long and falls or rises by up to 8 %.
func anyRun(t *rapid.T, name string) beam.Run {
	from := anyPoint(t, name+".from")
	sin, cos := math.Sincos(rapid.Float64Range(0, 2*math.Pi).Draw(t, name+".bearing"))
	length := rapid.Float64Range(5, 150).Draw(t, name+".length")
	z := anyElevation(t, name+".z")
	fall := rapid.Float64Range(-0.08, 0.08).Draw(t, name+".fall")
	return beam.Run{ID: name, From: from, To: from.Add(geom.Vector{X: sin, Y: cos}.Scale(length)),
		FromElevation: z, ToElevation: z.Plus(unit.Length(-fall * length))}
}

// anySetUp is an instrument with one backsight on a benchmark that is exact.
func anySetUp(t *rapid.T) (beam.Instrument, beam.Backsight) {
	return beam.Instrument{At: anyPoint(t, "laser"), Gradient: anyGradient(t), Curvature: anyCurvature(t)},
		beam.Backsight{Benchmark: "BM", At: anyPoint(t, "bm"), Elevation: anyElevation(t, "bm.z"),
			Rod: unit.Reading(rapid.Float64Range(0.2, 4).Draw(t, "bs"))}
}

func mustSight(t *rapid.T, in beam.Instrument, sights ...beam.Backsight) beam.Plane {
	pl, _, f := beam.FromBacksights(in, sights)
	if f != nil {
		t.Fatal(f)
	}
	return pl
}

func close9(t *rapid.T, what string, got, want float64) {
	if !(math.Abs(got-want) <= 1e-9) {
		t.Fatalf("%s = %.12g, want %.12g (tol 1e-9 m: float64 at these sizes)", what, got, want)
	}
}

// Law: grade rod − ground rod = cut.
func TestLawGradeRodLessGroundRodIsCut(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in, bs := anySetUp(t)
		pl, p := mustSight(t, in, bs), anyPoint(t, "p")
		ground, bottom := anyElevation(t, "ground"), anyElevation(t, "bottom")
		cut := float64(ground - bottom)
		close9(t, "grade rod − ground rod", float64(pl.GradeRod(p, bottom)-pl.GradeRod(p, ground)), cut)
		close9(t, "Foot of the grade rod", float64(pl.Foot(p, pl.GradeRod(p, bottom))), float64(bottom))
		close9(t, "CutAt", float64(beam.CutAt(ground, bottom)), cut)
	})
}

// Law: moving benchmarks and bottoms together moves every elevation and no rod.
func TestLawMovingTheDatumChangesNoRod(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in, bs := anySetUp(t)
		p, bottom := anyPoint(t, "p"), anyElevation(t, "bottom")
		up := rapid.Float64Range(-200, 200).Draw(t, "up")
		before := mustSight(t, in, bs)
		moved := bs
		moved.Elevation += unit.Elevation(up)
		after := mustSight(t, in, moved)
		close9(t, "rod", float64(after.GradeRod(p, bottom+unit.Elevation(up))), float64(before.GradeRod(p, bottom)))
		close9(t, "beam", float64(after.Beam(p)), float64(before.Beam(p))+up)
	})
}

// Law: shifting and turning the site, dial and all, changes no rod.
func TestLawShiftingAndTurningTheSiteChangesNoRod(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in, bs := anySetUp(t)
		p, bottom := anyPoint(t, "p"), anyElevation(t, "bottom")
		turn := rapid.Float64Range(0, 2*math.Pi).Draw(t, "turn")
		shift := geom.Vector(anyPoint(t, "shift"))
		sin, cos := math.Sincos(turn)
		vector := func(v geom.Vector) geom.Vector { return geom.Vector{X: cos*v.X + sin*v.Y, Y: cos*v.Y - sin*v.X} }
		place := func(q geom.Point) geom.Point { return geom.Point(vector(geom.Vector(q))).Add(shift) }
		before := mustSight(t, in, bs)
		d := beam.DialOf(in.Gradient, 0)
		d.Bearing += unit.Angle(turn) // clockwise, as the site turns
		in.At, in.Gradient, bs.At = place(in.At), d.Gradient(), place(bs.At)
		after := mustSight(t, in, bs)
		close9(t, "rod", float64(after.GradeRod(place(p), bottom)), float64(before.GradeRod(p, bottom)))
	})
}

// Law: before rounding and without curvature one rod serves the run to 1e-9;
// with curvature within c at the end that lies further from the laser.
func TestLawOneRodAlongItsTrench(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		run := anyRun(t, "run")
		laser := tenPercent(2)
		laser.Step = 0
		at := anyPoint(t, "laser")
		aim := beam.Aim{Bearing: unit.Angle(rapid.Float64Range(0, 2*math.Pi).Draw(t, "bearing"))}
		plan, f := beam.DialForRun(run, laser, aim, run.From)
		if f != nil {
			t.Fatal(f)
		}
		in := beam.Instrument{At: at, Gradient: plan.Ideal.Gradient(), Curvature: anyCurvature(t)}
		pl, f := beam.FromHI(in, run.FromElevation.Plus(1.5))
		if f != nil {
			t.Fatal(f)
		}
		c := in.Curvature.Drop(max(at.Distance(run.From), at.Distance(run.To)))
		check, f := beam.OneRod(pl, run, beam.Band{})
		if f != nil {
			t.Fatal(f)
		}
		if spread := float64(check.High - check.Low); !(spread <= c+1e-9) {
			t.Fatalf("rods along the run differ by %.3g m, want ≤ %.3g (c at the far end)", spread, c)
		}
		first := float64(pl.GradeRod(run.From, run.FromElevation))
		s := unit.Station(rapid.Float64Range(0, float64(run.Length())).Draw(t, "station"))
		if rod := float64(pl.GradeRod(run.At(s), run.Bottom(s))); !(math.Abs(rod-first) <= c+1e-9) {
			t.Fatalf("rod at %g = %.12g, at the start %.12g, want within %.3g", s, rod, first, c)
		}
	})
}

// Law: a run walked from its other end has the same bottom everywhere, the
// opposite fall and the same plane.
func TestLawReversingARunChangesNoBottom(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		run := anyRun(t, "run")
		back := run
		back.From, back.To = run.To, run.From
		back.FromElevation, back.ToElevation = run.ToElevation, run.FromElevation
		s := rapid.Float64Range(0, float64(run.Length())).Draw(t, "station")
		there := unit.Station(float64(run.Length()) - s)
		close9(t, "bottom", float64(back.Bottom(there)), float64(run.Bottom(unit.Station(s))))
		close9(t, "place", run.At(unit.Station(s)).Distance(back.At(there)), 0)
		close9(t, "fall", float64(back.Fall()), -float64(run.Fall()))
		laser := tenPercent(2)
		laser.Step = 0
		a, f := beam.DialForRun(run, laser, beam.Aim{}, run.From)
		b, g := beam.DialForRun(back, laser, beam.Aim{}, run.From)
		if f != nil || g != nil {
			t.Fatal(f, g)
		}
		close9(t, "gradient east", b.Ideal.Gradient().X, a.Ideal.Gradient().X)
		close9(t, "gradient north", b.Ideal.Gradient().Y, a.Ideal.Gradient().Y)
	})
}

// Law: one plane for two runs gives each one rod.
func TestLawOnePlaneServesBothRuns(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := anyRun(t, "a"), anyRun(t, "b")
		laser := beam.Laser{ID: "L", Axes: 2, Steepest: [2]beam.GradeRange{{Min: -1, Max: 1}, {Min: -1, Max: 1}}}
		plan, f := beam.DialForTwo(a, b, laser, beam.Aim{}, a.From)
		if f != nil {
			t.Skip("parallel or too steep")
		}
		pl := beam.Plane{HI: 100, Gradient: plan.Ideal.Gradient(), Curvature: beam.None}
		for _, run := range []beam.Run{a, b} {
			check, f := beam.OneRod(pl, run, beam.Band{})
			if f != nil {
				t.Fatal(f)
			}
			tol := 1e-9
			if math.Abs(a.Direction().Cross(b.Direction())) < 1e-6 {
				tol = 1e-6 * float64(run.Length()) // parallel: falls to 1 mm in 1 km count as one
			}
			if spread := float64(check.High - check.Low); !(spread <= tol) {
				t.Fatalf("rods along %s differ by %g m, want ≤ %g", run.ID, spread, tol)
			}
		}
	})
}

// Law: moving the laser but keeping backsights read after dialling changes no rod
// but by curvature, with one backsight or more.
func TestLawMovingTheLaserChangesNoRodButByCurvature(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in, bs := anySetUp(t)
		second := bs
		second.Benchmark, second.Sigma = "BM2", 0.05 // m: curvature over 800 m is not in its elevation
		second.At = anyPoint(t, "bm2")
		second.Elevation = bs.Elevation.Plus(unit.Length(in.Gradient.Dot(second.At.Sub(bs.At)) + rapid.Float64Range(-0.002, 0.002).Draw(t, "off")))
		p, bottom := anyPoint(t, "p"), anyElevation(t, "bottom")
		moved := in
		moved.At = anyPoint(t, "moved")
		before, after := mustSight(t, in, bs, second), mustSight(t, moved, bs, second)
		most := 0.0
		for _, at := range []geom.Point{in.At, moved.At} {
			for _, q := range []geom.Point{p, bs.At, second.At} {
				most = max(most, in.Curvature.Drop(at.Distance(q)))
			}
		}
		if d := math.Abs(float64(after.GradeRod(p, bottom) - before.GradeRod(p, bottom))); !(d <= 2*most+1e-9) {
			t.Fatalf("moving the laser changed the rod by %g m, want at most what curvature does, %g", d, 2*most)
		}
	})
}

// Law: gradient → dial → gradient, and dial → gradient → dial.
func TestLawGradientFromDialAndBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := anyGradient(t)
		b := unit.Angle(rapid.Float64Range(-7, 7).Draw(t, "bearing"))
		back := beam.DialOf(g, b).Gradient()
		if !(math.Abs(back.X-g.X) <= 1e-15 && math.Abs(back.Y-g.Y) <= 1e-15) {
			t.Fatalf("DialOf(%v).Gradient() = %v (tol 1e-15: sin² + cos²)", g, back)
		}
		d := beam.Dial{Bearing: b, Grade: unit.Grade(g.X), Cross: unit.Grade(g.Y)}
		again := beam.DialOf(d.Gradient(), b)
		if !(math.Abs(float64(again.Grade-d.Grade)) <= 1e-15 && math.Abs(float64(again.Cross-d.Cross)) <= 1e-15) {
			t.Fatalf("DialOf(Gradient()) = %v, want %v", again, d)
		}
	})
}

// Law: rounding moves each figure by at most half a step, and its told effect is
// the difference of the two planes pinned at the backsight.
func TestLawRoundingIsToldAsItIs(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		run, pin := anyRun(t, "run"), anyPoint(t, "pin")
		laser := tenPercent(2)
		laser.Step = unit.Grade(rapid.SampledFrom([]float64{0.00001, 0.0001, 0.001}).Draw(t, "step"))
		plan, f := beam.DialForRun(run, laser, beam.Aim{Bearing: 1}, pin)
		if f != nil {
			t.Fatal(f)
		}
		for _, d := range []unit.Grade{plan.Rounded.Grade - plan.Ideal.Grade, plan.Rounded.Cross - plan.Ideal.Cross} {
			if !(math.Abs(float64(d)) <= float64(laser.Step)/2*(1+1e-9)) {
				t.Fatalf("rounding moved a figure by %g, step %g", d, laser.Step)
			}
		}
		bs := beam.Backsight{At: pin, Elevation: 10, Rod: 1}
		exact := mustSight(t, beam.Instrument{Gradient: plan.Ideal.Gradient()}, bs)
		real := mustSight(t, beam.Instrument{Gradient: plan.Rounded.Gradient()}, bs)
		close9(t, "start", float64(plan.Rounding[0].Start), float64(real.Beam(run.From)-exact.Beam(run.From)))
		close9(t, "end", float64(plan.Rounding[0].End), float64(real.Beam(run.To)-exact.Beam(run.To)))
	})
}

// Law: a laser that keeps its stated accuracy over exact benchmarks read exactly
// is never refused.
func TestLawALaserWithinItsBoundAgrees(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in, bs := anySetUp(t)
		in.Accuracy = unit.Grade(rapid.Float64Range(0, 0.0002).Draw(t, "accuracy"))
		sin, cos := math.Sincos(rapid.Float64Range(0, 2*math.Pi).Draw(t, "tilted to"))
		tilt := geom.Vector{X: sin, Y: cos}.Scale(float64(in.Accuracy))
		second := bs
		second.Benchmark, second.At = "BM2", anyPoint(t, "bm2")
		real := beam.Plane{At: in.At, HI: mustSight(t, in, bs).HI, Gradient: in.Gradient.Plus(tilt), Curvature: in.Curvature}
		bs.Rod, second.Rod = real.GradeRod(bs.At, bs.Elevation), real.GradeRod(second.At, second.Elevation)
		mustSight(t, in, bs, second)
	})
}

// Law: the effect of aiming aside is bounded by the formula's two parts.
func TestLawMisaimFormulaMatchesTheTurnedDial(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := beam.Dial{Bearing: unit.Angle(rapid.Float64Range(0, 6).Draw(t, "bearing")), Grade: unit.Grade(rapid.Float64Range(-0.1, 0.1).Draw(t, "grade"))}
		k := unit.Angle(rapid.Float64Range(-0.2, 0.2).Draw(t, "k"))
		turned := d
		turned.Bearing += k
		sin, cos := math.Sincos(float64(d.Bearing))
		axis := geom.Vector{X: sin, Y: cos}
		change := turned.Gradient().Plus(d.Gradient().Scale(-1))
		m := beam.MisaimOf(d.Grade, k, 100, 10)
		close9(t, "along", float64(m.Along), math.Abs(change.Dot(axis)*100))
		close9(t, "aside", float64(m.Aside), math.Abs(change.Dot(axis.Right())*10))
	})
}
