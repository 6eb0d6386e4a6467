package cab

import (
	"spadework/engine/beam"
	"spadework/engine/phrase"
	"spadework/engine/plan"
	"spadework/engine/record"
	"spadework/engine/tell"
)

// Home is the first screen: the beams, the digs and what is due.
type Home struct {
	Name     string     `json:"name"`
	Drawing  string     `json:"drawing"`
	Revision string     `json:"drawing_revision"`
	Language string     `json:"language"`
	Tags     []TagLine  `json:"tags"`
	Digs     []DigLine  `json:"digs"`
	Next     string     `json:"next"` // dig to go on with, "" all are good
	Due      []DueLine  `json:"due"`
	Asides   int        `json:"asides"` // records set aside
	Open     []Warning  `json:"open"`   // what stops work
	Log      []LogLine  `json:"log"`    // newest first, some
	Basis    Basis      `json:"basis"`
	Choices  NewChoices `json:"choices"`
	Changes  []Change   `json:"changes"` // of the revision, where an older one was open before
}

// Basis is what everything shown rests on.
type Basis struct {
	Revision int64   `json:"revision"`
	Records  int     `json:"records"`
	Head     string  `json:"head"`  // id of the newest record applied
	Setup    string  `json:"setup"` // id of the set-up, "" none
	Tag      string  `json:"tag"`
	Tie      string  `json:"tie"` // id of the machine's newest, "" none
	CheckBy  CheckBy `json:"check_by"`
}

// TagLine is a set-up in a list.
type TagLine struct {
	Tag   string `json:"tag"`
	State string `json:"state"` // live, suspended, ended, planned, drawn: told by the job but not yet set up in the log, or lost: not to be worked out
	Text  string `json:"text"`
	Rests string `json:"rests"`
}

// DigLine is a dig in a list.
type DigLine struct {
	Worked         // at its first point
	ID      string `json:"id"`
	Kind    string `json:"kind"`
	Words   string `json:"words"`
	Tag     string `json:"tag"`     // that it would be dug from
	Several bool   `json:"several"` // further points have other numbers
	Verdict string `json:"verdict"` // of the log, "" no shot yet
	Told    string `json:"told"`
	Stops   int    `json:"stops"`
}

// DueLine is something to do.
type DueLine struct {
	Dig  string `json:"dig"`
	Tag  string `json:"tag"`
	Text string `json:"text"`
}

// Warning is a finding.
type Warning struct {
	Rule     string `json:"rule"`
	Severity string `json:"severity"`
	Text     string `json:"text"`
}

// LogLine is a record in a list.
type LogLine struct {
	ID     string `json:"id"`
	Time   string `json:"time"`
	Day    string `json:"day"`
	Person string `json:"person"`
	Kind   string `json:"kind"`
	Text   string `json:"text"`
}

// recentRecords is how many records the first screen lists.
const recentRecords = 12

// Home is the first screen now.
func (c *Cab) Home() Home {
	h := Home{
		Name: c.plan.Job.Name, Drawing: c.plan.Job.Drawing, Revision: c.plan.Job.Revision, Language: string(c.view.Language),
		Tags: c.tagLines(), Digs: []DigLine{}, Due: c.due(), Open: []Warning{}, Log: []LogLine{},
		Asides: len(c.state.Aside), Basis: c.basis(""), Choices: c.choices(), Changes: []Change{},
	}
	for _, d := range c.plan.Digs {
		line := c.digLine(d)
		h.Digs = append(h.Digs, line)
		if h.Next == "" && line.Verdict != string(record.Good) && !line.none() {
			h.Next = line.ID
		}
	}
	for _, f := range c.plan.Open() {
		h.Open = append(h.Open, c.warning(f))
	}
	for i := len(c.state.Log) - 1; i >= 0 && len(h.Log) < recentRecords; i-- {
		h.Log = append(h.Log, c.logLine(c.state.Log[i]))
	}
	return h
}

func (c *Cab) logLine(l record.Line) LogLine {
	kind := string(l.Kind())
	text := c.view.Text(phrase.Key("sheet.kind_" + kind))
	if l.Corrected {
		text += " " + c.view.Text("sheet.corrected")
	}
	return LogLine{l.ID.String(), l.Time.Minute(), l.Time.Date(), l.Person, kind, text}
}

func (c *Cab) warning(f phrase.Finding) Warning {
	return Warning{f.Rule, string(f.Severity), tell.Finding(c.view, f)}
}

