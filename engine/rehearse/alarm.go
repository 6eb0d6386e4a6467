package rehearse

import (
	"cmp"
	"math"
	"slices"

	"spadework/engine/phrase"
	"spadework/engine/watch"
)

// Method is a way to flag a day.
type Method string

// The methods. Exact Bayes alarms by the chance that some closed dig is out because
// of the beam. Charts watch each closing point's departure from its reading at
// set-up, in standard deviations of that difference. A fixed limit is kept by hand,
// and so is what the watch does of itself: both have the false alarms they have.
const (
	Bayes        Method = "exact Bayes"
	ShewhartEach Method = "Shewhart, each point"
	ShewhartAll  Method = "Shewhart, sum of squares"
	CusumEach    Method = "CUSUM k 0.5, each point"
	EwmaEach     Method = "EWMA 0.3, each point"
	FixedLimit   Method = "fixed limit, half the tolerance"
	AsShipped    Method = "the watch, unset: numbers go"
	BayesOdds    Method = "Bayes, odds against no bump"
)

// Methods are all, the watch first.
func Methods() []Method {
	return []Method{Bayes, ShewhartEach, ShewhartAll, CusumEach, EwmaEach, FixedLimit, AsShipped, BayesOdds}
}

// alarms is the greatest alarm of a day for each method: how far each of its closes
// went. A day is flagged where it passes a limit.
func (s BumpDay) alarms(l watch.Log) ([]float64, *phrase.Fault) {
	out := make([]float64, len(Methods()))
	cusums := make([]watch.Cusum, len(l.Points))
	ewmas := make([]watch.Ewma, len(l.Points))
	for i := range cusums {
		cusums[i].K, ewmas[i].Lambda = 0.5, 0.3
	}
	limit := watch.DefaultLimit
	if s.Alarm > 0 {
		limit = s.Alarm
	}
	n := len(l.Points)
	first := l.Readings[:n]
	for k := n; k+n <= len(l.Readings); k += n {
		last := l.Readings[k : k+n]
		squares := 0.0
		for i, r := range last {
			z := float64(r.Off-first[i].Off) / (float64(r.Sigma) * math.Sqrt2)
			cusums[i], ewmas[i] = cusums[i].Add(z), ewmas[i].Add(z)
			squares += sq(z)
			out[1] = math.Max(out[1], math.Abs(z))
			out[3] = math.Max(out[3], math.Max(cusums[i].Upper, cusums[i].Lower))
			out[4] = math.Max(out[4], math.Abs(ewmas[i].Mean))
			out[5] = math.Max(out[5], math.Abs(float64(r.Off-first[i].Off)))
		}
		out[2] = math.Max(out[2], squares)
		part := l
		part.Readings = l.Readings[:k+n]
		v, f := watch.Judge(part, limit)
		if f != nil {
			return nil, f
		}
		out[0] = math.Max(out[0], float64(v.Out))
		out[7] = math.Max(out[7], v.Alarm())
		if !v.State.Numbers() {
			out[6] = 1
		}
	}
	return out, nil
}

// Escapes is what a method lets through.
type Escapes struct {
	Method     Method
	Limit      float64 // of its alarm, for the false alarms wanted
	False      float64 // alarms per unbumped day
	Days       float64 // per 1 000 bumped days: unflagged with a bad bottom
	Bottoms    float64 // share of bad bottoms on days not flagged
	Bad        int     // bad bottoms of all bumped days
	BumpedDays int
}

// Watched rehearses days from a seed: unbumped ones set every method's limit to
// the wanted false alarms a day, other unbumped ones tell what came of it, and
// bumped ones what escapes. All methods see the same readings.
func (s BumpDay) Watched(seed uint64, days int, wanted float64) ([]Escapes, *phrase.Fault) {
	quiet, _, f := s.run(NewRand(seed), days, false)
	if f != nil {
		return nil, f
	}
	other, _, f := s.run(NewRand(seed+1), days, false)
	if f != nil {
		return nil, f
	}
	bumped, bad, f := s.run(NewRand(seed+2), days, true)
	if f != nil {
		return nil, f
	}
	var out []Escapes
	for m, method := range Methods() {
		e := Escapes{Method: method, Limit: quantile(quiet, m, wanted), BumpedDays: days}
		switch method {
		case FixedLimit:
			e.Limit = s.Tolerance / 2
		case AsShipped:
			e.Limit = 0.5 // of a yes
		}
		for _, a := range other {
			if a[m] > e.Limit {
				e.False += 1 / float64(days)
			}
		}
		missed := 0
		for i, a := range bumped {
			e.Bad += bad[i]
			if !(a[m] > e.Limit) && bad[i] > 0 {
				missed += bad[i]
				e.Days += 1000 / float64(days)
			}
		}
		e.Bottoms = float64(missed) / float64(max(e.Bad, 1))
		out = append(out, e)
	}
	return out, nil
}

func (s BumpDay) run(r *Rand, days int, bumped bool) (all [][]float64, bad []int, f *phrase.Fault) {
	for range days {
		l, out := s.Day(r, bumped)
		a, f := s.alarms(l)
		if f != nil {
			return nil, nil, f
		}
		count := 0
		for _, is := range out {
			if is {
				count++
			}
		}
		all, bad = append(all, a), append(bad, count)
	}
	return all, bad, nil
}

// quantile is the alarm that a share of days passes.
func quantile(all [][]float64, m int, share float64) float64 {
	sorted := slices.Clone(all)
	slices.SortStableFunc(sorted, func(a, b []float64) int { return cmp.Compare(b[m], a[m]) })
	return sorted[int(share*float64(len(sorted)))][m]
}
