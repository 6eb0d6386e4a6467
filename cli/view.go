package cli

import (
	"math"

	"spadework/engine/beam"
	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// view turns what the engine says into the crew's language and units.
type view struct {
	lang  phrase.Language
	style unit.Style
}

func (v view) say(m phrase.Message) string { return m.Render(v.lang, v.style) }

func (v view) text(key phrase.Key, args ...phrase.Arg) string { return v.say(phrase.New(key, args...)) }

// face is the view with readings in the face and step of a rod.
func (v view) face(rod beam.Rod) view {
	v.style.Face = rod.Face
	if rod.Face == unit.FaceInches && rod.Step > 0 {
		v.style.Fraction = int(math.Round(float64(unit.Inch) / float64(rod.Step)))
	}
	return v
}
