package plan

import (
	"spadework/engine/dig"
	"spadework/engine/unit"
)

// quantities writes the sums of the site.
func (w *planWriter) quantities() {
	q := w.p.Quantities
	if q == nil {
		w.null("quantities")
		return
	}
	w.key("quantities")
	w.object(func() {
		var bank *unit.Volume
		if len(q.Unknown) == 0 {
			bank = &q.Bank
		}
		optional(&w.encoder, "bank", bank)
		w.number("bank_known", float64(q.Bank))
		w.number("bound", float64(q.Bound))
		w.number("missing_area", float64(q.Missing))
		w.key("unknown")
		w.list(func() {
			for _, id := range q.Unknown {
				w.item()
				w.string(id)
			}
		})
		optional(&w.encoder, "loose", q.Loose)
		optional(&w.encoder, "backfill_compacted", q.Backfill)
		optional(&w.encoder, "surplus_bank", q.Surplus)
		w.key("surplus")
		w.moved(q.SurplusAs)
		w.number("concrete", float64(q.Concrete))
		w.number("bedding", float64(q.Bedding))
		w.number("blinding", float64(q.Blinding))
		w.number("subbase", float64(q.Subbase))
		w.hours(q.Hours)
		array(&w.encoder, "materials", w.p.Materials(), w.material)
	})
}

// material writes the factors of a material and where they come from.
func (w *planWriter) material(m dig.Material) {
	w.text("id", m.ID)
	w.number("swell", m.Swell)
	w.number("shrinkage", m.Shrinkage)
	w.size("bank_density", m.Density)
	w.size("repose", m.Repose)
	w.textOrNull("digs", string(m.Digs))
	w.message("source", m.From())
}

// moved writes a surplus as it is hauled.
func (w *planWriter) moved(m Moved) {
	w.object(func() {
		w.number("loose", float64(m.Loose))
		w.number("mass", m.Mass)
		w.whole("loads_by_volume", m.Loads.ByVolume)
		w.whole("loads_by_weight", m.Loads.ByWeight)
	})
}

// hours writes a range of digging time, null where there is none.
func (w *planWriter) hours(h dig.Hours) {
	if h.Most == 0 {
		w.null("hours", "hours_untrimmed")
		return
	}
	w.pair("hours", h.Least, h.Most)
	w.number("hours_untrimmed", h.Untrimmed)
}

// earth writes the volumes of one dig; null outside the survey.
func (w *planWriter) earth(e *Earth) {
	if e == nil {
		w.null("volume_bank", "volume_share", "bound", "missing_area", "top_edge", "quantities")
		return
	}
	if e.Known() {
		w.number("volume_bank", float64(e.Bank))
		w.number("volume_share", float64(e.Share))
		w.number("bound", float64(e.Bound))
	} else {
		w.null("volume_bank", "volume_share", "bound")
	}
	w.number("missing_area", float64(e.Missing))
	if e.Top == nil {
		w.null("top_edge")
	} else {
		w.key("top_edge")
		w.list(func() {
			for _, r := range e.Top {
				w.item()
				w.corners(r)
			}
		})
	}
	w.key("quantities")
	w.object(func() { w.bill(e) })
}

// bill writes what goes into a hole and what is left over.
func (w *planWriter) bill(e *Earth) {
	optional(&w.encoder, "concrete", e.Bill.Concrete)
	w.number("blinding", float64(e.Bill.Blinding))
	w.number("subbase", float64(e.Bill.Subbase))
	w.number("bedding", float64(e.Bill.Bedding))
	w.number("pipe", float64(e.Bill.Pipe))
	optional(&w.encoder, "backfill_compacted", e.Bill.Backfill)
	if e.Material != nil {
		w.text("material", e.Material.ID)
	} else {
		w.null("material")
	}
	optional(&w.encoder, "loose", e.Loose)
	optional(&w.encoder, "surplus_bank", e.Surplus)
	w.key("surplus")
	w.moved(e.Hauled)
	w.hours(e.Hours)
	if v := e.ByHand; v != nil {
		w.key("by_hand")
		w.object(func() {
			w.number("end_area", float64(v.EndArea))
			w.number("end_area_tapered", float64(v.Tapered))
			w.number("prismoidal", float64(v.Prismoidal))
		})
	} else {
		w.null("by_hand")
	}
	w.heap(e.Heap)
}

// heap writes where the spoil goes, null where not known.
func (w *planWriter) heap(h *Heap) {
	if h == nil {
		w.null("heap")
		return
	}
	w.key("heap")
	w.object(func() {
		w.whole("side", h.Side)
		w.number("length", float64(h.Length))
		w.number("base", float64(h.Base))
		w.number("height", float64(h.Height))
		w.number("setback", float64(h.Setback))
		optional(&w.encoder, "room", h.Room)
		w.flag("fits", h.Fits)
	})
}
