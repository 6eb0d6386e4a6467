package sheet

import (
	"spadework/engine/beam"
	"spadework/engine/phrase"
	"spadework/engine/tell"
)

// View turns what the engine says into the crew's language and units.
type View tell.View

// Say is a message in the view.
func (v View) Say(m phrase.Message) string { return tell.View(v).Say(m) }

// Text is a text of the tables in the view.
func (v View) Text(key phrase.Key, args ...phrase.Arg) string { return tell.View(v).Text(key, args...) }

// Face is the view with readings in the face and step of a rod.
func (v View) Face(rod beam.Rod) View { return View(tell.View(v).Face(rod)) }

// keyOfColumn is the text of a column's head.
func keyOfColumn(name string) phrase.Key { return phrase.Key("sheet.col_" + name) }