// basis is what a number under a tag rests on.
func (c *Cab) basis(tag string) Basis {
	b := Basis{Revision: c.opening.Revision, Records: c.state.Count, Tag: tag}
	if n := len(c.state.Log); n > 0 {
		b.Head = c.state.Log[n-1].ID.String()
	}
	if t, ok := c.tag(tag); ok {
		b.Setup, b.CheckBy = t.Setup.String(), c.checkBy(tag)
	}
	if n := len(c.state.Ties); n > 0 {
		b.Tie = c.state.Ties[n-1].Tie.String()
	}
	return b
}

// tag is the state of the newest set-up of a tag.
func (c *Cab) tag(name string) (record.Tag, bool) {
	for i := len(c.state.Tags) - 1; i >= 0; i-- {
		if c.state.Tags[i].Tag == name {
			return c.state.Tags[i], true
		}
	}
	return record.Tag{}, false
}

func (c *Cab) tagLines() []TagLine {
	out := []TagLine{}
	for _, s := range c.plan.Setups {
		line := TagLine{Tag: s.ID, State: string(s.State), Rests: tell.RestsOn(c.plan, c.view, s)}
		if t, ok := c.tag(s.ID); ok {
			line.State = string(t.State)
			line.Text = c.view.Text(phrase.Key("sheet.tag_"+string(t.State)), phrase.With("tag", t.Tag), phrase.With("why", t.Why), phrase.With("count", t.Open))
		} else if s.State == beam.Live {
			line.State, line.Text = "drawn", c.view.Text("cab.tag_drawn", phrase.With("tag", s.ID))
		} else {
			line.Text = c.view.Text("cab.tag_planned", phrase.With("tag", s.ID))
		}
		out = append(out, line)
	}
	for _, l := range c.lost {
		out = append(out, TagLine{Tag: l.tag, State: "lost", Text: c.view.Text("cab.tag_lost", phrase.With("tag", l.tag), phrase.With("why", l.why))})
	}
	return out
}

func (c *Cab) digLine(d plan.Dig) DigLine {
	id := d.Excavation.ID
	tag := c.tagFor(id)
	line := DigLine{ID: id, Kind: c.view.Text(phrase.Key("sheet.kind_" + string(d.Excavation.Kind))), Words: d.Excavation.Words, Tag: tag}
	if rows := c.rows(id, tag); len(rows) > 0 && c.why(tag, rows[0]).IsZero() {
		v := c.faceOf(tag)
		line.Worked = workedOf(c.plan, v, rows[0])
		for _, n := range rows[1:] {
			line.Several = line.Several || workedOf(c.plan, v, n).text() != line.text()
		}
	}
	if st, ok := c.state.Dig(id); ok && len(st.Points) > 0 {
		line.Verdict, line.Told = string(st.Verdict), c.view.Text(phrase.Key("sheet.log_"+string(st.Verdict)))
	}
	for _, f := range c.cautions.Of(id, tag) {
		if f.Severity == phrase.Stop {
			line.Stops++
		}
	}
	return line
}

// rows are the numbers of a dig from a tag, or those that need no beam.
func (c *Cab) rows(id, tag string) []plan.Number {
	var out []plan.Number
	for _, n := range c.plan.Numbers {
		if n.Excavation == id && n.Setup == tag {
			out = append(out, n)
		}
	}
	return out
}

// tagsOf are the tags that serve a dig.
func (c *Cab) tagsOf(id string) []string {
	out := []string{}
	for _, n := range c.plan.Numbers {
		if n.Excavation == id && n.Setup != "" && (len(out) == 0 || out[len(out)-1] != n.Setup) && !has(out, n.Setup) {
			out = append(out, n.Setup)
		}
	}
	return out
}

func has(list []string, s string) bool {
	for _, one := range list {
		if one == s {
			return true
		}
	}
	return false
}

// tagFor is the tag to dig from: one that has numbers now before one that has
// none.
func (c *Cab) tagFor(id string) string {
	tags := c.tagsOf(id)
	for _, tag := range tags {
		if t, ok := c.tag(tag); ok && t.State == record.TagLive {
			return tag
		}
	}
	if len(tags) > 0 {
		return tags[0]
	}
	return ""
}

// faceOf is the view in the face of a set-up's rod.
func (c *Cab) faceOf(tag string) tell.View {
	if s, ok := c.plan.Setup(tag); ok && s.Rod.ID != "" {
		return c.view.Face(s.Rod)
	}
	return tell.LogFace(c.plan, c.view)
}
