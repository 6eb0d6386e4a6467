package guard

import (
	"math"

	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// Text is the close in words: when and on which point, at what latest, what the walk
// costs, and what risk it keeps.
func (n Next) Text(tag, currency string) []phrase.Message {
	if n.Point == "" {
		return []phrase.Message{phrase.New("guard.next_nowhere", phrase.With("tag", tag))}
	}
	args := []phrase.Arg{phrase.With("tag", tag), phrase.With("point", n.Point), phrase.With("count", n.More)}
	out := []phrase.Message{phrase.New("guard.next_more", args...)}
	if n.Now {
		out[0] = phrase.New("guard.next_now", args...)
	} else if n.Timed {
		key := phrase.Key("guard.next_by")
		if n.OnBreak {
			key = "guard.next_break"
		}
		out = append(out, phrase.New(key, phrase.With("time", n.By.Minute())))
	}
	out = append(out, n.walkText(currency))
	if !n.Enough {
		return append(out, phrase.New("guard.next_not_enough"))
	}
	return append(out, phrase.New("guard.next_risk", phrase.With("count", n.Every), phrase.With("every", n.Every),
		phrase.With("risk", math.Round(n.AtRisk*100)/100)))
}

func (n Next) walkText(currency string) phrase.Message {
	args := []phrase.Arg{phrase.With("walk", n.Walk), phrase.With("minutes", int(math.Ceil(n.Minutes)))}
	if n.Price == 0 {
		return phrase.New("guard.next_walk", args...)
	}
	price := unit.Style{}.Fixed(n.Price, 0)
	if currency != "" {
		price += " " + currency
	}
	return phrase.New("guard.next_price", append(args, phrase.With("price", price))...)
}
