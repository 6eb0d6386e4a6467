package tell

import (
	"spadework/engine/beam"
	"spadework/engine/draw"
	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// View turns what the engine says into the crew's language and units.
type View struct {
	Language phrase.Language
	Style    unit.Style
}

// Say is a message in the view.
func (v View) Say(m phrase.Message) string { return m.Render(v.Language, v.Style) }

// Text is a text of the tables in the view.
func (v View) Text(key phrase.Key, args ...phrase.Arg) string { return v.Say(phrase.New(key, args...)) }

// Face is the view with readings in the face and step of a rod.
func (v View) Face(rod beam.Rod) View { return View(draw.Voice(v).Face(rod)) }
