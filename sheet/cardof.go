package sheet

import (
	"slices"
	"strings"

	"spadework/engine/beam"
	"spadework/engine/draw"
	"spadework/engine/phrase"
	"spadework/engine/plan"
	"spadework/engine/tell"
	"spadework/engine/unit"
)

// Card names a dig card of a job: a dig as it is dug from one set-up, "" where no beam
// serves it. Stand is the stands it is dug from, "" where none are planned.
// Address opens the card in the app; "" leaves its code out.
type Card struct{ Job, Excavation, Setup, Stand, Address string }

// Cards are the cards of a plan: every dig from every set-up that serves it, in
// the order of the digs.
func Cards(p *plan.Plan) []Card {
	setups := map[string][]string{}
	for _, n := range p.Numbers {
		if n.From == plan.FromBeam && !slices.Contains(setups[n.Excavation], n.Setup) {
			setups[n.Excavation] = append(setups[n.Excavation], n.Setup)
		}
	}
	var out []Card
	for _, d := range p.Digs {
		id := d.Excavation.ID
		if len(setups[id]) == 0 {
			out = append(out, Card{Job: p.Job.Name, Excavation: id, Stand: standsOf(p, id, "")})
		}
		for _, s := range setups[id] {
			out = append(out, Card{Job: p.Job.Name, Excavation: id, Setup: s, Stand: standsOf(p, id, s)})
		}
	}
	return out
}

// standsOf are the numbers of the stands that a dig is dug from by a set-up, "" for
// any, as one text.
func standsOf(p *plan.Plan, id, setup string) string {
	if p.Stands == nil {
		return ""
	}
	var out []string
	for _, row := range p.Stands.Of(id) {
		by := func(w plan.Work) bool { return w.Excavation == id && (setup == "" || w.Setup == setup) }
		if slices.ContainsFunc(row.Work, by) || slices.ContainsFunc(row.Opened, by) {
			out = append(out, row.ID)
		}
	}
	return strings.Join(out, ", ")
}

// cardOf is a card with what it tells.
type cardOf struct {
	Card
	View     // in the face of its rod
	plan     *plan.Plan
	dig      plan.Dig
	set      plan.Setup
	rows     []plan.Number
	cautions []phrase.Finding
}

// card gathers what a card tells.
func (b *book) card(k Card) cardOf {
	c := cardOf{Card: k, View: b.View, plan: b.plan}
	c.dig, _ = b.plan.Dig(k.Excavation)
	if set, ok := b.plan.Setup(k.Setup); ok {
		c.set, c.View = set, b.Face(set.Rod)
	}
	for _, n := range b.numbers[k.Excavation] {
		if k.Setup == "" || n.Setup == k.Setup {
			c.rows = append(c.rows, n)
		}
	}
	c.cautions = b.cautions.Of(k.Excavation, k.Setup)
	return c
}

// planned says that the card's set-up has no height yet.
func (c cardOf) planned() bool { return c.Setup != "" && c.set.State == beam.Planned }

// title names the card.
func (c cardOf) title() string {
	if c.Setup == "" {
		return c.Excavation
	}
	return c.Text("sheet.card_title", phrase.With("id", c.Excavation), phrase.With("setup", c.Setup))
}

// from says which set-up the numbers belong to and what it rests on.
func (c cardOf) from() string {
	switch {
	case c.Setup == "":
		return c.Text("sheet.cutsheet_no_setup")
	case c.planned():
		return c.Text("sheet.card_planned", phrase.With("setup", c.Setup), phrase.With("rests", tell.RestsOn(c.plan, tell.View(c.View), c.set)))
	}
	return c.Text("sheet.card_live", phrase.With("setup", c.Setup), phrase.With("hi", hiText(c.View, c.set)), phrase.With("rests", tell.RestsOn(c.plan, tell.View(c.View), c.set)))
}

// where tells the middle of the dig in job coordinates, and how far and which
// way it lies from the set-up.
func (c cardOf) where() string {
	if len(c.dig.Parts) == 0 {
		return ""
	}
	at := c.dig.Parts[0].Outline.Centroid()
	job := c.plan.Job.Origin.Job(at)
	base := tell.CoordinateUnit(c.plan)
	text := c.Text("sheet.card_where", phrase.With("east", c.Style.Fixed(job.X/base, 1)), phrase.With("north", c.Style.Fixed(job.Y/base, 1)))
	if c.Setup == "" {
		return text
	}
	return text + " " + c.Text("sheet.card_away", phrase.With("distance", unit.Length(at.Distance(c.set.Plane.At))),
		phrase.With("bearing", c.Style.Bearing(beam.Bearing(c.set.Plane.At, at))), phrase.With("setup", c.Setup))
}

// labelled is a number with the points that share it; label is "" for all.
type labelled struct {
	label string
	draw.Figure
}

// groups are the numbers of the card, neighbours that print the same as one.
func (c cardOf) groups() []labelled {
	var out []labelled
	var first, last plan.Number
	texts := []string{}
	for _, n := range c.rows {
		f := draw.WorkFigureOf(c.plan, n)
		text := draw.Voice(c.View).Figure(f)
		if len(texts) > 0 && texts[len(texts)-1] == text && n.From == last.From && n.Reference == last.Reference {
			last = n
			out[len(out)-1].label = stretchText(c.View, first, last)
			continue
		}
		first, last = n, n
		texts = append(texts, text)
		out = append(out, labelled{tell.PointText(tell.View(c.View), n), f})
	}
	if len(out) == 1 {
		out[0].label = ""
	}
	return out
}

// stretchText names the points from one to another.
func stretchText(v View, first, last plan.Number) string {
	if first.Part == last.Part && first.HasStation && last.HasStation {
		return tell.PartPrefix(tell.View(v), first) + v.Style.Station(first.Station) + " – " + v.Style.Station(last.Station)
	}
	return tell.PointText(tell.View(v), first) + " … " + tell.PointText(tell.View(v), last)
}

// sums are the arithmetic of the card in lines: every bottom from the drawing's
// words, then the first number.
func (c cardOf) sums() []string {
	v := c.View
	v.Style.Places = 3
	s := &Sheet{View: v}
	var out []string
	for _, part := range c.dig.Parts {
		text := s.sum(part)
		if part.Trace.Words != "" {
			text = "“" + part.Trace.Words + "”: " + text
		}
		if !slices.Contains(out, text) {
			out = append(out, text)
		}
	}
	if len(c.rows) > 0 {
		out = append(out, s.numberTrace(c.plan, c.rows[0]))
	}
	return out
}
