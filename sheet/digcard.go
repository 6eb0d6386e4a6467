package sheet

import (
	"cmp"
	"slices"
	"strings"

	"spadework/engine/beam"
	"spadework/engine/dig"
	"spadework/engine/draw"
	"spadework/engine/geom"
	"spadework/engine/phrase"
	"spadework/engine/plan"
	"spadework/engine/tell"
	"spadework/engine/unit"
)

// cardSize is what the pieces of a card take of the paper, in millimetres.
type cardSize struct {
	body      float64 // type of words
	keyHeight float64 // of the key plan
	section   float64 // height
	big       float64 // of the number, at most
	row       float64 // to write in
}

// A whole page is roomy; half a page holds the same, smaller.
var roomy, dense = cardSize{sizeBody, 34, 64, 15, 9}, cardSize{2.5, 24, 50, 12, 8}

const (
	keyWidth      = 46
	sectionWidth  = 88
	profileHeight = 76
	cardGap       = 3
	writeRow      = 8.5 // height of a row to write in
	leastRow      = 6.5 // the same where room is short: a thick pencil still writes in it
)

// digCard lays one card out: half a page for an area where that has room, else a
// whole one.
func (r *press) digCard(k cardOf) {
	half := (r.whole() - cardGap) / 2
	c := r.pieces(k, dense)
	whole := c.y > half || k.dig.Excavation.Kind.Run()
	if title := r.Text("sheet.dig_cards"); r.col == nil || r.title != title || whole || r.room() < c.y+cardGap {
		r.begin(title, r.Text("sheet.scale_drawn"))
	} else {
		r.col.y = marginTop + headHeight + 2 + half + cardGap/2.0
		r.col.rule(draw.Band) // cut here
		r.col.gap(cardGap / 2.0)
	}
	r.nameCard(k)
	if !whole {
		r.place(c)
		return
	}
	r.wholeCard(k)
	r.close()
}

// wholeCard lays a card out over a page, smaller where that keeps it on one, or
// over more where it is long.
func (r *press) wholeCard(k cardOf) {
	z := roomy
	if r.pieces(k, roomy).y > r.whole() {
		z = dense
	}
	c := newColumn(k.View, marginLeft, r.width())
	c.cardHead(k, z)
	c.cardBody(k, z)
	r.place(c)
	for _, piece := range foot(k, z) {
		c := newColumn(k.View, marginLeft, r.width())
		piece(c)
		r.place(c)
	}
	if k.dig.Excavation.Kind.Run() {
		r.shotTable(k)
	}
}

// pieces is a card in one piece, from y = 0 down.
func (r *press) pieces(k cardOf, z cardSize) *column {
	c := newColumn(k.View, marginLeft, r.width())
	c.cardHead(k, z)
	c.cardBody(k, z)
	for _, piece := range foot(k, z) {
		piece(c)
	}
	return c
}

// cardBody is the drawing with the number.
func (c *column) cardBody(k cardOf, z cardSize) {
	if k.dig.Excavation.Kind.Run() {
		c.runBody(k, z)
		return
	}
	c.areaBody(k, z)
}

// nameCard names the page by its cards in the bookmarks.
func (r *press) nameCard(k cardOf) {
	if r.col.title != "" {
		r.col.title += ", "
	}
	r.col.title += k.title()
}

// cardHead is id, words, set-up and place; the key plan and the code beside them.
func (c *column) cardHead(k cardOf, z cardSize) {
	top := c.y
	right := c.right()
	if side := min(25, z.keyHeight+1); k.Address != "" && c.code(k.Address, geom.Point{X: right - side, Y: top}, side) {
		right -= side + 1
	}
	corner := geom.Point{X: right - keyWidth, Y: top + 1}
	key := draw.KeyPlan(k.plan, draw.Voice(k.View), draw.Frame{Width: keyWidth, Height: z.keyHeight, Type: sizeFoot, OnSheet: true}, k.dig, k.Setup)
	c.put(key, corner)
	c.frame(draw.Fine, geom.BoxOf(corner, corner.Add(geom.Vector{X: keyWidth, Y: z.keyHeight})))
	t := newColumn(c.View, c.left, corner.X-cardGap-c.left)
	t.y = top
	head := k.Excavation
	if k.Stand != "" {
		head = k.Text("sheet.card_stand", phrase.With("stand", k.Stand)) + " · " + head
	}
	t.gap(0.6)
	t.paragraph(draw.Strong, max(4.5, tagSize(head, sizeTitle, t.width)), head) // an id is never cut short
	t.paragraph(draw.Body, z.body, strings.TrimSpace(k.Text(phrase.Key("sheet.kind_"+string(k.dig.Excavation.Kind)))+". "+quoted(k.dig.Excavation.Words)))
	t.gap(0.6)
	t.paragraph(draw.Strong, z.body, k.from())
	t.gap(0.6)
	t.paragraph(draw.Body, z.body, k.where())
	c.beside(t)
	c.y = max(c.y, top+z.keyHeight+1)
	c.gap(1.5)
	c.rule(draw.Fine)
	c.gap(1.5)
}

