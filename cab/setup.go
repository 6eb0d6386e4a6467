package cab

import (
	"slices"

	"spadework/engine/beam"
	"spadework/engine/job"
	"spadework/engine/phrase"
	"spadework/engine/plan"
	"spadework/engine/tell"
	"spadework/engine/unit"
)

// NewChoices are what a set-up is made of.
type NewChoices struct {
	Lasers     []string   `json:"lasers"`
	Rods       []string   `json:"rods"`
	Receivers  []string   `json:"receivers"`
	Benchmarks []string   `json:"benchmarks"`
	Known      []string   `json:"known"` // points that a place can be taped from
	Tag        string     `json:"tag"`   // that is free
	Proposed   []Proposed `json:"proposed"`
}

// Proposed is a set-up that the plan proposes.
type Proposed struct {
	Tag   string `json:"tag"`
	Where string `json:"where"`
	Rests string `json:"rests"`
	East  string `json:"east"`
	North string `json:"north"`
}

func (c *Cab) choices() NewChoices {
	j := c.plan.Job
	out := NewChoices{Lasers: []string{}, Rods: []string{}, Receivers: []string{}, Benchmarks: []string{}, Known: c.known(), Tag: c.freeTag(), Proposed: []Proposed{}}
	for _, l := range j.Lasers {
		out.Lasers = append(out.Lasers, l.ID)
	}
	for _, r := range j.Rods {
		out.Rods = append(out.Rods, r.ID)
	}
	for _, r := range j.Receivers {
		out.Receivers = append(out.Receivers, r.ID)
	}
	for _, b := range j.Benchmarks {
		if b.Placed {
			out.Benchmarks = append(out.Benchmarks, b.ID)
		}
	}
	for _, s := range c.plan.Setups {
		if s.State == beam.Planned {
			at := j.Origin.Job(s.Plane.At)
			out.Proposed = append(out.Proposed, Proposed{s.ID, c.view.Say(c.plan.PlaceText(s.Plane.At)), tell.RestsOn(c.plan, c.view, s),
				c.coordinate(at.X), c.coordinate(at.Y)})
		}
	}
	return out
}

// coordinateDigits shows a place to a centimetre or so.
const coordinateDigits = 2

func (c *Cab) coordinate(metres float64) string {
	return c.view.Style.Fixed(metres/float64(unitOf(c.plan.Job.Coordinates)), coordinateDigits)
}

// freeTag is a tag that neither job nor log has used: S1, S2 …
func (c *Cab) freeTag() string {
	for i := 1; ; i++ {
		tag := "S" + unit.Style{}.Fixed(float64(i), 0)
		_, logged := c.tag(tag)
		if _, drawn := c.plan.Setup(tag); !drawn && !logged {
			return tag
		}
	}
}

// NewSetup is a laser that was set up, as a person tells it.
type NewSetup struct {
	Saying
	Tag      string     `json:"tag"`
	Laser    string     `json:"laser"`
	Rod      string     `json:"rod"`
	Receiver string     `json:"receiver"`
	East     string     `json:"east"` // job coordinates
	North    string     `json:"north"`
	Sights   []NewSight `json:"sights"`
}

// NewSight is a rod read on a benchmark.
type NewSight struct {
	Benchmark string `json:"benchmark"`
	Reading   string `json:"reading"`
}

// SetUp is what a set-up gives, with its record.
type SetUp struct {
	Drafted
	HI     string    `json:"hi"`
	Sigma  string    `json:"sigma"` // one standard error of the beam at its worst number, "" not known
	Serves []string  `json:"serves"`
	Notes  []string  `json:"notes"`
	Strip  []Clamped `json:"strip"`
}

// Clamped is a line of the clamp strip.
type Clamped struct {
	Worked
	For string `json:"for"`
}

