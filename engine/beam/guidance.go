package beam

import (
	"slices"

	"spadework/engine/geom"
	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// Guidance is how a crew comes down to a level.
type Guidance uint8

// The ways of guidance.
const (
	ByRod         Guidance = iota // grade rod on the bottom
	StickReceiver                 // receiver clamped on the stick over the teeth
	SensorsBeam                   // machine's depth measuring, zeroed at the beam
	SensorsTouch                  // machine's depth measuring, zeroed on a known point
	NoBeam                        // tape from a hub or string
)

// guidanceWords are the words of the job file, in the order of the constants.
var guidanceWords = [...]string{"rod", "stick_receiver", "sensors_beam", "sensors_touch", "none"}

// String is the word of the job file; "" for a value that is none of them.
func (g Guidance) String() string {
	if int(g) >= len(guidanceWords) {
		return ""
	}
	return guidanceWords[g]
}

// ParseGuidance reads the word of the job file.
func ParseGuidance(word string) (Guidance, bool) {
	i := slices.Index(guidanceWords[:], word)
	if i < 0 {
		return 0, false
	}
	return Guidance(i), true
}

// Number says what the number of this guidance is.
func (g Guidance) Number() phrase.Message {
	switch g {
	case ByRod:
		return phrase.New("beam.number_rod")
	case StickReceiver:
		return phrase.New("beam.number_stick_receiver")
	case SensorsBeam:
		return phrase.New("beam.number_sensors_beam")
	case SensorsTouch:
		return phrase.New("beam.number_sensors_touch")
	}
	return phrase.New("beam.number_none")
}

// NeedsBeam says that the guidance needs the beam at the dig (rod, stick) or at
// the tie (sensors on the beam).
func (g Guidance) NeedsBeam() bool { return g <= SensorsBeam }

// ClampHeight is the height of the receiver over the teeth that puts them on the
// bottom: the beam over the receiver's place less the bottom. Offset is from the
// teeth to the receiver in plan; under a dialled plane it adds g·offset to the
// grade rod. True with the stick plumb; out of plumb by t the teeth are wrong by
// PlumbError. NaN where anything is not finite.
func (pl Plane) ClampHeight(teeth geom.Point, offset geom.Vector, bottom unit.Elevation) unit.Length {
	return unit.Length(pl.GradeRod(teeth.Add(offset), bottom))
}

// TieDepth is how far a bottom lies under the beam at the place where the teeth
// or the mast caught it. NaN where anything is not finite.
func (pl Plane) TieDepth(tie geom.Point, bottom unit.Elevation) unit.Length {
	return unit.Length(pl.GradeRod(tie, bottom))
}

// TouchDepth is how far a bottom lies under a known point the teeth touched,
// negative where it lies over it.
func TouchDepth(touched, bottom unit.Elevation) unit.Length { return touched.Above(bottom) }
