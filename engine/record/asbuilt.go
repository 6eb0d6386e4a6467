package record

import (
	"strings"

	"spadework/engine/beam"
	"spadework/engine/dig"
	"spadework/engine/phrase"
	"spadework/engine/plan"
	"spadework/engine/unit"
)

// AsBuilt is one shot judged.
type AsBuilt struct {
	Shot
	Point     dig.NumberPoint
	Height    unit.Elevation // measured
	Deviation unit.Length    // Height − the bottom wanted: + still to dig, − over-dug
	Within    bool
	Known     bool // the dig has a tolerance
}

// Judge turns shots into heights under the beams of a plan: beam − reading, or
// the bottom wanted and the amount that a receiver told. Only a live set-up can
// be shot under.
func Judge(p *plan.Plan, shots []Shot) ([]AsBuilt, *phrase.Fault) {
	out := make([]AsBuilt, 0, len(shots))
	for _, s := range shots {
		one, f := judge(p, s)
		if f != nil {
			return nil, f.At(s.Place)
		}
		out = append(out, one)
	}
	return out, nil
}

func judge(p *plan.Plan, s Shot) (AsBuilt, *phrase.Fault) {
	d, ok := p.Dig(s.Excavation)
	if !ok {
		return AsBuilt{}, notFound("record.unknown_dig", s.Excavation)
	}
	setup, ok := p.Setup(s.Setup)
	if !ok {
		return AsBuilt{}, notFound("record.unknown_setup", s.Setup)
	}
	if setup.State != beam.Live {
		return AsBuilt{}, phrase.NewFault(phrase.New("record.planned", phrase.With("setup", s.Setup)), phrase.New("record.planned.remedy"))
	}
	pt, f := pointOf(d, s)
	if f != nil {
		return AsBuilt{}, f
	}
	out := AsBuilt{Shot: s, Point: pt, Height: pt.Bottom}
	switch {
	case s.Reading != nil:
		out.Height = setup.Plane.Foot(pt.At, *s.Reading)
	case s.Call == High:
		out.Height = pt.Bottom.Plus(s.Amount)
	case s.Call == Low:
		out.Height = pt.Bottom.Plus(-s.Amount)
	}
	out.Deviation = out.Height.Above(pt.Bottom)
	out.Within, out.Known = d.InTolerance(out.Deviation)
	return out, nil
}

func notFound(key phrase.Key, id string) *phrase.Fault {
	f := phrase.NewFault(phrase.New(key, phrase.With("id", id)), phrase.New(key+".remedy"))
	f.Code = phrase.NotFound
	return f
}

// pointOf is where a shot was taken: at its station on a run, at a named point
// or the centre of an area.
func pointOf(d plan.Dig, s Shot) (dig.NumberPoint, *phrase.Fault) {
	id := d.Excavation.ID
	if d.Excavation.Kind.Run() {
		if s.Station == nil {
			return dig.NumberPoint{}, phrase.NewFault(phrase.New("record.no_station", phrase.With("id", id)), phrase.New("record.no_station.remedy"))
		}
		part, _, _ := strings.Cut(s.Point, " ")
		if pt, ok := d.PartStationPoint(part, *s.Station); ok {
			return pt, nil
		}
		return dig.NumberPoint{}, phrase.NewFault(
			phrase.New("record.off_line", phrase.With("id", id), phrase.With("station", *s.Station)), phrase.New("record.off_line.remedy"))
	}
	if s.Station != nil {
		return dig.NumberPoint{}, phrase.NewFault(phrase.New("record.station_of_area", phrase.With("id", id)), phrase.New("record.station_of_area.remedy"))
	}
	var names []string
	for _, pt := range d.Points(1) {
		if strings.EqualFold(pt.Name, s.Point) || s.Point == "" && pt.Kind == dig.Centre {
			return pt, nil
		}
		names = append(names, pt.Name)
	}
	return dig.NumberPoint{}, phrase.NewFault(
		phrase.New("record.unknown_point", phrase.With("id", id), phrase.With("point", s.Point)),
		phrase.New("record.unknown_point.remedy", phrase.With("names", names)))
}

// Tally counts judged shots.
type Tally struct{ In, Out, Unknown int }

// Count tallies shots that are in, out, and of digs without a tolerance.
func Count(results []AsBuilt) Tally {
	var c Tally
	for _, r := range results {
		switch {
		case !r.Known:
			c.Unknown++
		case r.Within:
			c.In++
		default:
			c.Out++
		}
	}
	return c
}
