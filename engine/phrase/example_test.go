package phrase_test

import (
	"fmt"

	"spadework/engine/phrase"
	"spadework/engine/unit"
)

func ExampleParseFault() {
	_, err := unit.ParseLength("16 inn", unit.Feet)
	f := phrase.ParseFault(err).At(phrase.Place{File: "job.toml", Line: 12, Column: 9})
	for _, lang := range []phrase.Language{phrase.English, phrase.Spanish} {
		fmt.Println(f.Render(lang, unit.Style{}))
		fmt.Println(f.Remedy.Render(lang, unit.Style{}))
	}
	// Output:
	// job.toml:12:9: "16 inn" is not a length: "inn" is not a unit
	// write 16 in, 1'-4", 410 mm or 1.33 ft
	// job.toml:12:9: "16 inn" no es una longitud: "inn" no es una unidad
	// escriba 16 in, 1'-4", 410 mm o 1.33 ft
}
