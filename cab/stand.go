package cab

import (
	"strings"

	"spadework/engine/draw"
	"spadework/engine/phrase"
	"spadework/engine/plan"
	"spadework/engine/record"
	"spadework/engine/tell"
	"spadework/engine/unit"
)

// Stand is the page that an operator digs by.
type Stand struct {
	Dig       string    `json:"dig"`
	Kind      string    `json:"kind"`
	Words     string    `json:"words"`
	Tag       string    `json:"tag"`
	Tags      []string  `json:"tags"` // that serve the dig
	Rests     string    `json:"rests"`
	Why       string    `json:"why"` // why there is no number, "" there is
	Stops     []Warning `json:"stops"`
	Cautions  []Warning `json:"cautions"`
	Rod       string    `json:"rod"` // whose face the figures have
	Tolerance string    `json:"tolerance"`
	Points    []Point   `json:"points"`
	Section   *Scene    `json:"section"` // nil where none can be drawn
	Plan      *Scene    `json:"plan"`    // where the dig lies
	Steps     []string  `json:"steps"`   // amounts to offer for High and Low
	Told      string    `json:"told"`    // what the shots come to so far
	Hole      string    `json:"hole"`    // why no shot from inside is offered, "" it is
	Tie       *TieAsk   `json:"tie"`     // to be made, nil not dug by sensors
	Basis     Basis     `json:"basis"`
}

// Point is a point of the pattern.
type Point struct {
	Worked          // none where it is not valid now
	Part     string `json:"part"`
	Name     string `json:"name"`
	Station  string `json:"station"` // of runs, as it is said
	Label    string `json:"label"`
	What     string `json:"what"` // what the number is
	Trace    string `json:"trace"`
	Bottom   string `json:"bottom"`
	Cut      string `json:"cut"`
	Judged   string `json:"judged"` // code of the judgement, "" none
	Judgment string `json:"judgement"`
	Within   string `json:"within"` // chance that the finished bottom is in
	Shot     *Shot  `json:"shot"`   // newest, nil none
}

// Shot is the newest shot at a point.
type Shot struct {
	Verdict string `json:"verdict"`
	Text    string `json:"text"` // how it lies
	Told    string `json:"told"` // what it comes to
	Time    string `json:"time"`
	Person  string `json:"person"`
}

// Sizes of the page's drawings in millimetres of paper; the page scales them.
const (
	sectionWidth, sectionHeight = 100, 62
	sceneType                   = 3.4
	keyWidth, keyHeight         = 70, 50
)

// Stand is the page of a dig under a tag, "" the tag that has numbers.
func (c *Cab) Stand(id, tag string) (Stand, *phrase.Fault) {
	d, ok := c.plan.Dig(id)
	if !ok {
		return Stand{}, notFound("cab.unknown_dig", id)
	}
	if tag == "" {
		tag = c.tagFor(id)
	}
	v := c.faceOf(tag)
	out := Stand{
		Dig: id, Kind: c.view.Text(phrase.Key("sheet.kind_" + string(d.Excavation.Kind))), Words: d.Excavation.Words,
		Tag: tag, Tags: c.tagsOf(id), Tolerance: toleranceText(v, d), Points: []Point{}, Stops: []Warning{}, Cautions: []Warning{},
		Steps: c.steps(tag), Basis: c.basis(tag),
	}
	c.beam(&out, tag)
	for _, f := range c.cautions.Of(id, tag) {
		if f.Severity == phrase.Stop {
			out.Stops = append(out.Stops, c.warning(f))
		} else {
			out.Cautions = append(out.Cautions, c.warning(f))
		}
	}
	c.points(&out, d, v)
	c.drawings(&out, d, v)
	if st, ok := c.state.Dig(id); ok && len(st.Points) > 0 {
		out.Told = c.view.Text(phrase.Key("sheet.log_" + string(st.Verdict)))
	}
	if ok, why := c.plan.InHole(id); !ok {
		out.Hole = c.view.Say(why)
	}
	return out, nil
}

// beam tells what the numbers rest on.
func (c *Cab) beam(out *Stand, tag string) {
	if s, ok := c.plan.Setup(tag); ok {
		out.Rests = tell.RestsOn(c.plan, c.view, s)
		out.Rod = s.Rod.ID
	}
	if len(c.rows(out.Dig, tag)) == 0 {
		out.Why = c.view.Text("cab.no_beam", phrase.With("id", out.Dig))
		for _, u := range c.plan.Unserved {
			if u.Excavation == out.Dig {
				out.Why = c.view.Say(u.Reason)
			}
		}
	}
}

