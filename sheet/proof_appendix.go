package sheet

import (
	"slices"

	"spadework/engine/draw"
	"spadework/engine/geom"
	"spadework/engine/phrase"
	"spadework/engine/record"
	"spadework/engine/tell"
	"spadework/engine/unit"
)

// appendix is every shot with its uncertainty and chance of conformity, then what
// the proof can be held against.
func (r *proof) appendix() {
	r.begin(r.Text("proven.appendix"), "")
	r.words(draw.Body, sizeBody, 0, r.Text("proven.appendix_words"))
	r.col.gap(1.5)
	t := &Table{Columns: []Column{r.column("dig"), r.column("tag"), r.column("time"), r.column("person"), r.figures("wanted"), r.figures("height"),
		r.View.words("deviation"), r.figures("tolerance"), r.figures("expanded"), r.figures("in"), r.View.words("verdict")}}
	for _, d := range r.inOrder() {
		for _, pt := range d.Proofs {
			t.Add(placeOf(r.View, d.Excavation, pt.Part, pt.Point, pt.Station), orDash(pt.Tag), stampText(pt.Time), pt.Person,
				r.Style.ElevationFigure(pt.Wanted), r.Style.ElevationFigure(pt.Height), r.Say(tell.OffText(tell.LogFace(r.plan, tell.View(r.View)), pt.Deviation)),
				r.band(pt), spread(r.View, pt.Expanded()), r.marked(pt), r.pointWords(d, pt))
		}
	}
	r.listed("proven.shots", t, "sheet.no_shots")
	if slices.ContainsFunc(r.digs, func(d record.DigProof) bool {
		return slices.ContainsFunc(d.Proofs, func(p record.PointProof) bool { return p.Rejudged })
	}) {
		r.words(draw.Body, sizeBody, 0, r.Text("proven.rejudged"))
	}
	if f := r.unwatched; f != nil {
		r.words(draw.Body, sizeBody, 0, r.Text("proven.unwatched", phrase.With("why", f.What)))
	}
	r.chain()
}

// pointWords is the verdict of a point as the log's own sheet has it.
func (r *proof) pointWords(d record.DigProof, pt record.PointProof) string {
	s := &Sheet{View: r.View}
	return s.pointVerdict(r.plan, d.DigState, pt.PointState)
}

// marked is the chance of conformity, with a mark where the shot was judged again.
func (r *proof) marked(pt record.PointProof) string {
	out := chance(r.View, pt.Chance)
	if pt.Rejudged {
		out += "*"
	}
	return out
}

// chain is the digest of the record, device by device, and the files read.
func (r *proof) chain() {
	t := &Table{Columns: []Column{r.column("device"), r.figures("records"), r.View.words("chain"), r.View.words("newest")}}
	for _, c := range r.chains {
		state := r.Text("proven.chain_whole")
		if n := len(c.Breaks); n > 0 {
			state = r.Text("proven.chain_broken", phrase.With("count", n))
		}
		t.Add(c.Device, r.Style.Number(float64(c.Count)), state, c.Head.Hash.String())
	}
	r.listed("proven.chain", t, "sheet.log_empty")
	r.words(draw.Body, sizeBody, 0, r.Text("proven.digest", phrase.With("digest", record.Digest(r.Records).String())))
	r.words(draw.Body, sizeBody, 0, r.Text("sheet.chain_limit"))
	f := &Table{Columns: []Column{r.column("file"), r.View.words("digest")}}
	for _, one := range r.Files {
		f.Add(one.Name, one.SHA256.String())
	}
	r.listed("proven.files", f, "proven.no_files")
	r.words(draw.Body, sizeBody, 0, r.Text("proven.verify"))
}

// tickets are the extra work, on pages of their own, each to be agreed to.
func (r *proof) tickets() {
	n := 0
	for _, l := range r.state.Log {
		p, ok := l.Payload.(*record.Ticket)
		if !ok {
			continue
		}
		if n++; n == 1 {
			r.begin(r.Text("proven.tickets"), "")
			r.words(draw.Body, sizeBody, 0, r.Text("proven.tickets_words"))
		}
		r.ticket(n, l, p)
	}
}

// ticket is one piece of extra work with room to agree to it.
func (r *proof) ticket(n int, l record.Line, p *record.Ticket) {
	c := newColumn(r.View, marginLeft, r.width())
	c.gap(3)
	c.paragraph(draw.Strong, sizeHead, r.taken(l, r.Text("proven.ticket", phrase.With("number", n), phrase.With("for", phrase.New(phrase.Key("proven.for_"+p.For))),
		phrase.With("dig", orDash(p.Excavation)))))
	c.paragraph(draw.Body, sizeBody, r.Text("proven.ticket_by", phrase.With("person", l.Person), phrase.With("time", stampText(l.Time)), phrase.With("words", p.Words)))
	c.paragraph(draw.Body, sizeBody, r.Text("proven.ticket_figures", phrase.With("hours", r.hours(p.Hours)),
		phrase.With("before", r.volume(p.Before)), phrase.With("after", r.volume(p.After)), phrase.With("more", r.more(p))))
	c.gap(9)
	c.stroke(draw.Ink, geom.Point{X: c.left, Y: c.y}, geom.Point{X: c.left + 0.6*c.width, Y: c.y})
	c.gap(0.6)
	c.paragraph(draw.Body, sizeFoot, r.Text("proven.ticket_agreed"))
	r.place(c)
}

func (r *proof) hours(h *float64) string {
	if h == nil {
		return "–"
	}
	return r.Style.Number(*h)
}

func (r *proof) volume(v *unit.Volume) string {
	if v == nil {
		return "–"
	}
	return r.Style.Volume(*v)
}

// more is what came to the dig, where both volumes are told.
func (r *proof) more(p *record.Ticket) string {
	if p.Before == nil || p.After == nil {
		return "–"
	}
	return r.Style.Volume(*p.After - *p.Before)
}
