package plan

// siting writes how far the planned set-ups are proven, null where none were
// planned. Errors are null where they are not known.
func (w *planWriter) siting() {
	s := w.p.Siting
	if s == nil {
		w.null("setups")
		return
	}
	w.key("setups")
	w.object(func() {
		w.whole("count", s.Count)
		w.whole("bound", s.Bound)
		w.flag("proven", s.Proven)
		w.whole("candidates", s.Candidates)
		w.whole("places", s.Places)
		w.whole("work", int(s.Work))
		if s.Worst == 0 {
			w.null("worst", "worst_bound")
			return
		}
		w.number("worst", s.Worst)
		if s.WorstBound == 0 { // ended early
			w.null("worst_bound")
			return
		}
		w.number("worst_bound", s.WorstBound)
	})
}
