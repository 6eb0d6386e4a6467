package record

import "spadework/engine/unit"

// BeamMark is a line drawn at the beam on a post or wall.
type BeamMark struct {
	Setup     ID
	Mark      string
	At        *[2]unit.Length
	Elevation *unit.Elevation // of the beam there, nil not worked out
	Words     string
}

// Kind is KindBeamMark.
func (*BeamMark) Kind() Kind { return KindBeamMark }

// Names is the set-up.
func (b *BeamMark) Names() []ID { return []ID{b.Setup} }

func (b *BeamMark) walk(f *fields) {
	f.id("setup", &b.Setup)
	f.name("mark", &b.Mark)
	f.place("at", &b.At)
	known(f, "elevation", &b.Elevation)
	f.words("words", &b.Words, true)
}
