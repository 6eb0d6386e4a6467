package beam

import (
	"math"

	"spadework/engine/level"
	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// CutAt is the cut at a hub: hub − grade, negative is fill. It and the sums
// below are bare arithmetic: NaN and Inf pass through, and Stake.Text refuses
// them.
func CutAt(hub, grade unit.Elevation) unit.Length { return level.Cut(hub, grade) }

// FromHub is the elevation of grade, a cut under a hub (a fill is negative).
func FromHub(hub unit.Elevation, cut unit.Length) unit.Elevation { return hub.Plus(-cut) }

// RodAtGrade is the rod at grade where the hub it is cut from shows rodOnHub.
func RodAtGrade(rodOnHub unit.Reading, cut unit.Length) unit.Reading {
	return level.GradeRodFromHub(rodOnHub, cut)
}

// StillToDig is what is left where the rod reads short of grade: positive to
// dig, negative to fill. The same for a pole beside a string that stands over
// grade by atGrade.
func StillToDig(atGrade, reads unit.Reading) unit.Length { return unit.Length(atGrade - reads) }

// BoardOverHub is how high a batter board stands over a hub so that a string on
// it lies stringHeight over grade: stringHeight − cut. Negative where the string
// would lie under the hub.
func BoardOverHub(stringHeight, cut unit.Length) unit.Length { return stringHeight - cut }

// Stake is what is written on a stake beside a dig.
type Stake struct {
	Hub          string
	Station      unit.Station
	HasStation   bool
	HubElevation unit.Elevation
	Grade        unit.Elevation // what the cut counts to
	Offset       unit.Length    // from the hub to the line it serves, ≥ 0
}

// Cut is hub − grade, negative is fill.
func (s Stake) Cut() unit.Length { return CutAt(s.HubElevation, s.Grade) }

// Text is the stake's writing: "C 4.07, 10 ft O/S, hub 126.94"; F for a fill,
// the word for grade where neither is left. It is a fault if a figure is not
// finite or the offset negative.
func (s Stake) Text() (phrase.Message, *phrase.Fault) {
	if f := finite(named{"hub", float64(s.HubElevation)}, named{"bottom", float64(s.Grade)},
		named{"offset", float64(s.Offset)}, named{"station", float64(s.Station)}); f != nil {
		return phrase.Message{}, f
	}
	if f := notNegative(named{"offset", float64(s.Offset)}); f != nil {
		return phrase.Message{}, f
	}
	args := []phrase.Arg{
		phrase.With("cut", unit.Length(math.Abs(float64(s.Cut())))),
		phrase.With("offset", s.Offset), phrase.With("hub", s.HubElevation),
	}
	text := phrase.New("beam.stake_grade", args...)
	switch {
	case s.Cut() > rounding:
		text = phrase.New("beam.stake_cut", args...)
	case s.Cut() < -rounding:
		text = phrase.New("beam.stake_fill", args...)
	}
	if !s.HasStation {
		return text, nil
	}
	return phrase.New("beam.stake_at", phrase.With("station", s.Station), phrase.With("text", text)), nil
}