func quoted(words string) string {
	if words == "" {
		return ""
	}
	return "“" + words + "”"
}

// areaBody is the section with the number beside it.
func (c *column) areaBody(k cardOf, z cardSize) {
	top := c.y
	left := 0.0
	cut := draw.Cut{Plan: k.plan, Dig: k.dig, Setup: k.Setup}
	scene, ok := draw.Section(cut, draw.Voice(k.View), draw.Frame{Width: sectionWidth, Height: z.section, Type: 2.6, OnSheet: true})
	if ok {
		c.put(scene, geom.Point{X: c.left, Y: top})
		left = sectionWidth + cardGap
		c.y = top + scene.Height
	}
	n := newColumn(c.View, c.left+left, c.width-left)
	n.y = top
	n.numbers(k, z)
	n.facts(k, z)
	c.beside(n)
	c.gap(1)
}

// runBody is the profile over the number.
func (c *column) runBody(k cardOf, z cardSize) {
	cut := draw.Cut{Plan: k.plan, Dig: k.dig, Setup: k.Setup}
	if scene, ok := draw.Profile(cut, draw.Voice(k.View), draw.Frame{Width: c.width, Height: profileHeight, Type: 2.6, OnSheet: true}); ok {
		c.put(scene, geom.Point{X: c.left, Y: c.y})
		c.y += scene.Height + 1
	}
	top := c.y
	n := newColumn(c.View, c.left, c.width*0.54)
	n.y = top
	n.numbers(k, z)
	f := newColumn(c.View, c.left+c.width*0.57, c.width*0.43)
	f.y = top
	f.facts(k, z)
	c.beside(n)
	c.beside(f)
	c.gap(1)
}

// mostLines is how many different numbers a card writes out; a run's table has
// them all.
const mostLines = 6

// numbers writes the number, large, or the numbers of its points.
func (c *column) numbers(k cardOf, z cardSize) {
	figures := k.groups()
	if len(figures) == 0 {
		c.paragraph(draw.Strong, sizeFigure, c.Text("sheet.card_no_number"))
		return
	}
	c.paragraph(draw.Body, z.body, c.numberCaption(k))
	if len(figures) == 1 {
		c.single(figures[0].Figure, z)
		return
	}
	if k.dig.Excavation.Kind.Run() && len(figures) > mostLines {
		c.paragraph(draw.Strong, sizeFigure, c.Text("sheet.card_see_table"))
		return
	}
	for i, f := range figures {
		if i == 2*mostLines {
			c.paragraph(draw.Strong, sizeBody, c.Text("sheet.card_more", phrase.With("count", len(figures)-i)))
			return
		}
		c.several(f)
	}
}

// numberCaption says what the number is and on which rod it is read.
func (c *column) numberCaption(k cardOf) string {
	n := k.rows[0]
	text := capital(c.Say(n.Guidance.Number()))
	if n.Guidance == beam.ByRod && n.From == plan.FromBeam && k.set.Rod.ID != "" {
		text += " (" + k.set.Rod.ID + ")"
	}
	if aim := k.aim(); aim != "" {
		text = c.Text("sheet.caption_aim", phrase.With("number", text), phrase.With("aim", aim))
	}
	return text + ":"
}

// aim is how far over or under the bottom the numbers aim, least to most; ""
// where all are at the bottom.
func (c cardOf) aim() string {
	byAim := func(a, b plan.Number) int { return cmp.Compare(c.plan.WorkedTo(a), c.plan.WorkedTo(b)) }
	least, most := c.plan.WorkedTo(slices.MinFunc(c.rows, byAim)), c.plan.WorkedTo(slices.MaxFunc(c.rows, byAim))
	if least == 0 && most == 0 {
		return ""
	}
	v := c.View
	if c.set.Rod.ID != "" {
		v = View(draw.Voice(v).Face(c.set.Rod))
	}
	return between(aimHeight(v, least), aimHeight(v, most))
}

// capital sets the first letter large.
func capital(s string) string {
	for i, r := range s {
		return strings.ToUpper(string(r)) + s[i+len(string(r)):]
	}
	return s
}

// single writes the one number of a card: live with its tag, planned hollow.
func (c *column) single(f draw.Figure, z cardSize) {
	switch f := f.(type) {
	case draw.LiveRod:
		c.live(f, z)
	case draw.PlannedSum:
		c.planned(f)
	case draw.TapedDepth:
		c.gap(1)
		c.bigNumber(draw.Strong, z.big, c.width, draw.Voice(c.View).Depth(f))
		c.line(draw.Body, sizeBody, c.Text("sheet.card_under", phrase.With("point", f.From())))
	}
	c.gap(1.5)
}

