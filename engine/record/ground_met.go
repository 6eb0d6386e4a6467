package record

import "spadework/engine/unit"

// GroundMet is rock, water or unsuitable ground.
type GroundMet struct {
	What       Kind
	Excavation string
	Part       string
	Station    *unit.Station
	At         *[2]unit.Length
	Elevation  *unit.Elevation // where it was met, nil not shot
	Words      string
}

// Kind is What.
func (g *GroundMet) Kind() Kind { return g.What }

// Names is nothing.
func (*GroundMet) Names() []ID { return nil }

func (g *GroundMet) walk(f *fields) {
	f.name("excavation", &g.Excavation)
	f.maybe("part", &g.Part)
	known(f, "station", &g.Station)
	f.place("at", &g.At)
	known(f, "elevation", &g.Elevation)
	f.words("words", &g.Words, true)
}
