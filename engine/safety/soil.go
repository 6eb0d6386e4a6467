package safety

import "spadework/engine/phrase"

// Soil is a class of 29 CFR 1926 Subpart P App. A; the zero Soil is not known.
type Soil string

// The classes, strongest first.
const (
	Rock  Soil = "rock"
	TypeA Soil = "A"
	TypeB Soil = "B"
	TypeC Soil = "C"
)

// Ground is what is known of the soil a dig stands in.
type Ground struct {
	Soil      Soil
	Fissured  Answer
	Vibration Answer // traffic, piling, compaction plant
	Disturbed Answer // dug before
	Water     Answer // seeping, standing or submerged
	Running   Answer // ground that runs or flows in
	Cohesive  Answer
	Layers    []Layer // from the top, if it is not one soil
}

// Layer is one soil of several.
type Layer struct {
	Soil      Soil
	Thickness float64 // metres, > 0
}

// Class is the soil to count with and what brought it down to that, the worst
// wherever something is not known.
type Class struct {
	Soil    Soil
	Because []phrase.Message
	Missing []string // names of Ground's fields not known: "soil", "fissured" …
}

// Classify is the class of a ground: the given one; never A if fissured,
// vibrated or disturbed; C if water seeps; the weakest of several layers; C
// where it is not known (29 CFR 1926 Subpart P App. A).
func Classify(g Ground) Class { return Class{} }

// ClassOfStrength is A, B or C for an unconfined compressive strength in tons
// per square foot; C for NaN.
func ClassOfStrength(b Book, tsf float64) Soil { return TypeC }
