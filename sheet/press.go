package sheet

import (
	"slices"
	"strconv"

	"spadework/engine/draw"
	"spadework/engine/geom"
	"spadework/engine/phrase"
	"spadework/engine/plan"
)

// The margins of a page in millimetres: the left takes a binder.
const (
	marginLeft  = 16
	marginRight = 10
	marginTop   = 9
	marginLow   = 9
	footHeight  = 5
	headHeight  = 11
)

// press lays columns out on pages under the head of a cut sheet.
type press struct {
	View
	plan  *plan.Plan
	paper Paper
	pages []Page
	col   *column // of the page in hand, nil before the first
	title string
	scale string
	size  float64 // of words and tables
}

func newPress(p *plan.Plan, v View, paper Paper) *press {
	return &press{View: v, plan: p, paper: paper, size: sizeBody}
}

// width is what a page has between its margins.
func (r *press) width() float64 { return r.paper.Width - marginLeft - marginRight }

// bottom is the lower edge of what a page takes.
func (r *press) bottom() float64 { return r.paper.Height - marginLow - footHeight }

// room is the height that is left on the page.
func (r *press) room() float64 {
	if r.col == nil {
		return 0
	}
	return r.bottom() - r.col.y
}

// whole is the height of an empty page under its head.
func (r *press) whole() float64 { return r.bottom() - marginTop - headHeight - 2 }

// begin starts a page of a sheet.
func (r *press) begin(title, scale string) {
	r.close()
	r.title, r.scale = title, scale
	r.col = newColumn(r.View, marginLeft, r.width())
	r.col.y = marginTop + headHeight + 2
}

// close ends the page in hand.
func (r *press) close() {
	if r.col == nil {
		return
	}
	title := r.title
	if r.col.title != "" {
		title = r.col.title
	}
	r.head(title)
	scene := r.col.Scene
	scene.Width, scene.Height = r.paper.Width, r.paper.Height
	r.pages = append(r.pages, Page{Scene: scene, Title: title, Links: r.col.links})
	r.col = nil
}

// need begins a page anew unless so much room is left.
func (r *press) need(height float64) {
	if r.room() < height {
		r.again()
	}
}

// again begins another page of what the page in hand is of.
func (r *press) again() {
	title := ""
	if r.col != nil {
		title = r.col.title
	}
	r.begin(r.title, r.scale)
	r.col.title = title
}

// place sets a column that was written from y = 0 down on the page, on a new one
// if it has no room here.
func (r *press) place(c *column) {
	r.need(c.y)
	v := geom.Vector{Y: r.col.y}
	r.col.Items = append(r.col.Items, moved(c.Items, v)...)
	for _, l := range c.links {
		r.col.links = append(r.col.links, Link{geom.BoxOf(l.Box.Min.Add(v), l.Box.Max.Add(v)), l.Address})
	}
	r.col.y += c.y
}

// headCell is one box of the head.
type headCell struct {
	key   phrase.Key
	value string
	share float64
}

// head is job, sheet, revision, date, scale and north.
func (r *press) head(title string) {
	j := r.plan.Job
	c, top := r.col, float64(marginTop)
	c.frame(draw.Ground, geom.BoxOf(geom.Point{X: c.left, Y: top}, geom.Point{X: c.right(), Y: top + headHeight}))
	x := c.left
	for i, cell := range []headCell{
		{"sheet.head_job", j.Name, 0.27}, {"sheet.head_sheet", title, 0.25}, {"sheet.head_drawing", orDash(j.Drawing), 0.11},
		{"sheet.head_revision", orDash(j.Revision), 0.08}, {"sheet.head_date", orDash(j.Today), 0.12}, {"sheet.head_scale", orDash(r.scale), 0.12},
	} {
		w := cell.share * c.width
		if i > 0 {
			c.stroke(draw.Fine, geom.Point{X: x, Y: top}, geom.Point{X: x, Y: top + headHeight})
		}
		c.words(draw.Body, sizeFoot, geom.Point{X: x + pad, Y: top + 1 + sizeFoot}, draw.Start, clipped(draw.Body, sizeFoot, r.Text(cell.key), w-2*pad))
		c.headValue(cell.value, geom.BoxOf(geom.Point{X: x, Y: top + 1.4 + sizeFoot}, geom.Point{X: x + w, Y: top + headHeight}))
		x += w
	}
	c.northCell(geom.BoxOf(geom.Point{X: x, Y: top}, geom.Point{X: c.right(), Y: top + headHeight}))
}

// headValue writes a value as large as its box takes in one line or two.
func (c *column) headValue(value string, b geom.Box) {
	width := b.Width() - 2*pad
	for _, try := range []struct {
		size  float64
		lines int
	}{{sizeHead, 1}, {sizeBody, 1}, {2.6, 2}, {sizeFoot, 2}} {
		lines := wrapped(draw.Strong, try.size, value, width)
		if last := try.size == sizeFoot; len(lines) > try.lines && !last {
			continue
		}
		if len(lines) > try.lines {
			lines = []string{lines[0], clipped(draw.Strong, try.size, lines[1]+" "+lines[2], width)}
		}
		y := b.Centre().Y + try.size*0.36 - float64(len(lines)-1)*try.size*1.15/2
		for i, l := range lines {
			c.words(draw.Strong, try.size, geom.Point{X: b.Min.X + pad, Y: y + float64(i)*try.size*1.15}, draw.Start, l)
		}
		return
	}
}

