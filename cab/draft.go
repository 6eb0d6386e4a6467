package cab

import (
	"encoding/hex"
	"maps"
	"slices"

	"spadework/engine/phrase"
	"spadework/engine/plan"
	"spadework/engine/record"
	"spadework/engine/safety"
)

// Saying is what a person says that becomes a record.
type Saying struct {
	Kind   string            `json:"kind"`
	Words  map[string]string `json:"words"`
	Person string            `json:"person"`
	Millis int64             `json:"millis"` // the device's clock, since 1970 UTC
	Offset int               `json:"offset"` // minutes east of UTC
	Random string            `json:"random"` // 20 hexadecimal digits
}

// Drafted is a record that was made but not yet kept, and what it would come to.
type Drafted struct {
	ID     string   `json:"id"`
	Record string   `json:"record"` // canonical
	Seq    int64    `json:"seq"`    // in the device's chain
	Told   []string `json:"told"`   // what it means, in sentences
	Shot   *Shot    `json:"shot"`   // of a shot: how it would lie
	Slip   string   `json:"slip"`   // what makes a reading look like a misread one, "" nothing
}

// Draft makes the device's next record from what was said. Nothing is kept: the
// page stores it and then adds it.
func (c *Cab) Draft(s Saying) (Drafted, *phrase.Fault) {
	return c.draftOn(c.plan, s)
}

func (c *Cab) draftOn(p *plan.Plan, s Saying) (Drafted, *phrase.Fault) {
	var random [10]byte
	if n, err := hex.Decode(random[:], []byte(s.Random)); err != nil || n != len(random) || len(s.Random) != 2*len(random) {
		return Drafted{}, phrase.NewFault(phrase.New("cab.random", phrase.With("value", s.Random)), phrase.Message{})
	}
	now := record.Stamp{Millis: s.Millis, Offset: s.Offset}
	payload, f := c.payload(p, s, now)
	if f != nil {
		return Drafted{}, f
	}
	head, seen := record.Heads(c.records, c.opening.Device)
	r, _, f := head.Next(record.Draft{
		Job: c.opening.ID, Device: c.opening.Device, Person: s.Person, Revision: p.Job.Revision, Time: now, Seen: seen, Payload: payload,
	}, s.Millis, random)
	if f != nil {
		return Drafted{}, f
	}
	out := Drafted{ID: r.ID.String(), Record: string(r.Append(nil)), Seq: r.Seq, Told: []string{}}
	out.Slip = c.misread(c.faceOf(s.Words["tag"]), payload)
	c.foretell(&out, r)
	return out, nil
}

func (c *Cab) payload(p *plan.Plan, s Saying, now record.Stamp) (record.Payload, *phrase.Fault) {
	kind := record.Kind(s.Kind)
	if record.Members(kind) == nil {
		return nil, notFound("cab.unknown_kind", s.Kind)
	}
	said := map[string]string{}
	maps.Copy(said, s.Words)
	c.onTie(kind, said)
	keys := make([]string, 0, len(said))
	for key := range said {
		keys = append(keys, key)
	}
	slices.Sort(keys)
	words := make([]record.Word, len(keys))
	for i, key := range keys {
		words[i] = record.Word{Key: key, Text: said[key]}
	}
	payload, f := record.Composer{Plan: p, State: c.state, Now: now, Comma: c.view.Style.Comma}.Compose(kind, words)
	if f != nil {
		return nil, f
	}
	if shot, ok := payload.(*record.CheckShot); ok && shot.From == record.FromHole {
		allowed, why := safety.InHoleShotAllowed(safety.InHole{
			Dig: shot.Excavation, Findings: p.Findings, Entries: c.state.StandingEntries(),
			Watchman: safety.Watchman{Competent: p.Job.Rules.CompetentPerson, Today: now.Date()},
		})
		if !allowed {
			return nil, phrase.NewFault(why, phrase.New("cab.hole.remedy"))
		}
	}
	return payload, nil
}

// foretell replays the log with the record in it and tells what changed.
func (c *Cab) foretell(out *Drafted, r record.Record) {
	after := record.Replay(record.Input{Records: append(slices.Clip(c.records), r), Foremen: c.opening.Foremen})
	told := map[string]bool{}
	for _, d := range c.state.Due {
		told[c.view.Say(d.What)] = true
	}
	for _, t := range after.Tags {
		before, had := c.tag(t.Tag)
		if t.State != record.TagLive && (!had || before.Setup != t.Setup || before.State != t.State) {
			out.Told = append(out.Told, c.view.Text(phrase.Key("sheet.tag_"+string(t.State)), phrase.With("tag", t.Tag), phrase.With("why", t.Why), phrase.With("count", t.Open)))
		}
		if t.State == record.TagLive && had && before.Setup == t.Setup && before.State != record.TagLive {
			out.Told = append(out.Told, c.view.Text("cab.tag_back", phrase.With("tag", t.Tag)))
		}
	}
	for _, tie := range after.Ties {
		if !tie.Live && slices.ContainsFunc(c.state.Ties, func(t record.TieState) bool { return t.Tie == tie.Tie && t.Live }) {
			out.Told = append(out.Told, c.view.Text("sheet.tie_void", phrase.With("machine", tie.Machine), phrase.With("why", tie.Why)))
		}
	}
	shot, isShot := r.Payload.(*record.CheckShot)
	for _, d := range after.Due {
		if isShot && d.Where.Excavation == shot.Excavation {
			continue // the shot itself tells it
		}
		if text := c.view.Say(d.What); !told[text] {
			out.Told = append(out.Told, text+".")
		}
	}
	out.Shot = c.foretoldShot(after, r)
}

// foretoldShot is how a drafted shot would lie.
func (c *Cab) foretoldShot(after *record.State, r record.Record) *Shot {
	shot, ok := r.Payload.(*record.CheckShot)
	if !ok {
		return nil
	}
	st, _ := after.Dig(shot.Excavation)
	for _, p := range st.Points {
		if p.Shot == r.ID {
			tag := p.Tag
			return c.shot(c.faceOf(tag), p)
		}
	}
	return nil
}
