package tell

import (
	"spadework/engine/beam"
	"spadework/engine/phrase"
	"spadework/engine/plan"
	"spadework/engine/unit"
)

// RestsOn says what the height of a set-up comes from.
func RestsOn(p *plan.Plan, v View, s plan.Setup) string {
	if s.State == beam.Planned {
		return plannedOn(p, v, s)
	}
	var sights []phrase.Message
	for _, b := range s.Sights() {
		sights = append(sights, rodOn(b.Benchmark, b.Rod))
	}
	if len(sights) == 0 {
		return v.Text("sheet.rests_given")
	}
	return v.Text("sheet.rests_read", phrase.With("sights", sights))
}

// plannedOn is the window of a planned set-up and what its rods should read.
func plannedOn(p *plan.Plan, v View, s plan.Setup) string {
	if s.Window == nil {
		return v.Text("sheet.rests_nothing")
	}
	var rods []phrase.Message
	for _, e := range p.Expected(s) {
		rods = append(rods, rodOn(e.Benchmark, e.Rod))
	}
	return v.Text("sheet.rests_planned", phrase.With("low", s.Window.Low), phrase.With("high", s.Window.High), phrase.With("rods", rods))
}

func rodOn(benchmark string, rod unit.Reading) phrase.Message {
	return phrase.New("sheet.rests_sight", phrase.With("benchmark", benchmark), phrase.With("rod", rod))
}
