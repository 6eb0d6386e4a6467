package beam

import (
	"math"

	"spadework/engine/geom"
	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// Backsight is one rod read on a benchmark, for a dialled plane after dialling.
type Backsight struct {
	Benchmark    string
	At           geom.Point
	Elevation    unit.Elevation
	Sigma        unit.Length // standard error of the benchmark, ≥ 0
	Rod          unit.Reading
	ReadingSigma unit.Length // standard error of the reading; 0 takes DefaultReadingSigma
}

// DefaultReadingSigma stands for a reading whose standard error is not told:
// the reading of the reference scenario, a hand receiver with a medium dead
// band (common practice).
const DefaultReadingSigma = 2 * unit.Millimetre

// AgreementFactor is how many standard errors of their difference two
// backsights may lie apart: coverage factor 3, about 99 % (JCGM 100:2008,
// 6.3.3, from memory).
const AgreementFactor = 3

// Residual is what one backsight says beside the mean of all.
type Residual struct {
	Benchmark string
	HI        unit.Elevation // the beam at the laser by this backsight alone
	Off       unit.Length    // HI less the mean, + where this one says higher
	Sigma     unit.Length    // standard error of HI: benchmark and reading
	Curvature unit.Length    // taken off its rod
}

// FromBacksights is the plane through the backsights: each gives
// HI = BM + BS + g·(At − BM's place) − c(D), and HI is their mean weighted by
// 1/σ² of benchmark and reading. Weights leave the laser's place out, so that it
// drops out of every rod but for curvature; a benchmark read twice counts twice.
//
// Every pair must agree within AgreementFactor standard errors of benchmarks,
// readings and plane: the stated accuracy a is a bound, so a·d/√3 for points d
// apart, and a laser that keeps its bound is never refused. Else the fault names
// the pair that is worst by that measure.
func FromBacksights(in Instrument, sights []Backsight) (Plane, []Residual, *phrase.Fault) {
	if f := checkSights(in, sights); f != nil {
		return Plane{}, nil, f
	}
	residuals := make([]Residual, len(sights))
	var sum, weight float64
	for i, s := range sights {
		residuals[i] = in.reduce(s)
		w := 1 / float64(residuals[i].Sigma*residuals[i].Sigma)
		weight += w
		// Differences to the first keep the digits of a high site.
		sum += float64(w * float64(residuals[i].HI-residuals[0].HI))
	}
	if f := in.agree(sights, residuals); f != nil {
		return Plane{}, residuals, f
	}
	hi := residuals[0].HI.Plus(unit.Length(sum / weight))
	for i := range residuals {
		residuals[i].Off = residuals[i].HI.Above(hi)
	}
	pl, f := FromHI(in, hi)
	return pl, residuals, f
}

// checkSights refuses a set-up without backsights and figures out of range.
func checkSights(in Instrument, sights []Backsight) *phrase.Fault {
	if f := in.check(); f != nil {
		return f
	}
	if len(sights) == 0 {
		return phrase.NewFault(phrase.New("beam.no_backsight"), phrase.New("beam.no_backsight_remedy"))
	}
	for _, s := range sights {
		if f := finite(named{"benchmark.at", s.At.X}, named{"benchmark.at", s.At.Y},
			named{"benchmark.elevation", float64(s.Elevation)}, named{"benchmark.sigma", float64(s.Sigma)},
			named{"backsight.rod", float64(s.Rod)}, named{"backsight.sigma", float64(s.ReadingSigma)}); f != nil {
			return f
		}
		if f := notNegative(named{"benchmark.sigma", float64(s.Sigma)},
			named{"backsight.sigma", float64(s.ReadingSigma)}); f != nil {
			return f
		}
	}
	return nil
}

// readingSigma is the standard error of the reading, the default if not told.
func (s Backsight) readingSigma() float64 {
	if s.ReadingSigma == 0 {
		return float64(DefaultReadingSigma)
	}
	return float64(s.ReadingSigma)
}

// reduce is the beam at the laser by one backsight.
func (in Instrument) reduce(s Backsight) Residual {
	c := unit.Length(in.Curvature.Drop(s.At.Distance(in.At)))
	up := unit.Length(in.Gradient.Dot(in.At.Sub(s.At)))
	sr := s.readingSigma()
	return Residual{
		Benchmark: s.Benchmark,
		HI:        s.Elevation.Plus(unit.Length(s.Rod) + up - c),
		Sigma:     unit.Length(math.Sqrt(float64(s.Sigma*s.Sigma) + float64(sr*sr))),
		Curvature: c,
	}
}

// agree is the fault of the pair that lies furthest apart for its uncertainty.
func (in Instrument) agree(sights []Backsight, residuals []Residual) *phrase.Fault {
	worst, wi, wj := 1.0, -1, -1
	for i := range sights {
		for j := i + 1; j < len(sights); j++ {
			apart := math.Abs(float64(residuals[i].HI - residuals[j].HI))
			ratio := apart / in.pairLimit(sights[i], sights[j])
			if !(ratio <= worst) {
				worst, wi, wj = ratio, i, j
			}
		}
	}
	if wi < 0 {
		return nil
	}
	a, b := residuals[wi], residuals[wj]
	limit := in.pairLimit(sights[wi], sights[wj])
	return &phrase.Fault{
		Code: phrase.Conflict,
		What: phrase.New("beam.backsights_disagree",
			phrase.With("a", a.Benchmark), phrase.With("hi_a", a.HI),
			phrase.With("b", b.Benchmark), phrase.With("hi_b", b.HI),
			phrase.With("apart", unit.Length(math.Abs(float64(a.HI-b.HI)))),
			phrase.With("limit", unit.Length(limit)), phrase.With("k", AgreementFactor)),
		Remedy: phrase.New("beam.backsights_disagree_remedy",
			phrase.With("a", a.Benchmark), phrase.With("b", b.Benchmark)),
	}
}

// pairLimit is how far apart in metres two backsights may put the beam.
func (in Instrument) pairLimit(a, b Backsight) float64 {
	sa, sb := a.readingSigma(), b.readingSigma()
	variance := float64(sa*sa) + float64(sb*sb)
	if a.Benchmark != b.Benchmark { // one benchmark's own error is shared by its readings
		variance += float64(a.Sigma*a.Sigma) + float64(b.Sigma*b.Sigma)
	}
	return AgreementFactor * math.Sqrt(variance+in.tiltVariance(a.At, b.At))
}

// tiltVariance is the variance in m² of the plane's error between two points.
func (in Instrument) tiltVariance(a, b geom.Point) float64 {
	d := float64(float64(in.Accuracy) * a.Distance(b))
	return float64(d*d) / 3
}
