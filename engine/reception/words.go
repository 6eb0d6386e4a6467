package reception

import (
	"math"

	"spadework/engine/beam"
	"spadework/engine/geom"
	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// Message is the reason in words; the zero message where there is none.
func (r Reason) Message() phrase.Message {
	by := phrase.With("by", r.By)
	switch r.Kind {
	case NotFinite:
		return phrase.New("reception.not_finite")
	case TooFar:
		return phrase.New("reception.too_far", by)
	case OutsideSurvey:
		return phrase.New("reception.outside_survey", at(r.At))
	case HiddenByGround:
		return phrase.New("reception.hidden_by_ground", by, at(r.At), r.receiver())
	case HiddenByObstacle:
		if math.IsInf(float64(r.By), 1) {
			return phrase.New("reception.top_unknown", phrase.With("id", r.Obstacle))
		}
		return phrase.New("reception.hidden_by_obstacle", by, phrase.With("id", r.Obstacle), at(r.At), r.receiver())
	case BlockedByGround:
		return phrase.New("reception.blocked_by_ground", by, at(r.At))
	case BlockedByObstacle:
		return phrase.New("reception.blocked_by_obstacle", by, phrase.With("id", r.Obstacle), at(r.At))
	case Apart:
		return phrase.New("reception.apart", by, phrase.With("a", r.Point+1), phrase.With("b", r.Other+1))
	case NoRoom:
		return phrase.New("reception.no_room", r.receiver())
	case BeamTooLow:
		return phrase.New("reception.beam_too_low", by, r.receiver())
	case BeamTooHigh:
		return phrase.New("reception.beam_too_high", by, r.receiver())
	}
	return phrase.Message{}
}

// at is a place as two lengths.
func at(p geom.Point) phrase.Arg {
	return phrase.With("at", phrase.New("reception.place", phrase.With("x", unit.Length(p.X)), phrase.With("y", unit.Length(p.Y))))
}

// receiver is what must get the beam, by the guidance.
func (r Reason) receiver() phrase.Arg {
	key := phrase.Key("reception.receiver_rod")
	switch r.Guidance {
	case beam.StickReceiver:
		key = "reception.receiver_stick"
	case beam.SensorsBeam, beam.SensorsTouch:
		key = "reception.receiver_machine"
	}
	return phrase.With("receiver", phrase.New(key))
}
