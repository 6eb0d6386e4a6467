package rehearse

import (
	"math"

	"spadework/engine/phrase"
)

// Verdict is what the referee found of a program over many days.
type Verdict struct {
	Days, Digs, Again int
	Groups            []Group
	Shares            []float64 // of the transforms of the counts, by bin
	Flat              float64   // chance that even transforms would be no flatter
	Out               float64   // share of digs out of tolerance
	Over              float64   // share of digs that ended under it
	Told              float64   // mean chance of being in, as told
}

// Counts of groups and bins.
const (
	groupCount = 20
	binCount   = 20
)

// Judge rehearses days from a seed and judges what programs say of them.
func Judge(s Scenario, n Nature, seed uint64, days int, programs ...Mutant) ([]Verdict, *phrase.Fault) {
	r := NewRand(seed)
	claims := make([][]Claim, len(programs))
	places := make([][]float64, len(programs))
	again, digs, outs, over := 0, 0, 0, 0
	told := make([]float64, len(programs))
	for day := range days {
		d, truth, more := s.Day(n, r)
		again += more
		in := make([]bool, len(truth))
		out := 0
		for i, t := range truth {
			in[i] = -float64(d.Digs[i].Band.Below) <= t && t <= float64(d.Digs[i].Band.Above)
			if !in[i] {
				out++
			}
			if t < -float64(d.Digs[i].Band.Below) {
				over++
			}
		}
		digs, outs = digs+len(truth), outs+out
		u := r.Uniform()
		for k, m := range programs {
			f, fault := d.Forecast(m)
			if fault != nil {
				return nil, fault
			}
			for i, p := range f.Within {
				claims[k] = append(claims[k], Claim{day, p, in[i]})
				told[k] += p
			}
			places[k] = append(places[k], Transform(out, f.Count, u))
		}
	}
	verdicts := make([]Verdict, len(programs))
	for k := range programs {
		v := Verdict{Days: days, Digs: digs, Again: again, Groups: Calibrate(claims[k], groupCount), Out: float64(outs) / float64(digs),
			Over: float64(over) / float64(digs), Told: told[k] / float64(digs)}
		v.Shares, v.Flat = Flatness(places[k], binCount)
		verdicts[k] = v
	}
	return verdicts, nil
}

// Worst is the largest gap and the largest Z of the groups.
func (v Verdict) Worst() (gap, z float64) {
	for _, g := range v.Groups {
		gap, z = math.Max(gap, math.Abs(g.Gap())), math.Max(z, math.Abs(g.Z))
	}
	return gap, z
}

// The limits of a sound program, but for the gap: four standard errors, and a
// transform as uneven as chance makes it once in 10 000.
const (
	mostZ     = 4
	leastFlat = 1e-4
)

// Sound says that the referee finds no fault: no group's gap over mostGap, which
// takes 40 000 set-ups to be a point, no Z of four, and flat transforms.
func (v Verdict) Sound(mostGap float64) bool {
	gap, z := v.Worst()
	return gap <= mostGap && z < mostZ && v.Flat >= leastFlat
}
