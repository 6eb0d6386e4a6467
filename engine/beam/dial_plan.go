package beam

import (
	"math"

	"spadework/engine/geom"
	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// DialPlan is the dial for a trench and what it costs to round it.
type DialPlan struct {
	Ideal, Rounded Dial
	Shown          Shown // to key on this laser
	Text           phrase.Message
	Rounding       []RunEffect // of rounding the dial, one a run
	// OneDegree is the most the beam is off at each end when the mark is aimed
	// one degree to either side, never negative, one a run.
	OneDegree []RunEffect
}

// RunEffect is how far the beam lies over (+) or under (−) where the exact dial
// would have it, at both ends of a run, with the height taken at the pin.
type RunEffect struct {
	Run        string
	Start, End unit.Length
}

// squareToRun is how near to square a one-axis laser may be aimed to a falling
// run: one degree, what a mark is aimed to by eye (common practice).
const squareToRun = unit.Degree

// parallelRuns is the sine under which two runs count as parallel: 1 mm in 1 km,
// less than any stake is set to.
const parallelRuns = 1e-6

// DialForRun is the dial that gives one grade rod along the run: gradient g with
// g·u = −fall on the run's direction u. With two axes the beam is level across
// the run wherever the mark points; with one axis the mark must point along it,
// and aimed aside by θ the beam also leans across the run by fall·tan θ, which
// OneRod judges. The pin is the place of the backsight read after dialling.
// It is a fault if the laser cannot be dialled so.
func DialForRun(run Run, laser Laser, aim Aim, pin geom.Point) (DialPlan, *phrase.Fault) {
	if f := checkDialling(aim, pin, run); f != nil {
		return DialPlan{}, f
	}
	ideal := DialOf(run.gradient(), aim.Direction())
	if laser.Axes < 2 {
		turned := run.Direction().Dot(along(ideal.Bearing))
		if run.Fall() != 0 && math.Abs(turned) < math.Sin(float64(squareToRun)) {
			return DialPlan{}, phrase.NewFault(
				phrase.New("beam.aim_square_to_run", phrase.With("run", run.ID), phrase.With("laser", laser.ID)),
				phrase.New("beam.aim_square_to_run_remedy", phrase.With("bearing", Bearing(run.From, run.To))))
		}
		ideal.Grade, ideal.Cross = 0, 0
		if run.Fall() != 0 {
			ideal.Grade = unit.Grade(-float64(run.Fall()) / turned)
		}
	}
	return planDial(ideal, laser, aim, pin, run)
}

// DialForTwo is the one dial whose plane gives each of two runs a single grade
// rod: g·ua = −fall a and g·ub = −fall b. Parallel runs have one only if they
// fall alike; a laser with one axis only where the mark points straight up or
// down the plane.
func DialForTwo(a, b Run, laser Laser, aim Aim, pin geom.Point) (DialPlan, *phrase.Fault) {
	if f := checkDialling(aim, pin, a, b); f != nil {
		return DialPlan{}, f
	}
	g, ok := commonGradient(a, b)
	if !ok {
		return DialPlan{}, phrase.NewFault(
			phrase.New("beam.parallel_runs", phrase.With("a", a.ID), phrase.With("fall_a", a.Fall()),
				phrase.With("b", b.ID), phrase.With("fall_b", fallAlong(b, a))),
			phrase.New("beam.parallel_runs_remedy"))
	}
	ideal := DialOf(g, aim.Direction())
	if laser.Axes == 1 && laser.Round(ideal).Cross != 0 {
		down := g.Scale(-1)
		return DialPlan{}, phrase.NewFault(
			phrase.New("beam.one_axis_two_runs", phrase.With("laser", laser.ID), phrase.With("a", a.ID),
				phrase.With("b", b.ID), phrase.With("cross", ideal.Cross)),
			phrase.New("beam.one_axis_two_runs_remedy", phrase.With("grade", unit.Grade(g.Length())),
				phrase.With("bearing", Bearing(geom.Point{}, geom.Point(down)))))
	}
	if laser.Axes == 1 {
		ideal.Cross = 0
	}
	return planDial(ideal, laser, aim, pin, a, b)
}

// checkDialling refuses bad input to a dial.
func checkDialling(aim Aim, pin geom.Point, runs ...Run) *phrase.Fault {
	if f := aim.check(); f != nil {
		return f
	}
	if f := finite(named{"benchmark.at", pin.X}, named{"benchmark.at", pin.Y}); f != nil {
		return f
	}
	for _, r := range runs {
		if f := r.check(); f != nil {
			return f
		}
	}
	return nil
}

// commonGradient solves for the plane that falls along both runs as they do; not
// ok for parallel runs that fall differently.
func commonGradient(a, b Run) (geom.Vector, bool) {
	ua, ub := a.Direction(), b.Direction()
	aside := ua.Right()
	turned := aside.Dot(ub)
	if math.Abs(turned) < parallelRuns {
		// One millimetre of fall in a kilometre is not told apart.
		return a.gradient(), math.Abs(float64(a.Fall()-fallAlong(b, a))) < parallelRuns
	}
	// What run a leaves open is the slope across it; run b fixes that. Unlike
	// Cramer's rule this keeps both runs' falls where they are nearly parallel.
	along := a.gradient()
	across := (-float64(b.Fall()) - along.Dot(ub)) / turned
	return along.Plus(aside.Scale(across)), true
}

// fallAlong is the fall of b walked in the sense of a.
func fallAlong(b, a Run) unit.Grade {
	if a.Direction().Dot(b.Direction()) < 0 {
		return -b.Fall()
	}
	return b.Fall()
}

// planDial rounds a dial to the laser and tells what that does to each run.
func planDial(ideal Dial, laser Laser, aim Aim, pin geom.Point, runs ...Run) (DialPlan, *phrase.Fault) {
	ideal.Towards = aim.Mark
	rounded := laser.Round(ideal)
	if f := laser.Takes(rounded); f != nil {
		return DialPlan{}, f
	}
	plan := DialPlan{Ideal: ideal, Rounded: rounded, Shown: laser.Shows(rounded), Text: rounded.Text(laser)}
	for _, r := range runs {
		plan.Rounding = append(plan.Rounding, effect(r, pin, gradientChange(ideal, rounded)))
		plan.OneDegree = append(plan.OneDegree, oneDegree(r, pin, rounded))
	}
	return plan, nil
}

// gradientChange is the gradient of b less that of a.
func gradientChange(a, b Dial) geom.Vector { return b.Gradient().Plus(a.Gradient().Scale(-1)) }

// effect is what a change of gradient does at both ends of a run when the height
// is taken at the pin.
func effect(r Run, pin geom.Point, change geom.Vector) RunEffect {
	return RunEffect{
		Run:   r.ID,
		Start: unit.Length(change.Dot(r.From.Sub(pin))),
		End:   unit.Length(change.Dot(r.To.Sub(pin))),
	}
}
