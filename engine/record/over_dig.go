package record

import "spadework/engine/unit"

// OverDig is a bottom dug too low and what was done about it.
type OverDig struct {
	Excavation string
	Part       string
	Point      string
	Station    *unit.Station
	Depth      unit.Length // under the bottom, > 0
	Remedy     string      // in words, "" not decided
	Done       bool        // the remedy is in
}

// Kind is KindOverDig.
func (*OverDig) Kind() Kind { return KindOverDig }

// Names is nothing.
func (*OverDig) Names() []ID { return nil }

func (o *OverDig) walk(f *fields) {
	f.name("excavation", &o.Excavation)
	f.maybe("part", &o.Part)
	f.maybe("point", &o.Point)
	known(f, "station", &o.Station)
	figure(f, "depth", &o.Depth, 1e-6, 100)
	f.words("remedy", &o.Remedy, true)
	f.flag("done", &o.Done)
	if o.Done && o.Remedy == "" {
		f.fail("remedy", "record.no_remedy")
	}
}
