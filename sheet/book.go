package sheet

import (
	"slices"

	"spadework/engine/draw"
	"spadework/engine/geom"
	"spadework/engine/phrase"
	"spadework/engine/plan"
	"spadework/engine/record"
)

// Part is a kind of sheet of a book.
type Part string

// The parts of a book in their order.
const (
	SummaryPart  Part = "summary"
	SetupPart    Part = "setups"
	DigPart      Part = "cards"
	CutSheetPart Part = "cutsheets"
	StripPart    Part = "strips"
	StakePart    Part = "stakes"
	CheckPart    Part = "checks"
	HowItWasPart Part = "left"
)

// Parts is every part.
func Parts() []Part {
	return []Part{SummaryPart, SetupPart, DigPart, CutSheetPart, StripPart, StakePart, CheckPart, HowItWasPart}
}

// BookOptions say what a book holds and on which paper.
type BookOptions struct {
	Paper   Paper             // the zero Paper is Letter
	Parts   []Part            // nil: all
	Digs    []string          // of the cards and cut sheets; nil: all
	Address func(Card) string // that a card's code opens; nil: no codes
	Log     *record.State     // what happened; nil or empty: how it was left is a form to fill in
}

// book makes the sheets of one plan.
type book struct {
	*press
	BookOptions
	cautions *plan.DigCautions
	numbers  map[string][]plan.Number // by dig
}

// Book is the sheets of a job as pages of paper.
func Book(p *plan.Plan, v View, o BookOptions) (Document, *phrase.Fault) {
	if o.Paper == (Paper{}) {
		o.Paper = Letter
	}
	b := &book{press: newPress(p, v, o.Paper), BookOptions: o, cautions: p.DigCautions(), numbers: map[string][]plan.Number{}}
	for _, n := range p.Numbers {
		b.numbers[n.Excavation] = append(b.numbers[n.Excavation], n)
	}
	for _, part := range []struct {
		part Part
		lay  func()
	}{
		{SummaryPart, b.summary}, {SetupPart, b.setupCards}, {DigPart, b.digCards}, {CutSheetPart, b.cutSheets},
		{StripPart, b.strips}, {StakePart, b.stakes}, {CheckPart, b.checks}, {HowItWasPart, b.left},
	} {
		if len(o.Parts) == 0 || slices.Contains(o.Parts, part.part) {
			part.lay()
			b.close()
		}
	}
	return b.document(v.Text("sheet.book_title", phrase.With("name", p.Job.Name))), nil
}

// wanted says that a dig's sheets are asked for.
func (b *book) wanted(id string) bool { return len(b.Digs) == 0 || slices.Contains(b.Digs, id) }

// digCards lays out every card.
func (b *book) digCards() {
	for _, k := range Cards(b.plan) {
		if !b.wanted(k.Excavation) {
			continue
		}
		if b.Address != nil {
			k.Address = b.Address(k)
		}
		b.digCard(b.card(k))
	}
}

// summary is the site plan with its signs, then the plan as it is printed.
func (b *book) summary() {
	frame := draw.Frame{Width: b.width(), Height: b.whole() * 0.62, Type: 2.9, OnSheet: true}
	scene := draw.MarkedPlan(b.plan, draw.Voice(b.View), frame, draw.Marks{Bounds: b.plan.Bounds})
	b.begin(b.Text("sheet.summary"), b.Text("sheet.scale_drawn"))
	b.col.put(scene, geom.Point{X: b.col.left, Y: b.col.y})
	b.col.frame(draw.Fine, geom.BoxOf(geom.Point{X: b.col.left, Y: b.col.y}, geom.Point{X: b.col.right(), Y: b.col.y + scene.Height}))
	b.col.y += scene.Height + 2
	signs := b.Text("page.signs") + " " + b.Text("sheet.signs_zone")
	if b.plan.Planned() {
		signs += " " + b.Text("page.signs_planned")
	}
	if scene.Unplaced > 0 {
		signs += " " + b.Text("page.unnamed", phrase.With("count", scene.Unplaced))
	}
	b.words(draw.Body, sizeBody, 0, signs)
	b.blocks(Plan(b.plan, b.View, true))
	b.standsPlan()
}

