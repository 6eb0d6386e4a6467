package trust

import (
	"math"

	"spadework/engine/beam"
	"spadework/engine/geom"
	"spadework/engine/unit"
)

// Way is how a crew comes down to a number and what it leaves. Bounds are
// half-widths of rectangular errors, sigmas standard deviations; all ≥ 0.
type Way struct {
	Guidance beam.Guidance
	DeadBand unit.Length // full height over which the receiver shows On
	Reading  unit.Length // sigma of a reading without a receiver
	Shown    unit.Length // step to which the number is rounded
	Plumb    unit.Angle  // bound on the lean of rod or stick, an axis
	Offset   unit.Length // from the teeth to a receiver aside of them
	Depth    unit.Length // sigma of the machine's own depth measuring at its reach
	Measures bool        // Depth is told; without it sensors give no outlook
	Cutting  unit.Length // sigma of what the bucket leaves
	Leaves   unit.Length // mean over its number at which a machine's sensors leave a bottom, + high; either sign
	Trimming unit.Length // sigma of what hands leave after check and trim
}

// Outlook is what is to be expected of a bottom dug to its number.
type Outlook struct {
	Known bool
	Mean  unit.Length // over its design, dug to grade: + too high
	Beam  unit.Length // standard error of the beam there
	First unit.Length // of the bottom at the first pass
	Final unit.Length // of the finished bottom, after check and trim
}

// At is the outlook of a number read at rod height over the bottom at p. It is
// not known while the height is open, or where sensors have no stated accuracy.
func (b *Belief) At(p geom.Point, rod unit.Reading, w Way) Outlook {
	beamAt := b.Beam(p)
	sensors := w.Guidance == beam.SensorsBeam
	if !beamAt.Known || !w.known() {
		nan := unit.Length(math.NaN())
		return Outlook{Mean: nan, Beam: beamAt.Sigma, First: nan, Final: nan}
	}
	shake := shakeAt(b.setup.Wind, b.setup.At.Distance(p))
	lean := w.lean(float64(rod))
	read := float64(beamAt.Sigma*beamAt.Sigma) + w.reading() + float64(shake*shake) + float64(lean*lean) +
		w.aside(b.setup.Dial.Gradient)
	first := read + float64(w.Cutting*w.Cutting)
	final := read + float64(w.Trimming*w.Trimming)
	if sensors {
		first += float64(w.Depth * w.Depth)
		final = first
	}
	mean := beamAt.Mean + unit.Length(lean)
	if sensors {
		mean += w.Leaves
	}
	return Outlook{
		Known: true, Mean: mean, Beam: beamAt.Sigma,
		First: unit.Length(math.Sqrt(first)), Final: unit.Length(math.Sqrt(final)),
	}
}

// Touch is the outlook of a number counted from a point the teeth touched, of a
// standard error.
func (w Way) Touch(sigma unit.Length) Outlook {
	if !w.Measures {
		nan := unit.Length(math.NaN())
		return Outlook{Mean: nan, Beam: nan, First: nan, Final: nan}
	}
	s := unit.Length(math.Sqrt(float64(sigma*sigma) + float64(w.Depth*w.Depth) + float64(w.Cutting*w.Cutting) + w.rounding()))
	return Outlook{Known: true, Mean: w.Leaves, Beam: unit.Length(math.NaN()), First: s, Final: s}
}

// known says that the way tells what its guidance needs.
func (w Way) known() bool {
	return w.Guidance == beam.ByRod || w.Guidance == beam.StickReceiver || w.Measures
}

// reading is the variance of one reading: dead band, eye and rounding.
func (w Way) reading() float64 {
	return float64(w.DeadBand*w.DeadBand)/12 + float64(w.Reading*w.Reading) + w.rounding()
}

func (w Way) rounding() float64 { return float64(w.Shown*w.Shown) / 12 }

// lean is both the mean and the standard deviation of what a leaning rod of a
// height does to the bottom: rod·t²/2 with two leans of σ = bound/√3 is an
// exponential value of mean rod·σ². It always leaves the bottom too high.
func (w Way) lean(rod float64) float64 {
	s := rectangular(float64(w.Plumb))
	return math.Abs(rod) * float64(s*s)
}

// aside is the variance from a receiver beside the teeth under a slope, turned
// anyhow.
func (w Way) aside(gradient geom.Vector) float64 {
	if w.Guidance == beam.ByRod {
		return 0
	}
	d := gradient.Length() * float64(w.Offset)
	return float64(d*d) / 2
}

// TieSigma is the standard deviation of what the numbers of one tie share: the
// reading of the beam that zeroed the sensors. 0 for a guidance without ties.
func (w Way) TieSigma() unit.Length {
	if w.Guidance != beam.SensorsBeam {
		return 0
	}
	return unit.Length(math.Sqrt(float64(w.DeadBand*w.DeadBand)/12 + float64(w.Reading*w.Reading)))
}
