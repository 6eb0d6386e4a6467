package beam

import (
	"math"

	"spadework/engine/geom"
	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// Known is a point of known height: a benchmark, a hub, a control point.
type Known struct {
	ID        string
	At        geom.Point
	Elevation unit.Elevation
	Sigma     unit.Length // standard error, ≥ 0
}

// DialProof is the two rods that prove a dial. Difference does not rest on the
// HI, so it proves a planned plane as well.
type DialProof struct {
	A, B       string
	RodA, RodB unit.Reading
	Difference unit.Length // RodB − RodA
	Within     unit.Length // how far the read difference may lie from it
	Text       phrase.Message
}

// ProveDial picks from the points the two that lie furthest apart along the
// slope of the plane (apart at all for a level one; ties to the smaller ids) and
// tells the rods they must show. Two rods prove the slope along their line only.
// Within is AgreementFactor standard errors of the points, two readings of
// DefaultReadingSigma and the laser's accuracy, as for backsights.
func ProveDial(pl Plane, accuracy unit.Grade, points []Known) (DialProof, *phrase.Fault) {
	if f := checkPlaneAndBand(pl, Band{}); f != nil {
		return DialProof{}, f
	}
	if f := checkKnown(accuracy, points); f != nil {
		return DialProof{}, f
	}
	a, b, apart := furthest(pl.Gradient, points)
	if !(apart > 0) {
		return DialProof{}, &phrase.Fault{
			Code:   phrase.NotFound,
			What:   phrase.New("beam.no_proof", phrase.With("count", len(points))),
			Remedy: phrase.New("beam.no_proof_remedy"),
		}
	}
	proof := DialProof{
		A: a.ID, B: b.ID,
		RodA: pl.GradeRod(a.At, a.Elevation), RodB: pl.GradeRod(b.At, b.Elevation),
		Difference: pl.Rise(b.At) - pl.Rise(a.At) - b.Elevation.Above(a.Elevation),
		Within:     unit.Length(Instrument{Accuracy: accuracy}.pairLimit(a.sight(), b.sight())),
	}
	proof.Text = proof.text()
	return proof, nil
}

// text tells the two rods and how the second differs, its sign as a word.
func (d DialProof) text() phrase.Message {
	size := d.Difference
	if size < 0 {
		size = -size
	}
	args := []phrase.Arg{
		phrase.With("a", d.A), phrase.With("rod_a", d.RodA), phrase.With("b", d.B), phrase.With("rod_b", d.RodB),
		phrase.With("difference", size), phrase.With("within", d.Within),
	}
	if d.Difference < 0 {
		return phrase.New("beam.proof_less", args...)
	}
	return phrase.New("beam.proof_more", args...)
}

// checkKnown refuses figures that are not finite or out of range.
func checkKnown(accuracy unit.Grade, points []Known) *phrase.Fault {
	if f := finite(named{"accuracy", float64(accuracy)}); f != nil {
		return f
	}
	for _, p := range points {
		if f := finite(named{"benchmark.at", p.At.X}, named{"benchmark.at", p.At.Y},
			named{"benchmark.elevation", float64(p.Elevation)}, named{"benchmark.sigma", float64(p.Sigma)}); f != nil {
			return f
		}
		if f := notNegative(named{"accuracy", float64(accuracy)}, named{"benchmark.sigma", float64(p.Sigma)}); f != nil {
			return f
		}
	}
	return nil
}

// sight is the point as a backsight of unknown rod.
func (k Known) sight() Backsight { return Backsight{Benchmark: k.ID, At: k.At, Sigma: k.Sigma} }

// furthest is the pair of points most apart along the gradient, in metres of
// plan; the smaller id first.
func furthest(gradient geom.Vector, points []Known) (a, b Known, apart float64) {
	axis := gradient.Unit()
	for i, p := range points {
		for _, q := range points[i+1:] {
			d := math.Abs(axis.Dot(q.At.Sub(p.At)))
			if axis == (geom.Vector{}) {
				d = p.At.Distance(q.At)
			}
			if q.ID < p.ID {
				p, q = q, p
			}
			if d > apart || (d == apart && d > 0 && (p.ID < a.ID || (p.ID == a.ID && q.ID < b.ID))) {
				a, b, apart = p, q, d
			}
		}
	}
	return a, b, apart
}