// standsPlan is a site plan of its own for the stands and heaps, nothing where
// none are planned.
func (b *book) standsPlan() {
	stands := draw.StandsOf(b.plan)
	if len(stands) == 0 {
		return
	}
	b.close()
	b.begin(b.Text("sheet.stands_title"), b.Text("sheet.scale_drawn"))
	frame := draw.Frame{Width: b.width(), Height: b.whole() * 0.7, Type: 2.9, OnSheet: true}
	scene := draw.MarkedPlan(b.plan, draw.Voice(b.View), frame, draw.Marks{Bounds: b.plan.Bounds, Stands: stands})
	b.col.put(scene, geom.Point{X: b.col.left, Y: b.col.y})
	b.col.frame(draw.Fine, geom.BoxOf(geom.Point{X: b.col.left, Y: b.col.y}, geom.Point{X: b.col.right(), Y: b.col.y + scene.Height}))
	b.col.y += scene.Height + 2
	text := b.Text("sheet.signs_stands")
	if scene.Unplaced > 0 {
		text += " " + b.Text("page.unnamed", phrase.With("count", scene.Unplaced))
	}
	b.words(draw.Body, sizeBody, 0, text)
}

// cutSheets are the sheets of the runs, each from the first set-up that serves it.
func (b *book) cutSheets() {
	for _, d := range b.plan.Digs {
		if !d.Excavation.Kind.Run() || !b.wanted(d.Excavation.ID) {
			continue
		}
		for _, setup := range b.setupsOf(d.Excavation.ID) {
			if c, fault := b.plan.CutSheet(d.Excavation.ID, b.plan.Job.Interval, setup); fault == nil {
				b.cutSheet(d, c)
			}
		}
	}
}

// setupsOf are the set-ups that serve a dig, "" where none does.
func (b *book) setupsOf(id string) []string {
	var out []string
	for _, n := range b.numbers[id] {
		if n.From == plan.FromBeam && !slices.Contains(out, n.Setup) {
			out = append(out, n.Setup)
		}
	}
	if len(out) == 0 {
		return []string{""}
	}
	return out
}

// cutSheet is the profile of a run over its table, hubs beside it.
func (b *book) cutSheet(d plan.Dig, c plan.CutSheet) {
	title := b.Text("sheet.cutsheet_title", phrase.With("id", d.Excavation.ID), phrase.With("setup", orDash(c.Setup)))
	b.begin(title, b.Text("sheet.scale_drawn"))
	cut := draw.Cut{Plan: b.plan, Dig: d, Setup: c.Setup}
	if scene, ok := draw.Profile(cut, draw.Voice(b.View), draw.Frame{Width: b.width(), Height: 84, Type: 2.7, OnSheet: true}); ok {
		b.col.put(scene, geom.Point{X: b.col.left, Y: b.col.y})
		b.col.y += scene.Height + 2
	}
	s := CutSheet(b.plan, b.View, c)
	s.Blocks = slices.DeleteFunc(s.Blocks, func(k Block) bool { return k.Kind == Title })
	for _, k := range s.Blocks {
		if k.Kind == TableBlock {
			k.Table.Columns = append(k.Table.Columns, Column{Head: b.Text("sheet.col_shot"), Write: true})
			for i := range k.Table.Rows {
				k.Table.Rows[i] = append(k.Table.Rows[i], "")
			}
			b.table(k.Table, 6.5)
			continue
		}
		b.words(draw.Body, sizeBody, 0, k.Text)
	}
	if d.Excavation.Count > 1 {
		b.words(draw.Body, sizeBody, 0, b.Text("page.first_trench", phrase.With("count", d.Excavation.Count)))
	}
}

// stickSize is the type of what is read at arm's length from a stick or a stake.
const stickSize = 4.2

// strips are the clamp strips of the set-ups.
func (b *book) strips() {
	b.size = stickSize
	defer func() { b.size = sizeBody }()
	for i, set := range b.plan.Setups {
		groups, fault := b.plan.ClampStrip(set.ID, 0)
		if fault != nil {
			continue
		}
		if i == 0 || b.col == nil {
			b.begin(b.Text("sheet.strips"), "")
		}
		b.need(40)
		b.blocks(Strip(b.View, set, groups, b.plan.WorkedTo))
		b.col.gap(4)
	}
}

// stakes is what is written on the hubs' stakes.
func (b *book) stakes() {
	if len(b.plan.Stakes) == 0 {
		return
	}
	b.size = stickSize
	defer func() { b.size = sizeBody }()
	b.begin(b.Text("sheet.stakes_title"), "")
	b.blocks(Stakes(b.plan, b.View))
}
