package sheet

import (
	"spadework/engine/beam"
	"spadework/engine/draw"
	"spadework/engine/geom"
	"spadework/engine/phrase"
	"spadework/engine/plan"
	"spadework/engine/tell"
)

// closeRows is how many closes a set-up card has room for.
const closeRows = 6

// setupCards lays out a page for every set-up.
func (b *book) setupCards() {
	for _, set := range b.plan.Setups {
		b.setupCard(set)
	}
}

// setupCard is where the laser stands, how high, its dial, its backsights, what
// to expect and when to close.
func (b *book) setupCard(set plan.Setup) {
	v := b.Face(set.Rod)
	b.begin(b.Text("sheet.setup_title", phrase.With("setup", set.ID)), b.Text("sheet.scale_drawn"))
	frame := draw.Frame{Width: b.width(), Height: 92, Type: 2.9, OnSheet: true}
	scene := draw.MarkedPlan(b.only(set), draw.Voice(v), frame, draw.Marks{Bounds: b.plan.Bounds, Reaches: true})
	b.col.put(scene, geom.Point{X: b.col.left, Y: b.col.y})
	b.col.frame(draw.Fine, geom.BoxOf(geom.Point{X: b.col.left, Y: b.col.y}, geom.Point{X: b.col.right(), Y: b.col.y + scene.Height}))
	b.col.y += scene.Height + 2
	c := newColumn(v, marginLeft, b.width())
	c.setupHead(b.plan, set)
	b.place(c)
	b.dial(set, v)
	b.backsights(set, v)
	b.words(draw.Body, sizeBody, 0, b.Text("sheet.setup_serves", phrase.With("digs", orDash(b.servedBy(set)))))
	for _, note := range set.Notes {
		b.words(draw.Body, sizeBody, 0, capital(v.Say(note))+".")
	}
	b.closing(v)
}

// only is the plan with one set-up, for its drawing.
func (b *book) only(set plan.Setup) *plan.Plan {
	p := *b.plan
	p.Setups = []plan.Setup{set}
	return &p
}

// setupHead is the tag, large, with state and height; of a planned one a blank
// for the height to write in.
func (c *column) setupHead(p *plan.Plan, set plan.Setup) {
	const most, share = 11, 0.35 // size of the tag, and of the width
	size := tagSize(set.ID, most, share*c.width-6)
	w := min(draw.Width(draw.Strong, size, set.ID)+6, share*c.width)
	c.tag(set.ID, size, geom.BoxOf(geom.Point{X: c.left, Y: 1}, geom.Point{X: c.left + w, Y: 15}))
	c.y = 0
	t := newColumn(c.View, c.left+w+4, c.width-w-4)
	job := p.Job.Origin.Job(set.Plane.At)
	base := tell.CoordinateUnit(p)
	if set.State == beam.Planned {
		t.paragraph(draw.Strong, sizeFigure, c.Text("sheet.planned_setup"))
		t.words(draw.Outlined, 8, geom.Point{X: t.left, Y: t.y + 8}, draw.Start, c.Text("sheet.hi_blank"))
		t.gap(11)
	} else {
		t.paragraph(draw.Strong, 5.5, c.Text("sheet.setup_hi", phrase.With("hi", set.Plane.HI)))
	}
	rests := phrase.Key("sheet.setup_rests")
	if set.State == beam.Planned {
		rests = "sheet.setup_aim"
	}
	t.paragraph(draw.Body, sizeBody, c.Text(rests, phrase.With("rests", tell.RestsOn(p, tell.View(c.View), set))))
	t.paragraph(draw.Body, sizeBody, c.Text("sheet.setup_where", phrase.With("east", c.Style.Fixed(job.X/base, 1)), phrase.With("north", c.Style.Fixed(job.Y/base, 1)),
		phrase.With("laser", set.Laser.ID), phrase.With("range", set.Laser.Range), phrase.With("rod", orDash(set.Rod.ID))))
	c.beside(t)
	c.y = max(c.y, 16)
	c.gap(2)
}

// dial tells how the laser is sloped, or that it stands level.
func (b *book) dial(set plan.Setup, v View) {
	s := &Sheet{View: v}
	s.dial(v, set)
	if len(s.Blocks) == 0 {
		s.paragraph(v.Text("sheet.setup_level"))
	}
	for i, k := range s.Blocks {
		size, setting := sizeBody, draw.Body
		if i == 0 {
			size, setting = sizeFigure, draw.Strong
		}
		b.words(setting, size, 0, k.Text)
	}
	b.col.gap(1.5)
}

// backsights is a table of what was read, or what to expect, with room to write.
func (b *book) backsights(set plan.Setup, v View) {
	t := &Table{Columns: []Column{v.column("benchmark"), v.figures("height"), v.figures("read"), v.figures("expect"),
		{Head: v.Text("sheet.col_read_now"), Write: true}, {Head: v.Text("sheet.col_hi_now"), Write: true}}}
	sights := map[string]string{}
	for _, s := range set.Sights() {
		sights[s.Benchmark] = v.Style.Reading(s.Rod)
	}
	expect := map[string]string{}
	for _, e := range b.plan.Expected(set) {
		expect[e.Benchmark] = v.Style.Reading(e.Rod)
	}
	for _, m := range b.plan.Job.Benchmarks {
		read, want := sights[m.ID], expect[m.ID]
		if read != "" || want != "" {
			t.Add(m.ID, v.Style.ElevationFigure(m.Elevation), orDash(read), orDash(want), "", "")
		}
	}
	if len(t.Rows) > 0 {
		b.table(t, writeRow)
	}
}

// servedBy names the digs with a number from a set-up.
func (b *book) servedBy(set plan.Setup) string {
	text := ""
	for _, d := range b.plan.Digs {
		for _, n := range b.numbers[d.Excavation.ID] {
			if n.From == plan.FromBeam && n.Setup == set.ID {
				if text != "" {
					text += ", "
				}
				text += d.Excavation.ID
				break
			}
		}
	}
	return text
}

// closing says when to close, with room to write the closes.
func (b *book) closing(v View) {
	c := b.plan.Job.Closes
	text := v.Text("sheet.close_always")
	if c.EveryDigs > 0 {
		text += " " + v.Text("sheet.close_digs", phrase.With("count", c.EveryDigs))
	}
	if c.EveryMinutes > 0 {
		text += " " + v.Text("sheet.close_minutes", phrase.With("minutes", v.Style.Number(c.EveryMinutes)))
	}
	if len(c.On) > 0 {
		text += " " + v.Text("sheet.close_on", phrase.With("points", c.On))
	}
	b.need(20 + 2*writeRow)
	b.col.gap(1)
	b.words(draw.Strong, sizeHead, 0, v.Text("sheet.close_head"))
	b.words(draw.Body, sizeBody, 0, text)
	t := &Table{}
	for _, key := range []string{"time", "close_on", "read_now", "off", "by"} {
		col := v.column(key)
		col.Write = true
		t.Columns = append(t.Columns, col)
	}
	rows := min(closeRows, int((b.room()-8)/writeRow))
	for range max(rows, 2) {
		t.Add("", "", "", "", "")
	}
	b.table(t, writeRow)
}