// SetUp works a new set-up out: the plan is made with it, and its record is
// drafted from what the plan finds.
func (c *Cab) SetUp(n NewSetup) (SetUp, *phrase.Fault) {
	j := withTags(c.drawn, c.has)
	s, f := c.newSetup(j, n)
	if f != nil {
		return SetUp{}, f
	}
	i := slices.IndexFunc(j.Setups, func(old job.Setup) bool { return old.ID == n.Tag })
	switch {
	case i < 0:
		j.Setups = append(j.Setups, s)
	case j.Setups[i].Live():
		return SetUp{}, phrase.NewFault(phrase.New("record.tag_worn", phrase.With("tag", n.Tag)), phrase.New("record.tag_worn.remedy"))
	default:
		old := j.Setups[i]
		old.Laser, old.Rod, old.Receiver, old.At, old.Placed, old.Sights = s.Laser, s.Rod, s.Receiver, s.At, true, s.Sights
		j.Setups[i] = old
	}
	p, f := made(j, nil)
	if f != nil {
		return SetUp{}, f
	}
	n.Kind, n.Words = "setup", map[string]string{"tag": n.Tag}
	d, f := c.draftOn(p, n.Saying)
	if f != nil {
		return SetUp{}, f
	}
	return c.setUp(p, n.Tag, d), nil
}

// newSetup reads what was told.
func (c *Cab) newSetup(j *job.Job, n NewSetup) (job.Setup, *phrase.Fault) {
	s := job.Setup{ID: n.Tag, Laser: n.Laser, Rod: n.Rod, Receiver: n.Receiver, Placed: true}
	if n.Tag == "" {
		return s, phrase.NewFault(phrase.New("cab.no_tag"), phrase.New("cab.no_tag.remedy"))
	}
	places := unit.Reader{Bare: j.Coordinates, Comma: c.view.Style.Comma}
	east, err := places.Length(n.East)
	if err == nil {
		var north unit.Length
		if north, err = places.Length(n.North); err == nil {
			s.At = j.Origin.Local([2]unit.Length{east, north})
		}
	}
	if err != nil {
		return s, phrase.ParseFault(err)
	}
	if len(n.Sights) == 0 {
		return s, phrase.NewFault(phrase.New("cab.no_sight"), phrase.New("cab.no_sight.remedy"))
	}
	rods := unit.Reader{Bare: j.Units, Comma: c.view.Style.Comma}
	for _, sight := range n.Sights {
		reading, err := rods.Length(sight.Reading)
		if err != nil {
			return s, phrase.ParseFault(err)
		}
		i := slices.IndexFunc(j.Benchmarks, func(b job.Benchmark) bool { return b.ID == sight.Benchmark })
		if i < 0 {
			return s, notFound("cab.unknown_benchmark", sight.Benchmark)
		}
		s.Sights = append(s.Sights, sightOn(j, sight.Benchmark, j.Benchmarks[i].Elevation, unit.Reading(reading)))
	}
	return s, nil
}

func (c *Cab) setUp(p *plan.Plan, tag string, d Drafted) SetUp {
	out := SetUp{Drafted: d, Serves: []string{}, Notes: []string{}, Strip: []Clamped{}}
	s, ok := p.Setup(tag)
	if !ok {
		return out
	}
	v := c.view
	if s.Rod.ID != "" {
		v = c.view.Face(s.Rod)
	}
	out.HI = v.Style.Elevation(s.Plane.HI)
	for _, note := range s.Notes {
		out.Notes = append(out.Notes, c.view.Say(note))
	}
	for _, f := range p.Findings {
		if f.Where.Setup == tag && f.Severity != phrase.Note {
			out.Notes = append(out.Notes, tell.Finding(c.view, f))
		}
	}
	worst := unit.Length(0)
	for _, n := range p.Numbers {
		if n.Setup != tag {
			continue
		}
		if !has(out.Serves, n.Excavation) {
			out.Serves = append(out.Serves, n.Excavation)
			out.Strip = append(out.Strip, Clamped{workedOf(p, v, n), n.Excavation})
		}
		if n.Trust.Known {
			worst = max(worst, n.Trust.Beam)
		}
	}
	if worst > 0 {
		out.Sigma = v.Style.Length(worst)
	}
	return out
}

// unitOf is a unit of coordinates in metres.
func unitOf(s unit.Scale) unit.Length {
	switch s {
	case unit.Feet:
		return unit.Foot
	case unit.SurveyFeet:
		return unit.SurveyFoot
	}
	return unit.Metre
}
