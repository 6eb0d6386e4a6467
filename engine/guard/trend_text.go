package guard

import (
	"math"

	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// Text is what a trend says and what to do: level, charts, what is offered as a
// correction of the next budgets.
func (t Trend) Text() []phrase.Message {
	who := []phrase.Arg{phrase.With("machine", t.Machine), phrase.With("operator", t.Operator), phrase.With("count", t.Count),
		phrase.With("by", max(t.Bias, -t.Bias)), phrase.With("within", t.Within), phrase.With("spread", t.Spread), phrase.With("budget", t.Budget)}
	out := []phrase.Message{phrase.New(t.level("guard.trend_one", "guard.trend_level_low", "guard.trend_level_high"), who...)}
	if t.Signal >= 0 {
		key := phrase.Key("guard.trend_low")
		if t.High {
			key = "guard.trend_high"
		}
		out = append(out, phrase.New(key, append(who, phrase.With("dig", t.Shots[t.Signal].Excavation))...), phrase.New(t.remedy()))
	} else {
		out = append(out, phrase.New("guard.trend_quiet"))
	}
	return append(out, t.offers()...)
}

// level picks the text of a level: of one shot, low or high.
func (l Level) level(one, low, high phrase.Key) phrase.Key {
	switch {
	case l.Count < 2:
		return one
	case l.Bias < 0:
		return low
	}
	return high
}

// remedy is what to look at first.
func (t Trend) remedy() phrase.Key {
	if t.Sensors {
		return "guard.trend_do_sensors"
	}
	return "guard.trend_do_rod"
}

// offers are the corrections that the shots speak for. Nothing counts them until a
// person writes them into the job.
func (t Trend) offers() []phrase.Message {
	var out []phrase.Message
	switch {
	case t.Biased() && t.Sensors:
		out = append(out, phrase.New("guard.offer_leaves", phrase.With("machine", t.Machine), phrase.With("leaves", millimetres(t.Leaves+t.Bias))))
	case t.Biased() && t.Bias < 0:
		out = append(out, phrase.New("guard.offer_higher", phrase.With("operator", t.Operator), phrase.With("by", -t.Bias)))
	case t.Biased():
		out = append(out, phrase.New("guard.offer_lower", phrase.With("operator", t.Operator), phrase.With("by", t.Bias)))
	}
	if more, less := t.Spreads(); (more || less) && t.cutting() > 0 {
		key := phrase.Key("guard.offer_finer")
		if more {
			key = "guard.offer_coarser"
		}
		out = append(out, phrase.New(key, phrase.With("cutting", millimetres(t.cutting()))))
	}
	if len(out) > 0 {
		out = append(out, phrase.New("guard.offer_never_silent"))
	}
	return out
}

// cutting is the bound that makes the budget of the spread found, the rest of the
// budget as it is; 0 where the rest alone is as much.
func (t Trend) cutting() unit.Length {
	own := float64(t.Cutting*t.Cutting) / 3
	v := float64(t.Spread*t.Spread) - (float64(t.Budget*t.Budget) - own)
	return unit.Length(math.Sqrt(3 * math.Max(v, 0)))
}

// millimetres is a length as the job file reads it in any job.
func millimetres(l unit.Length) string {
	return unit.Style{}.Fixed(math.Round(float64(l/unit.Millimetre)), 0) + " mm"
}

// Text is a stand's level in words.
func (s Stand) Text() phrase.Message {
	return phrase.New(s.level("guard.stand_one", "guard.stand_level_low", "guard.stand_level_high"), phrase.With("number", s.Number), phrase.With("count", s.Count),
		phrase.With("by", max(s.Bias, -s.Bias)), phrase.With("within", s.Within), phrase.With("spread", s.Spread))
}

// ChartsText is what the charts do, by their run lengths.
func ChartsText() phrase.Message {
	ewma, cusum := RunLengths()
	round := func(x float64) int { return int(math.Round(x)) }
	return phrase.New("guard.charts", phrase.With("weight", trendEwma.Lambda), phrase.With("limit", trendEwma.C), phrase.With("allowance", trendCusum.K),
		phrase.With("sum", trendCusum.H), phrase.With("ewma_quiet", round(ewma.Quiet)), phrase.With("ewma_found", round(ewma.Shifted)),
		phrase.With("cusum_quiet", round(cusum.Quiet)), phrase.With("cusum_found", round(cusum.Shifted)))
}
