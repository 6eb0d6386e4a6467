package draw

import (
	"math"

	"spadework/engine/beam"
	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// Voice is the language and the units that a drawing speaks.
type Voice struct {
	Language phrase.Language
	Style    unit.Style
}

func (v Voice) say(key phrase.Key, args ...phrase.Arg) string {
	return phrase.New(key, args...).Render(v.Language, v.Style)
}

// Face is the voice with readings in the face and step of a rod.
func (v Voice) Face(rod beam.Rod) Voice {
	v.Style.Face = rod.Face
	if rod.Face == unit.FaceInches && rod.Step > 0 {
		v.Style.Fraction = int(math.Round(float64(unit.Inch) / float64(rod.Step)))
	}
	return v
}

// direction is a bearing, the four winds by their letter.
func (v Voice) direction(bearing unit.Angle) string {
	quarters := float64(bearing / (90 * unit.Degree))
	if math.Abs(quarters-math.Round(quarters)) > 1e-9 { // far under the second that prints
		turn := 360 * unit.Degree
		return v.Style.Bearing(unit.Angle(math.Mod(math.Mod(float64(bearing), float64(turn))+float64(turn), float64(turn))))
	}
	winds := [...]phrase.Key{"draw.wind_n", "draw.wind_e", "draw.wind_s", "draw.wind_w"}
	return v.say(winds[((int(math.Round(quarters))%4)+4)%4])
}

// base is the crew's larger unit in metres.
func (v Voice) base() float64 {
	if v.Style.System == unit.Imperial {
		return float64(unit.Foot)
	}
	return float64(unit.Metre)
}

// round is a length of whole units, as a scale bar has it.
func (v Voice) round(metres float64) string {
	figure := v.Style.Fixed(metres/v.base(), 0)
	if v.Style.System == unit.Imperial {
		return figure + " ft"
	}
	return figure + " m"
}

// paper is a scale in words, of a drawing that stands alone with the width of
// paper at which it holds.
func (v Voice) paper(scale string, f Frame) string {
	if f.OnSheet {
		return v.say("draw.scale_sheet", phrase.With("scale", scale))
	}
	millimetres := f.Width
	width := v.Style.Fixed(millimetres, 0) + " mm"
	if v.Style.System == unit.Imperial {
		width = v.Style.Fixed(millimetres/25.4, 2) + " in"
	}
	return v.say("draw.scale", phrase.With("scale", scale), phrase.With("width", width))
}