// northCell says that the plans of the page have north up.
func (c *column) northCell(b geom.Box) {
	c.stroke(draw.Fine, b.Min, geom.Point{X: b.Min.X, Y: b.Max.Y})
	foot := geom.Point{X: b.Centre().X - 1.6, Y: b.Max.Y - 1.6}
	tip := geom.Point{X: foot.X, Y: b.Min.Y + 1.6}
	c.stroke(draw.Ink, foot, tip)
	c.Items = append(c.Items, draw.Item{Pen: draw.Ink, Closed: true, Fill: draw.Solid, Points: []geom.Point{tip, {X: tip.X - 0.9, Y: tip.Y + 2.4}, {X: tip.X + 0.9, Y: tip.Y + 2.4}}})
	c.words(draw.Strong, sizeHead, geom.Point{X: foot.X + 1.6, Y: b.Centre().Y + 0.36*sizeHead}, draw.Start, c.Text("draw.north"))
}

// document ends the work: pages get their numbers and the advice under them.
func (r *press) document(title string) Document {
	r.close()
	advice := r.Text("safety.advice")
	for i := range r.pages {
		c := newColumn(r.View, marginLeft, r.width())
		y := r.paper.Height - marginLow
		number := r.Text("sheet.page_of", phrase.With("page", strconv.Itoa(i+1)), phrase.With("count", strconv.Itoa(len(r.pages))))
		c.words(draw.Body, sizeFoot, geom.Point{X: c.right(), Y: y}, draw.End, number)
		room := c.width - draw.Width(draw.Body, sizeFoot, number) - 4
		c.words(draw.Body, sizeFoot, geom.Point{X: c.left, Y: y}, draw.Start, clipped(draw.Body, sizeFoot, advice, room))
		r.pages[i].Items = append(r.pages[i].Items, c.Items...)
	}
	return Document{Title: title, Language: r.Language, Date: r.plan.Job.Today, Pages: r.pages}
}

// table lays a table out over as many pages as it takes, its heads on each.
func (r *press) table(t *Table, row float64) {
	g := newGrid(t, r.width(), r.size)
	g.row = row
	first := 12.0
	if len(t.Rows) > 0 {
		first += g.height(t.Rows[0])
	}
	r.need(first)
	r.tableHead(g)
	for i, cells := range t.Rows {
		if r.room() < g.height(cells) {
			r.again()
			r.tableHead(g)
		}
		g.write(r.col, cells, slices.Contains(t.Planned, i))
	}
	r.col.gap(1.5)
}

// rowThatEnds is the height of a table's rows to write in, less where the table
// then ends on the page in hand.
func (r *press) rowThatEnds(t *Table) float64 {
	for _, row := range []float64{writeRow, leastRow} {
		g, c := newGrid(t, r.width(), r.size), newColumn(r.View, marginLeft, r.width())
		g.row = row
		g.head(c)
		for _, cells := range t.Rows {
			g.write(c, cells, false)
		}
		if c.y <= r.room() {
			return row
		}
	}
	return writeRow
}

func (r *press) tableHead(g *grid) {
	if !g.Plain {
		g.head(r.col)
	}
}

// words lays a paragraph out, whole.
func (r *press) words(set draw.Setting, size, indent float64, text string) {
	c := newColumn(r.View, marginLeft+indent, r.width()-indent)
	c.paragraph(set, size, text)
	r.place(c)
}

// blocks lays a sheet out as the command line prints it.
func (r *press) blocks(s *Sheet) {
	for i, b := range s.Blocks {
		switch b.Kind {
		case TableBlock:
			r.table(b.Table, 0)
		case Title, Heading:
			r.need(14)
			if i+1 < len(s.Blocks) && s.Blocks[i+1].Kind == TableBlock {
				r.need(headedRoom) // no heading stands over nothing
			}
			r.col.gap(1.6)
			r.words(draw.Strong, max(sizeHead, r.size), 0, b.Text)
			r.col.gap(0.6)
		case Finding:
			r.finding(b)
		case Detail:
			r.words(draw.Body, r.size, 5, b.Text)
		default:
			r.words(draw.Body, r.size, 0, b.Text)
			r.col.gap(0.6)
		}
	}
}

// headedRoom is what a heading takes with the head of its table and a row.
const headedRoom = 30

// finding lays a finding out beside its bar: heavy for one that stops work.
func (r *press) finding(b Block) {
	c := newColumn(r.View, marginLeft, r.width())
	c.finding(b.Text, b.Severity, sizeBody)
	r.place(c)
}

// finding writes a finding beside a bar, heavy for one that stops work.
func (c *column) finding(text string, severity phrase.Severity, size float64) {
	top := c.y
	in := newColumn(c.View, c.left+3, c.width-3)
	in.y = top
	set := draw.Body
	if severity == phrase.Stop {
		set = draw.Strong
	}
	in.paragraph(set, size, text)
	c.beside(in)
	pen := draw.Leader
	switch severity {
	case phrase.Stop:
		pen = draw.Bottom
		c.stroke(pen, geom.Point{X: c.left + 1.6, Y: top + 0.8}, geom.Point{X: c.left + 1.6, Y: c.y})
	case phrase.Caution:
		pen = draw.Caution
	}
	c.stroke(pen, geom.Point{X: c.left + 0.8, Y: top + 0.8}, geom.Point{X: c.left + 0.8, Y: c.y})
	c.gap(0.9)
}
