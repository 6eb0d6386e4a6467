package plan

import (
	"spadework/engine/geom"
	"spadework/engine/stands"
)

// stands writes the stands that the job tells and those that are planned.
func (w *planWriter) stands() {
	w.key("stands")
	w.list(func() {
		for _, at := range w.p.toldPlant() {
			w.item()
			w.object(func() { w.toldStand(at) })
		}
		if w.p.Stands == nil {
			return
		}
		for i, row := range w.p.Stands.Rows {
			w.item()
			w.object(func() { w.plannedStand(i, row) })
		}
	})
}

func (w *planWriter) toldStand(at Plant) {
	w.text("id", at.ID)
	w.text("state", "told")
	w.place("at", at.Place.At)
	w.number("bearing", float64(at.Place.Bearing))
	w.textOrNull("machine", at.Machine.ID)
	w.null("setup")
	each(w, "digs", at.Digs, w.word)
	w.null("order", "work", "opened", "heaps", "loaded", "carted", "path")
}

// word writes an item of a list of texts.
func (w *planWriter) word(s string) {
	w.item()
	w.string(s)
}

// each writes a list whose items write themselves.
func each[T any](w *planWriter, name string, list []T, write func(T)) {
	w.key(name)
	w.list(func() {
		for _, x := range list {
			write(x)
		}
	})
}

func (w *planWriter) plannedStand(i int, s Stand) {
	w.text("id", s.ID)
	w.text("state", "planned")
	w.place("at", s.Place.At)
	w.number("bearing", float64(s.Place.Bearing))
	w.text("machine", w.p.Stands.Machine)
	w.textOrNull("setup", s.Setup)
	each(w, "digs", s.Digs, w.word)
	w.whole("order", i+1)
	array(&w.encoder, "work", s.Work, w.work)
	array(&w.encoder, "opened", s.Opened, w.work)
	array(&w.encoder, "heaps", s.Heaps, func(h stands.Heap) {
		w.place("at", h.At)
		w.number("radius", float64(h.Radius))
		w.number("height", float64(h.Height))
		w.number("volume", float64(h.Volume))
	})
	w.number("loaded", float64(s.Loaded))
	w.number("carted", float64(s.Carted))
	each(w, "path", s.Path, w.corner)
}

// corner writes a place as an item of a list.
func (w *planWriter) corner(at geom.Point) {
	w.item()
	q := w.p.Job.Origin.Job(at)
	w.list(func() {
		w.item()
		w.float(q.X)
		w.item()
		w.float(q.Y)
	})
}

func (w *planWriter) work(x Work) {
	w.text("excavation", x.Excavation)
	w.text("part", x.Part)
	w.flag("hand", x.Hand)
	w.textOrNull("setup", x.Setup)
	if x.Run {
		w.pair("stations", float64(x.From), float64(x.To))
	} else {
		w.null("stations")
	}
	each(w, "outline", x.Outline, w.corner)
	array(&w.encoder, "stages", x.Stages, func(s Stage) {
		w.text("stage", string(s.Name))
		w.number("left", float64(s.Left))
	})
}

// standing writes how far the stands are proven, null where none were planned.
func (w *planWriter) standing() {
	s := w.p.Stands
	if s == nil {
		w.null("stands")
		return
	}
	w.key("stands")
	w.object(func() {
		w.whole("count", s.Count)
		w.whole("bound", s.Bound)
		w.flag("proven", s.Proven)
		w.whole("candidates", s.Candidates)
		w.whole("cells", s.Cells)
		w.whole("work", standWork)
		w.number("travel", float64(s.Travel))
		w.place("entry", s.Entry)
		w.flag("entry_told", s.Told)
		each(w, "out", s.Out, w.corner)
		array(&w.encoder, "unserved", s.Missed, w.unserved)
		array(&w.encoder, "not_from_low_end", s.Turned, w.unserved)
	})
}
