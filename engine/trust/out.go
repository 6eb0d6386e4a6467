package trust

import (
	"math"

	"spadework/engine/beam"
	"spadework/engine/geom"
	"spadework/engine/real"
	"spadework/engine/unit"
)

// Bottom is a finished bottom among others under one beam.
type Bottom struct {
	At    geom.Point
	Mean  unit.Length // expected over its design but for the beam's own departure
	Sigma unit.Length // but for the beam and the tie
	Band  beam.Band
	Tie   int // bottoms of one tie share its error; from 0
}

// Finished is the bottom that a number leads to, its tie, which is the caller's to
// name, left out of its sigma.
func (b *Belief) Finished(n Number, t beam.Band, aim unit.Length) Bottom {
	o := b.At(n.At, n.Rod, n.Way)
	tie := n.Way.TieSigma()
	own := float64(o.Final*o.Final) - float64(o.Beam*o.Beam) - float64(tie*tie)
	return Bottom{At: n.At, Mean: aim + o.Mean - b.Beam(n.At).Mean, Sigma: unit.Length(math.Sqrt(math.Max(own, 0))), Band: t}
}

// Out is the chance that none, one, two … of bottoms under one beam are out of
// tolerance: their errors hang together by the beam, and by the tie, of standard
// deviation tie, that some share. Given both they are independent. Shares are
// good to some 0.003. Nil where the height is open.
func (b *Belief) Out(bottoms []Bottom, tie unit.Length) []float64 {
	if !b.known {
		return nil
	}
	c := b.counter(bottoms, float64(tie))
	total := make([]float64, len(bottoms)+1)
	for i := range pairs {
		for _, sign := range []float64{1, -1} {
			c.draw(i, sign)
			c.count()
			for k, p := range c.shares {
				total[k] += p / (2 * pairs)
			}
		}
	}
	return total
}

// AllIn is the chance that every one of the bottoms is in.
func (b *Belief) AllIn(bottoms []Bottom, tie unit.Length) unit.Chance {
	out := b.Out(bottoms, tie)
	if out == nil {
		return unit.Chance(math.NaN())
	}
	return unit.Chance(math.Min(out[0], 1))
}

// counter counts bottoms out for one draw of beam and ties.
type counter struct {
	bottoms  []Bottom
	at       [][states]float64
	mean     [states]float64
	triangle [states][states]float64
	columns  []int // of the triangle that are not zero
	tie      float64
	state    [states]float64
	ties     []float64
	strides  []float64
	shares   []float64
}

func (b *Belief) counter(bottoms []Bottom, tie float64) *counter {
	c := &counter{bottoms: bottoms, mean: b.mean, triangle: b.triangle(), tie: tie, shares: make([]float64, len(bottoms)+1)}
	for j := range c.triangle {
		if c.triangle[j][j] > 0 {
			c.columns = append(c.columns, j)
		}
	}
	ties := 0
	for _, d := range bottoms {
		c.at = append(c.at, stateAt(b.setup.At, d.At))
		ties = max(ties, d.Tie+1)
	}
	if tie > 0 {
		c.ties = make([]float64, ties)
	}
	c.strides = strides(len(c.columns) + len(c.ties))
	return c
}

// draw sets state and ties to a point of the sequence.
func (c *counter) draw(i int, sign float64) {
	c.state = c.mean
	for k, j := range c.columns {
		z := sign * real.NormalQuantile(point(i, c.strides[k]))
		for r := j; r < states; r++ {
			c.state[r] += float64(c.triangle[r][j] * z)
		}
	}
	for k := range c.ties {
		c.ties[k] = sign * c.tie * real.NormalQuantile(point(i, c.strides[len(c.columns)+k]))
	}
}

// count is the chance of each number of bottoms out under the draw, bottom by
// bottom (Poisson binomial).
func (c *counter) count() {
	clear(c.shares)
	c.shares[0] = 1
	for n, d := range c.bottoms {
		mean := dot(c.state, c.at[n]) + float64(d.Mean)
		if len(c.ties) > 0 {
			mean += c.ties[d.Tie]
		}
		in := Between(-float64(d.Band.Below), float64(d.Band.Above), mean, float64(d.Sigma))
		for k := n + 1; k > 0; k-- {
			c.shares[k] = float64(c.shares[k]*in) + float64(c.shares[k-1]*(1-in))
		}
		c.shares[0] *= in
	}
}
