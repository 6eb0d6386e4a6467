package rehearse

import (
	"math"

	"spadework/engine/beam"
	"spadework/engine/phrase"
	"spadework/engine/trust"
	"spadework/engine/unit"
)

// Site is what the program makes of the first records of a day.
func (d Day) Site(records int) (*trust.Site, *phrase.Fault) {
	site, f := trust.NewSite(d.Control, []trust.Setup{d.Setup})
	if f != nil {
		return nil, f
	}
	for _, r := range d.Records[:records] {
		off := unit.Length(r.Rod - d.Plane.GradeRod(r.At, r.Elevation))
		f := site.Read(trust.Sight{Setup: d.Setup.ID, Point: r.Benchmark, Off: off, Sigma: d.reading()})
		if f != nil {
			return nil, f
		}
	}
	return site, nil
}

// reading is the sigma of a backsight: dead band, eye and face, as of the digs.
func (d Day) reading() unit.Length {
	w := d.Way
	return unit.Length(math.Sqrt(sq(float64(w.DeadBand))/12 + sq(float64(w.Reading)) + sq(float64(w.Shown))/12))
}

// Forecast is what the program says of a day before anything is shot.
type Forecast struct {
	Within []float64 // chance of each bottom
	Count  []float64 // chance that none, one, two … are out
}

// Mutant is a program with a fault, to see that the referee finds it.
type Mutant string

// The mutants.
const (
	Sound           Mutant = ""
	SigmaTooLarge   Mutant = "sigma × 1.2"
	ForgottenTie    Mutant = "forgotten tie"
	IndependentDigs Mutant = "independent digs"
	LostBacksight   Mutant = "lost backsight"
)

// Mutants are those that a referee must find.
func Mutants() []Mutant { return []Mutant{SigmaTooLarge, ForgottenTie, IndependentDigs, LostBacksight} }

// Forecast is what a program says of the day, from its records alone.
func (d Day) Forecast(m Mutant) (Forecast, *phrase.Fault) {
	records := len(d.Records)
	if m == LostBacksight && records > 1 {
		records--
	}
	site, f := d.Site(records)
	if f != nil {
		return Forecast{}, f
	}
	b := site.Belief(d.Setup.ID)
	way := d.Way
	if m == ForgottenTie && way.Guidance == beam.SensorsBeam {
		way.DeadBand, way.Reading = 0, 0
	}
	var out Forecast
	var bottoms []trust.Bottom
	for _, dig := range d.Digs {
		o := b.At(dig.At, dig.GradeTo, way)
		if m == SigmaTooLarge {
			o.Final *= 1.2
		}
		out.Within = append(out.Within, float64(o.Within(dig.Band, dig.Aim)))
		n := trust.Number{Setup: d.Setup.ID, At: dig.At, Rod: dig.GradeTo, Way: way}
		bottom := b.Finished(n, dig.Band, dig.Aim)
		bottom.Tie = dig.Tie
		if m == SigmaTooLarge {
			bottom.Sigma *= 1.2
		}
		bottoms = append(bottoms, bottom)
	}
	if m == IndependentDigs {
		out.Count = independent(out.Within)
	} else {
		out.Count = b.Out(bottoms, way.TieSigma())
	}
	return out, nil
}

// independent is the count of bottoms out where nothing is shared.
func independent(within []float64) []float64 {
	out := make([]float64, len(within)+1)
	out[0] = 1
	for n, p := range within {
		for k := n + 1; k > 0; k-- {
			out[k] = float64(out[k]*p) + float64(out[k-1]*(1-p))
		}
		out[0] *= p
	}
	return out
}
