package job

import (
	"spadework/engine/dig"
	"spadework/engine/phrase"
	"spadework/engine/pipe"
	"spadework/engine/unit"
)

// bottom reads how the drawing gives the bottom. A run with inverts and a box
// with outlets need no bottom of their own.
func (d *decoder) bottom(t *table, x *dig.Excavation) dig.Bottom {
	b, given := t.inner("bottom")
	if !given {
		if len(x.Inverts) == 0 && x.Outlets == nil && !t.has("open") {
			t.missing("bottom", phrase.New("job.missing_bottom.remedy"))
		}
		return dig.Bottom{Rule: dig.ByInvert}
	}
	out := d.bottomRule(b)
	b.done()
	return out
}

// bottomRule reads the one way out of five.
func (d *decoder) bottomRule(b *table) dig.Bottom {
	switch {
	case b.has("elevation"):
		return dig.Bottom{Rule: dig.ByElevation, Elevation: b.elevation("elevation")}
	case b.has("below"):
		return d.below(b)
	case b.has("top"):
		return d.belowTop(b)
	case b.has("cover") && !b.has("invert"):
		return dig.Bottom{Rule: dig.ByCover, Cover: b.positive("cover"), From: d.from(b)}
	}
	b.missing("elevation", phrase.New("job.missing_bottom.remedy"))
	return dig.Bottom{}
}

func (d *decoder) below(b *table) dig.Bottom {
	depth := b.positive("below")
	if !b.has("datum") {
		if !b.has("from") {
			b.missing("datum", phrase.New("job.missing_datum.remedy", phrase.With("datums", d.datumIDs())))
		}
		return dig.Bottom{Rule: dig.BelowGround, Depth: depth, From: d.from(b)}
	}
	return dig.Bottom{Rule: dig.BelowDatum, Depth: depth, Datum: d.datum(b)}
}

func (d *decoder) belowTop(b *table) dig.Bottom {
	out := dig.Bottom{Rule: dig.BelowTop}
	if b.has("datum") {
		out.Datum = d.datum(b)
		out.Offset = b.length("top")
	} else {
		out.Elevation = b.elevation("top")
	}
	out.Thickness = b.positive("thickness")
	b.need("thickness")
	return out
}

// from reads which ground a depth is measured from.
func (d *decoder) from(b *table) dig.Reference {
	words := []string{string(dig.Existing), string(dig.Finished)}
	b.need("from")
	return dig.Reference(words[b.choice("from", words, 0)])
}

// datum looks a datum up by its id.
func (d *decoder) datum(b *table) dig.Datum {
	id := b.name("datum")
	for _, known := range d.job.Datums {
		if known.ID == id {
			return known
		}
	}
	f := phrase.NewFault(
		phrase.New("job.unknown_datum", phrase.With("id", id)),
		phrase.New("job.unknown_datum.remedy", phrase.With("datums", d.datumIDs())))
	f.Code = phrase.NotFound
	b.failFault("datum", f)
	return dig.Datum{ID: id}
}

// datumIDs is the list of the job's datums for a remedy.
func (d *decoder) datumIDs() []string {
	out := make([]string, 0, len(d.job.Datums))
	for _, known := range d.job.Datums {
		out = append(out, known.ID)
	}
	return out
}

// pipe reads { outside, wall } or a pipe of the catalogue, with its nominal
// size.
func (d *decoder) pipe(t *table) (*pipe.Section, unit.Length) {
	p, ok := t.inner("pipe")
	if !ok {
		return nil, 0
	}
	defer p.done()
	if !p.has("standard") {
		section := &pipe.Section{Outside: p.positive("outside"), Wall: p.positive("wall")}
		p.need("outside")
		p.need("wall")
		return section, p.positive("nominal")
	}
	standard, series, nominal := p.text("standard"), p.text("series"), p.positive("nominal")
	entry, ok := pipe.Find(standard, series, nominal)
	if !ok {
		f := phrase.NewFault(
			phrase.New("job.unknown_pipe", phrase.With("standard", standard), phrase.With("series", series), phrase.With("nominal", nominal)),
			phrase.New("job.unknown_pipe.remedy"))
		f.Code = phrase.NotFound
		p.failFault("standard", f)
	}
	return &entry.Section, entry.Nominal
}

// working reads sides_at: "neat" or { working = … }.
func (d *decoder) working(t *table) unit.Length {
	n := t.n.get("sides_at")
	if n == nil || n.kind != tableNode {
		t.choice("sides_at", []string{"neat"}, 0)
		return 0
	}
	w, _ := t.inner("sides_at")
	out := w.notNegative("working")
	w.need("working")
	w.done()
	return out
}

// tolerance reads what the bottom must keep; one length serves above and below.
func (d *decoder) tolerance(t *table) *dig.Tolerance {
	n := t.n.get("tolerance")
	if n == nil {
		t.take("tolerance")
		return nil
	}
	if n.kind != tableNode {
		v := t.notNegative("tolerance")
		return &dig.Tolerance{Above: v, Below: v}
	}
	w, _ := t.inner("tolerance")
	out := &dig.Tolerance{
		Above: w.notNegative("above"), Below: w.notNegative("below"),
		Fall: w.grade("fall"), LevelOver: w.grade("level_over"),
		NoReverse: w.flag("no_reverse", false), Equal: w.notNegative("equal"),
	}
	w.need("above")
	w.need("below")
	w.done()
	return out
}

// sides reads the cut sides: one slope for all, one a side, or benches.
func (d *decoder) sides(t *table) dig.Sides {
	n := t.n.get("sides")
	if n == nil || n.kind != arrayNode {
		return dig.Sides{All: d.side(t, "sides")}
	}
	t.take("sides")
	var out dig.Sides
	for _, item := range n.items {
		one := &table{r: t.r, path: t.sub("sides"), n: &node{keys: []entry{{name: "side", value: item}}}}
		out.Each = append(out.Each, d.side(one, "side"))
	}
	return out
}

// side reads "vertical", "1.5:1" or { batter, benches = [{ height, width }] }.
func (d *decoder) side(t *table, key string) dig.Slope {
	n := t.n.get(key)
	if n == nil || n.kind != tableNode {
		if n == nil {
			t.take(key)
			return dig.Slope{}
		}
		return dig.Slope{Batter: t.batter(key).Ratio()}
	}
	w, _ := t.inner(key)
	var out dig.Slope
	if w.has("batter") {
		out.Batter = w.batter("batter").Ratio()
	}
	for _, b := range w.list("benches") {
		out.Benches = append(out.Benches, dig.Bench{Height: b.positive("height"), Width: b.positive("width")})
		b.done()
	}
	w.done()
	return out
}