func (c *Cab) points(out *Stand, d plan.Dig, v tell.View) {
	st, _ := c.state.Dig(out.Dig)
	for _, n := range c.rows(out.Dig, out.Tag) {
		pt := Point{Part: n.Part, Name: n.Name, Label: tell.PointText(c.view, n), Bottom: v.Style.Elevation(n.Bottom), Cut: cutText(v, n.Cut), Shot: c.shotAt(v, st, n)}
		pt.What = c.view.Say(n.Guidance.Number())
		if out.Tie == nil {
			out.Tie = c.tieAsk(n)
		}
		if n.HasStation {
			pt.Station = v.Style.Station(n.Station)
		}
		if n.Trust.Rated {
			pt.Judged, pt.Judgment, pt.Within = string(n.Trust.Judgement), c.view.Say(n.Trust.Judgement.Text()), v.Style.Chance(n.Trust.Within)
		}
		if why := c.why(out.Tag, n); !why.IsZero() {
			out.Why = c.view.Say(why)
		} else {
			pt.Worked = workedOf(c.plan, v, n)
		}
		out.Points = append(out.Points, pt)
	}
}

// shotAt is the newest shot at a row's point.
func (c *Cab) shotAt(v tell.View, st record.DigState, n plan.Number) *Shot {
	for _, p := range st.Points {
		at := p.Point == n.Name || p.Point == "" && n.Name == "centre"
		if p.Station != nil {
			at = n.HasStation && v.Style.Station(*p.Station) == v.Style.Station(n.Station)
		}
		if at && (p.Part == "" || p.Part == n.Part) {
			return c.shot(v, p)
		}
	}
	return nil
}

func (c *Cab) shot(v tell.View, p record.PointState) *Shot {
	told := c.view.Text(phrase.Key("sheet.log_" + string(p.Verdict)))
	if !p.Why.IsZero() {
		told += ": " + c.view.Say(p.Why)
	}
	return &Shot{string(p.Verdict), c.view.Say(tell.OffText(v, p.Deviation)), told, p.Time.Minute(), p.Person}
}

func (c *Cab) drawings(out *Stand, d plan.Dig, v tell.View) {
	cut := draw.Cut{Plan: c.plan, Dig: d, Setup: out.Tag}
	if out.Why != "" {
		cut.Setup = "" // no beam is drawn that must not be dug by
	}
	frame := draw.Frame{Width: sectionWidth, Height: sectionHeight, Type: sceneType}
	scene, ok := draw.Section(cut, draw.Voice(v), frame)
	if d.Excavation.Kind.Run() {
		scene, ok = draw.Profile(cut, draw.Voice(v), frame)
	}
	if ok {
		out.Section = sceneOf(scene)
	}
	out.Plan = sceneOf(draw.KeyPlan(c.plan, draw.Voice(v), draw.Frame{Width: keyWidth, Height: keyHeight, Type: sceneType}, d, out.Tag))
}

// stepsOf are the multiples of a rod's step that are offered for an amount.
var stepsOf = []int{1, 2, 3, 4, 6, 8, 12, 16, 24}

// steps are amounts in the face of a set-up's rod.
func (c *Cab) steps(tag string) []string {
	v := c.faceOf(tag)
	step := unit.Reading(5 * unit.Millimetre) // where the rod tells none: common practice
	if v.Style.Face == unit.FaceInches {
		step = unit.Reading(unit.Inch / 4)
	} else if v.Style.Face == unit.FaceTenths {
		step = unit.Reading(unit.Foot / 50)
	}
	if s, ok := c.plan.Setup(tag); ok && s.Rod.Step > 0 {
		step = s.Rod.Step
	}
	out := make([]string, 0, len(stepsOf))
	for _, k := range stepsOf {
		if text := v.Style.Reading(unit.Reading(k) * step); !has(out, text) {
			out = append(out, text)
		}
	}
	return out
}

func cutText(v tell.View, cut *unit.Length) string {
	switch {
	case cut == nil:
		return ""
	case *cut < 0:
		return v.Text("sheet.fill", phrase.With("size", -*cut))
	}
	return v.Text("cab.cut", phrase.With("size", *cut))
}

func toleranceText(v tell.View, d plan.Dig) string {
	t := d.Excavation.Tolerance
	if t == nil {
		return v.Text("sheet.no_tolerance")
	}
	return strings.TrimSuffix(v.Text("sheet.tolerance", phrase.With("above", t.Above), phrase.With("below", t.Below)), ".")
}

func notFound(key phrase.Key, value string) *phrase.Fault {
	f := phrase.NewFault(phrase.New(key, phrase.With("value", value)), phrase.New(key+".remedy"))
	f.Code = phrase.NotFound
	return f
}
