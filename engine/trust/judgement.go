package trust

import (
	"math"

	"spadework/engine/beam"
	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// Judgement is a number's chances in one word for the operator.
type Judgement string

// The judgements.
const (
	Good       Judgement = "good"
	CheckEvery Judgement = "check"
	DoNotTrust Judgement = "distrust"
)

// DefaultLimit is the least chance of a bottom being in where the job gives
// none: the coverage usual in measuring (JCGM 100:2008, 6.3.3, about 95 %).
const DefaultLimit unit.Chance = 0.95

// Text is the judgement in words.
func (j Judgement) Text() phrase.Message {
	return phrase.New(phrase.Key("trust.judgement_" + string(j)))
}

// Short is the word where there is no room for more.
func (j Judgement) Short() phrase.Message { return phrase.New(phrase.Key("trust.short_" + string(j))) }

// Judge tells a number's word. Do not trust: the beam alone keeps the limit no
// more, and no check under the same beam can help; nor can one where nothing is
// known. Check every corner: the beam would do, but the reading, the bucket or
// the hand may miss. Good: the finished bottom keeps the limit, and the first
// pass goes too deep with no more than the chance the limit leaves.
func Judge(o Outlook, t beam.Band, aim unit.Length, limit unit.Chance) Judgement {
	if !o.Known {
		return DoNotTrust
	}
	sigma := float64(o.Beam)
	if math.IsNaN(sigma) { // counted from a touched point
		sigma = 0
	}
	alone := Between(-float64(t.Below), float64(t.Above), float64(o.Mean+aim), sigma)
	switch {
	case !(alone >= float64(limit)):
		return DoNotTrust
	case o.Within(t, aim) >= limit && o.Over(t, aim) <= 1-limit:
		return Good
	}
	return CheckEvery
}
