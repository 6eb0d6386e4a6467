package rehearse

import (
	"cmp"
	"math"
	"slices"

	"spadework/engine/real"
)

// Claim is a chance that was told and what came of it.
type Claim struct {
	Cluster int // claims of one cluster may hang together
	Chance  float64
	In      bool
}

// Group is claims of about one chance.
type Group struct {
	Count             int
	Claimed, Happened float64 // means
	Z                 float64 // of their difference, by clusters
}

// Gap is how far the claims lie over what happened.
func (g Group) Gap() float64 { return g.Claimed - g.Happened }

// Calibrate sorts claims by chance into groups of equal count and compares what
// was claimed with what happened. Z is the sum of all differences over the root
// of the sum over clusters of their squared sums: claims of one cluster may hang
// together as they like (K.-Y. Liang and S. L. Zeger, Biometrika 73, 1986). Where
// next to nothing fell out those squares tell nothing: the variance is never less
// than that of independent claims as told.
func Calibrate(claims []Claim, groups int) []Group {
	sorted := slices.Clone(claims)
	slices.SortStableFunc(sorted, func(a, b Claim) int {
		return cmp.Or(cmp.Compare(a.Chance, b.Chance), cmp.Compare(a.Cluster, b.Cluster))
	})
	var out []Group
	for i := range groups {
		out = append(out, group(sorted[i*len(sorted)/groups:(i+1)*len(sorted)/groups]))
	}
	return out
}

func group(claims []Claim) Group {
	g := Group{Count: len(claims)}
	slices.SortStableFunc(claims, func(a, b Claim) int { return cmp.Compare(a.Cluster, b.Cluster) })
	sum, squares, least := 0.0, 0.0, 0.0
	for i := 0; i < len(claims); {
		cluster, off := claims[i].Cluster, 0.0
		for ; i < len(claims) && claims[i].Cluster == cluster; i++ {
			happened := 0.0
			if claims[i].In {
				happened = 1
			}
			off += claims[i].Chance - happened
			least += float64(claims[i].Chance * (1 - claims[i].Chance))
			g.Claimed += claims[i].Chance
			g.Happened += happened
		}
		sum += off
		squares += float64(off * off)
	}
	g.Claimed /= float64(g.Count)
	g.Happened /= float64(g.Count)
	if squares = math.Max(squares, least); squares > 0 {
		g.Z = sum / math.Sqrt(squares)
	}
	return g
}

// Transform is the place of a count in the distribution told for it, made even
// within its step by u between 0 and 1: even values where the distribution is
// right (randomised probability integral transform, G. E. P. Box 1980; for counts
// C. Czado, T. Gneiting and L. Held, Biometrics 65, 2009).
func Transform(count int, told []float64, u float64) float64 {
	below := 0.0
	for _, p := range told[:count] {
		below += p
	}
	return math.Min(math.Max(below+float64(u*told[count]), 0), 1)
}

// Flatness is the share of values in each of a number of equal bins from 0 to 1,
// and the chance that even values would be no flatter (chi-square).
func Flatness(values []float64, bins int) (shares []float64, chance float64) {
	counts := make([]float64, bins)
	for _, v := range values {
		counts[min(int(v*float64(bins)), bins-1)]++
	}
	expected, square := float64(len(values))/float64(bins), 0.0
	for _, c := range counts {
		square += sq(c-expected) / expected
		shares = append(shares, c/float64(len(values)))
	}
	return shares, real.ChiSquareOver(square, bins-1)
}
