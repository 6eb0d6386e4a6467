package dig

import (
	"sort"

	"spadework/engine/geom"
	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// addStructures adds a level part for each structure of the run.
func (d *Dig) addStructures(r *run) error {
	for i, s := range r.x.Structures {
		path := item("structures", i, "")
		if err := d.checkStructure(s, path); err != nil {
			return err
		}
		at, err := r.line.inside(s.Station, path+".station")
		if err != nil {
			return err
		}
		trace, err := r.structureTrace(s, at, path)
		if err != nil {
			return err
		}
		dir, centre := r.line.heading(at), r.line.pointAt(at)
		outline := func(more unit.Length) geom.Ring {
			return geom.Rectangle(centre, dir, float64(s.Size[1]+2*more), float64(s.Size[0]+2*more))
		}
		d.Parts = append(d.Parts, Part{
			ID: s.ID, Outline: outline(s.Working), Neat: outline(0), Trace: trace,
			Bottom: geom.Plane{Origin: centre, Z0: float64(trace.Sum)},
		})
	}
	return nil
}

// checkStructure judges the figures and the id of a structure.
func (d *Dig) checkStructure(s Structure, path string) error {
	if s.ID == "" {
		return fault(path+".id", "dig.structure_id")
	}
	if _, twice := d.Part(s.ID); twice {
		return conflict(path+".id", "dig.structure_twice", phrase.With("value", s.ID))
	}
	if err := positive(named{path + ".size", s.Size[0]}, named{path + ".size", s.Size[1]}); err != nil {
		return err
	}
	return notNegative(named{path + ".base", s.Base}, named{path + ".bedding", s.Bedding},
		named{path + ".working", s.Working})
}

// structureTrace goes down from the lower of its inverts, or from the run's
// flow line where it gives none.
func (r *run) structureTrace(s Structure, at float64, path string) (Trace, error) {
	in, out, ok := s.inverts()
	if !ok && r.x.Bottom.Rule != ByInvert {
		return Trace{}, fault(path+".invert_in", "dig.structure_invert", phrase.With("value", s.ID))
	}
	var t Trace
	switch {
	case ok && in < out:
		t = startTrace(r.x.Words, phrase.New("dig.term.invert_in", phrase.With("id", s.ID)), in)
	case ok:
		t = startTrace(r.x.Words, phrase.New("dig.term.invert_out", phrase.With("id", s.ID)), out)
	default:
		t = r.lowerInvert(at)
	}
	t.add(phrase.New("dig.term.base"), -s.Base)
	t.add(phrase.New("dig.term.bedding"), -s.Bedding)
	return t, nil
}

// lowerInvert is the flow line at a station, the lower side of two.
func (r *run) lowerInvert(at float64) Trace {
	k := sort.Search(len(r.flow.knots), func(i int) bool { return r.flow.knots[i].station >= at })
	if k < len(r.flow.knots) {
		if n := r.flow.knots[k]; n.station == at && n.before < n.after {
			label := phrase.New("dig.term.invert", phrase.With("station", unit.Station(at)))
			return startTrace(r.x.Words, label, n.before)
		}
	}
	t, _ := r.invertTrace(at)
	return t
}
