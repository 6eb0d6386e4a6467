package guard

import (
	"cmp"
	"slices"

	"spadework/engine/phrase"
	"spadework/engine/unit"
	"spadework/engine/watch"
)

// Happened is the chance that a thing happened, by all hypotheses that hold it.
type Happened struct {
	What   watch.What
	Point  string // misread, moved or wrong; "" for the beam
	Chance unit.Chance
}

// leastHappened is the chance from which a thing is told.
const leastHappened unit.Chance = 0.01

// Odds are the things that may have happened, the likeliest first: nothing, what
// moved the beam, what is wrong with a point. Things under a hundredth are left out.
func (o Beam) Odds() []Happened {
	var out []Happened
	add := func(h Happened) {
		i := slices.IndexFunc(out, func(x Happened) bool { return x.What == h.What && x.Point == h.Point })
		if i < 0 {
			out = append(out, h)
		} else {
			out[i].Chance += h.Chance
		}
	}
	for _, odd := range o.Verdict.Odds {
		if len(odd.Causes) == 0 {
			add(Happened{What: watch.Nothing, Chance: odd.Chance})
		}
		var seen []Happened
		for _, c := range odd.Causes {
			h := Happened{What: c.What, Point: c.Point, Chance: odd.Chance}
			if !slices.Contains(seen, h) {
				seen = append(seen, h)
				add(h)
			}
		}
	}
	out = slices.DeleteFunc(out, func(h Happened) bool { return h.Chance < leastHappened })
	slices.SortStableFunc(out, func(a, b Happened) int {
		return cmp.Or(cmp.Compare(b.Chance, a.Chance), cmp.Compare(a.What, b.What), cmp.Compare(a.Point, b.Point))
	})
	return out
}

// Text is the thing and its chance in words.
func (h Happened) Text() phrase.Message {
	return phrase.New(phrase.Key("guard.what_"+string(h.What)), phrase.With("point", h.Point), phrase.With("chance", h.Chance))
}