// live writes a reading, its tag in a box beside it, or under it where the tag is
// long.
func (c *column) live(f draw.LiveRod, z cardSize) {
	tag := f.Tag()
	size := tagSize(tag, sizeTitle, 0.4*c.width-4)
	w := min(draw.Width(draw.Strong, size, tag)+4, c.width)
	c.gap(1)
	top, room := c.y, c.width
	beside := w <= 0.4*c.width+hair
	if beside {
		room -= w + 3
	}
	c.bigNumber(draw.Strong, z.big, room, draw.Voice(c.View).Reading(f))
	corner := geom.Point{X: c.right() - w, Y: top + 2}
	if !beside {
		c.gap(1)
		corner = geom.Point{X: c.left, Y: c.y}
	}
	c.tag(tag, size, geom.BoxOf(corner, corner.Add(geom.Vector{X: w, Y: size + 3})))
}

// tagSize is the size at which a tag takes a width: at most so large, and never
// smaller than the figures of a table.
func tagSize(tag string, most, width float64) float64 {
	return max(sizeFigure, min(most, most*width/draw.Width(draw.Strong, most, tag)))
}

// tag writes a tag in a box, as on the tripod.
func (c *column) tag(tag string, size float64, b geom.Box) {
	c.frame(draw.Ground, b)
	text := clipped(draw.Strong, size, tag, b.Width()-2)
	c.words(draw.Strong, size, geom.Point{X: b.Centre().X, Y: b.Centre().Y + 0.365*size}, draw.Middle, text)
	c.y = max(c.y, b.Max.Y+1)
}

// planned writes the sum that today's height goes into, hollow, in a dashed box.
func (c *column) planned(f draw.PlannedSum) {
	top := c.y + 1
	in := newColumn(c.View, c.left+2, c.width-4)
	in.y = top + 1
	in.paragraph(draw.Strong, sizeBody, c.Text("sheet.planned_card", phrase.With("setup", f.Tag())))
	in.gap(1)
	in.bigNumber(draw.Outlined, 8, in.width, draw.Voice(c.View).OpenSum(f))
	if c.Style.Face == unit.FaceInches {
		in.gap(1)
		in.paragraph(draw.Body, sizeFoot, c.Text("sheet.planned_inches"))
	}
	c.beside(in)
	c.gap(1.5)
	c.frame(draw.Planned, geom.BoxOf(geom.Point{X: c.left, Y: top}, geom.Point{X: c.right(), Y: c.y}))
}

// several writes one of many numbers with its points.
func (c *column) several(f labelled) {
	top := c.y
	v := draw.Voice(c.View)
	switch f := f.Figure.(type) {
	case draw.LiveRod:
		c.words(draw.Strong, 5, geom.Point{X: c.right(), Y: top + 5.4}, draw.End, Unbroken(v.Reading(f)))
	case draw.PlannedSum:
		c.words(draw.Outlined, 4.4, geom.Point{X: c.right(), Y: top + 5.2}, draw.End, v.OpenSum(f))
	case draw.TapedDepth:
		c.words(draw.Strong, 5, geom.Point{X: c.right(), Y: top + 5.4}, draw.End, Unbroken(v.Depth(f))+" ↓ "+f.From())
	}
	taken := c.Items[len(c.Items)-1]
	room := c.width - draw.Width(taken.Set, taken.Size, taken.Text) - 3
	c.words(draw.Body, sizeBody, geom.Point{X: c.left, Y: top + 5.2}, draw.Start, clipped(draw.Body, sizeBody, f.label, room))
	c.y = top + 7.4
	c.rule(draw.Fine)
}

// facts are bottom, ground, cut and tolerance under each other.
func (c *column) facts(k cardOf, z cardSize) {
	if len(k.rows) == 0 {
		return
	}
	bottom, ground, cut := c.spans(k.rows)
	for _, row := range [][2]string{
		{c.Text("sheet.col_bottom"), bottom}, {c.Text("sheet.col_ground"), ground}, {c.Text("sheet.col_cut"), cut},
		{c.Text("sheet.col_tolerance"), toleranceText(c.View, k.dig)},
	} {
		if row[1] != "" {
			c.fact(row[0], row[1])
		}
	}
}

