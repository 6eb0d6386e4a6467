package plan

import (
	"math"
	"slices"
	"strings"

	"spadework/engine/beam"
	"spadework/engine/dig"
	"spadework/engine/job"
	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// Stake is what is written on a hub's stake, and where a board would go.
type Stake struct {
	beam.Stake
	Excavation string
	String     unit.Length    // over grade, 0 without one
	Text       phrase.Message // the writing
	Board      *unit.Length   // of the string over the hub, nil without a string
	point      dig.NumberPoint
}

// resolveStakes works out the writing of every hub.
func (p *Plan) resolveStakes() *phrase.Fault {
	for _, h := range p.Job.Hubs {
		d, _ := p.Dig(h.Excavation)
		pt, f := pointAt(d, h)
		if f != nil {
			return h.Fault(f)
		}
		s := Stake{
			Stake: beam.Stake{
				Hub: h.ID, Station: pt.Station, HasStation: d.Excavation.Kind.Run(),
				HubElevation: h.Elevation, Grade: pt.Bottom, Offset: h.Offset,
			},
			Excavation: h.Excavation, String: h.String, point: pt,
		}
		if s.Text, f = s.Stake.Text(); f != nil {
			return h.Fault(f)
		}
		if h.String > 0 {
			board := beam.BoardOverHub(h.String, s.Cut())
			s.Board = &board
		}
		p.Stakes = append(p.Stakes, s)
	}
	slices.SortStableFunc(p.Stakes, func(a, b Stake) int { return compareIDs(a.Hub, b.Hub) })
	return nil
}

// pointAt is the point of a dig that a hub serves: its station on a run, the
// centre of an area.
func pointAt(d Dig, h job.Hub) (dig.NumberPoint, *phrase.Fault) {
	if !d.Excavation.Kind.Run() {
		for _, pt := range d.Points(unit.Length(math.Inf(1))) {
			if pt.Kind == dig.Centre {
				return pt, nil
			}
		}
	}
	if pt, ok := d.StationPoint(h.Station); ok {
		return pt, nil
	}
	f := phrase.NewFault(
		phrase.New("plan.hub_off_line", phrase.With("station", h.Station), phrase.With("id", d.Excavation.ID)),
		phrase.New("plan.hub_off_line.remedy"))
	f.Place.Path = "station"
	return dig.NumberPoint{}, f
}

// StationPoint is the point of a run at a station, on the part that begins
// there where two parts meet; ok is false off the line and for areas.
func (d Dig) StationPoint(s unit.Station) (dig.NumberPoint, bool) { return d.PartStationPoint("", s) }

// PartStationPoint is StationPoint among the parts that belong to the one named:
// trench "2" of a field has the parts "2" or "2.1", "2.2". With "" all count.
func (d Dig) PartStationPoint(name string, s unit.Station) (pt dig.NumberPoint, ok bool) {
	for _, part := range d.Parts {
		if name != "" && part.ID != name && !strings.HasPrefix(part.ID, name+".") {
			continue
		}
		if !part.Run() || s < part.From-unit.Station(rounding) || s > part.To+unit.Station(rounding) {
			continue
		}
		share := 0.0
		if part.To > part.From {
			share = float64((s - part.From) / (part.To - part.From))
		}
		at := part.Line[0].Toward(part.Line[len(part.Line)-1], share)
		pt = dig.NumberPoint{Name: "station", Kind: dig.Along, Part: part.ID, Station: s, At: at, Bottom: part.BottomAt(at)}
		ok = true
	}
	return pt, ok
}
