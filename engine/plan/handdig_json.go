package plan

// handDig is a piece of a bottom that only hands or vacuum dig.
func (w *planWriter) handDig(c Cell) {
	w.text("part", c.Part)
	w.text("service", c.Service)
	w.number("stop", float64(c.Stop))
	w.ring("outline", c.Outline)
}

// inHole says whether shots from inside a dig may be offered.
func (w *planWriter) inHole(id string) {
	ok, why := w.p.InHole(id)
	w.flag("allowed", ok)
	if ok {
		w.null("why")
		return
	}
	w.message("why", why)
}