// spans are bottom, ground and cut of all rows, each one figure or the least and
// the most; a dash where a ground is not known.
func (c *column) spans(rows []plan.Number) (bottom, ground, cut string) {
	byBottom := func(a, b plan.Number) int { return cmp.Compare(a.Bottom, b.Bottom) }
	bottom = between(c.Style.ElevationFigure(slices.MinFunc(rows, byBottom).Bottom), c.Style.ElevationFigure(slices.MaxFunc(rows, byBottom).Bottom))
	if slices.ContainsFunc(rows, func(n plan.Number) bool { return n.Ground == nil }) {
		return bottom, "–", "–"
	}
	byGround := func(a, b plan.Number) int { return cmp.Compare(*a.Ground, *b.Ground) }
	byCut := func(a, b plan.Number) int { return cmp.Compare(*a.Cut, *b.Cut) }
	return bottom, between(c.Style.ElevationFigure(*slices.MinFunc(rows, byGround).Ground), c.Style.ElevationFigure(*slices.MaxFunc(rows, byGround).Ground)),
		between(cutText(c.View, slices.MinFunc(rows, byCut).Cut), cutText(c.View, slices.MaxFunc(rows, byCut).Cut))
}

// fact is a name at the left and its value at the right, a rule under them.
func (c *column) fact(name, value string) {
	room := c.width - draw.Width(draw.Body, sizeBody, name) - 3
	for _, l := range wrapped(draw.Strong, sizeFigure, value, room) {
		c.y += sizeFigure * leading
		c.words(draw.Strong, sizeFigure, geom.Point{X: c.right(), Y: c.y - 0.8}, draw.End, l)
	}
	c.words(draw.Body, sizeBody, geom.Point{X: c.left, Y: c.y - 0.8}, draw.Start, name)
	c.gap(0.4)
	c.rule(draw.Fine)
}

// foot is the pieces under the number: the arithmetic, the cautions and, of an
// area, room for the shots.
func foot(k cardOf, z cardSize) []func(c *column) {
	var out []func(c *column)
	for _, text := range k.sums() {
		out = append(out, func(c *column) { c.paragraph(draw.Body, z.body, text) })
	}
	out = append(out, func(c *column) { c.gap(1) })
	s := &Sheet{View: k.View}
	for _, f := range k.cautions {
		out = append(out, func(c *column) { c.finding(s.finding(f), f.Severity, z.body) })
	}
	if !k.dig.Excavation.Kind.Run() {
		out = append(out, func(c *column) { c.shots(k, z) })
	}
	return out
}

// mostShots is how many points stand in one row of boxes.
const mostShots = 8

// shots are boxes to write in: the points of the area, who and when.
func (c *column) shots(k cardOf, z cardSize) {
	var names []string
	for _, pt := range k.dig.Points(k.plan.Job.Interval) {
		if pt.Kind == dig.Centre || pt.Kind == dig.Corner {
			names = append(names, tell.PartPrefix(tell.View(c.View), plan.Number{NumberPoint: pt})+tell.KindText(tell.View(c.View), pt))
		}
	}
	c.gap(0.8)
	for row := range slices.Chunk(append(names, c.Text("sheet.col_by_time")), mostShots) {
		c.boxes(row, min(mostShots, len(names)+1), z)
	}
	c.gap(1)
}

// boxes is one row of boxes under their names, each a share of the width.
func (c *column) boxes(names []string, shares int, z cardSize) {
	w, top := c.width/float64(shares), c.y
	for i, name := range names {
		corner := geom.Point{X: c.left + float64(i)*w, Y: top}
		c.frame(draw.Leader, geom.BoxOf(corner, corner.Add(geom.Vector{X: w, Y: z.row + 3.4})))
		c.words(draw.Body, sizeFoot, corner.Add(geom.Vector{X: 0.8, Y: 0.6 + sizeFoot}), draw.Start, clipped(draw.Body, sizeFoot, name, w-1.4))
	}
	c.y = top + z.row + 3.4
}

// shotTable is the table of a run with room to write shots.
func (r *press) shotTable(k cardOf) {
	if len(k.rows) == 0 {
		return
	}
	t := &Table{Columns: []Column{k.column("station"), k.View.figures("ground"), k.View.figures("bottom"), k.main("number"), k.View.figures("cut"),
		{Head: k.Text("sheet.col_shot"), Write: true}, {Head: k.Text("sheet.col_by_time"), Write: true}}}
	for _, n := range k.rows {
		f := draw.WorkFigureOf(k.plan, n)
		text := draw.Voice(k.View).Figure(f)
		add := t.Add
		if p, planned := f.(draw.PlannedSum); planned {
			add, text = t.addPlanned, draw.Voice(k.View).OpenSum(p)
		}
		add(tell.PointText(tell.View(k.View), n), elevationOrDash(k.View, n.Ground), k.Style.ElevationFigure(n.Bottom), text, cutText(k.View, n.Cut), "", "")
	}
	r.table(t, r.rowThatEnds(t))
}
