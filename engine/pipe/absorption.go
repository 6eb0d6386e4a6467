package pipe

import (
	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// AbsorptionField is the trenches of an absorption field. Sizing and siting are
// the licensed designer's and are not judged.
type AbsorptionField struct {
	ID     string
	Falls  []unit.Grade // of the bottoms, either way, one a trench or part
	Length unit.Length  // of the longest trench
	Width  unit.Length
	Apart  unit.Length // between the walls of neighbours
	Count  int
}

// JudgeAbsorption holds a field against the limits that were read. Codes differ:
// some want a bottom level, some a little fall. A finding tells where the figure
// stands; the code of the place decides.
func JudgeAbsorption(f AbsorptionField) []phrase.Finding {
	j := judge{p: Pipeline{ID: f.ID}}
	var steepest unit.Grade
	for _, g := range f.Falls {
		steepest = max(steepest, g, -g)
	}
	if l := limit("absorption_fall"); float64(steepest) > l.Add+same {
		j.find(l, "absorption_fall", "", steepest)
	}
	if l := limit("absorption_length"); float64(f.Length) > l.Add+same {
		j.find(l, "absorption_length", "", f.Length)
	}
	if l := limit("absorption_width"); float64(f.Width) > l.Add+same {
		j.find(l, "absorption_width", "", f.Width)
	}
	if l := limit("absorption_apart"); f.Count > 1 && float64(f.Apart) < l.Add-same {
		j.find(l, "absorption_apart", "", f.Apart)
	}
	return j.out
}

// LevelEnds is how far the ends of a bottom may differ over a length by the
// fall that still counts as level.
func LevelEnds(length unit.Length) unit.Length {
	return unit.Grade(limit("absorption_fall").Add).Over(length)
}
