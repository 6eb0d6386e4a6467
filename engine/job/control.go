package job

import (
	"spadework/engine/dig"
	"spadework/engine/geom"
	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// datumOf reads [[datum]].
func (d *decoder) datumOf(t *table) dig.Datum {
	out := dig.Datum{ID: d.id(t, "datum"), Elevation: t.elevation("elevation")}
	t.need("elevation")
	t.done()
	return out
}

// benchmark reads [[benchmark]].
func (d *decoder) benchmark(t *table) Benchmark {
	out := Benchmark{
		ID: d.id(t, "benchmark"), At: t.point("at"), Placed: t.has("at"),
		Elevation: t.elevation("elevation"), Sigma: t.notNegative("sigma"), Hard: t.flag("hard", false),
		GivenBy: t.text("given_by"), CheckedBy: t.text("checked_by"),
		table: t,
	}
	t.need("elevation")
	t.done()
	return out
}

// control reads [[control]].
func (d *decoder) control(t *table) Control {
	out := Control{ID: d.id(t, "control"), At: t.point("at"), Elevation: optionalElevation(t, "elevation")}
	t.need("at")
	t.done()
	return out
}

// hub reads [[hub]].
func (d *decoder) hub(t *table) Hub {
	out := Hub{
		ID: d.id(t, "hub"), Excavation: t.name("excavation"), Station: t.station("station"),
		Offset: t.notNegative("offset"), Elevation: t.elevation("elevation"), String: t.positive("string"),
		table: t,
	}
	for _, key := range []string{"excavation", "elevation"} {
		t.need(key)
	}
	t.done()
	return out
}

// mark finds the place of a benchmark, control point or, given as [x, y], of a
// stake without a name, which is called by its place as written.
func (d *decoder) mark(t *table, key string) (string, geom.Point) {
	if n := t.n.get(key); n != nil && n.kind == arrayNode {
		return n.describe(), t.point(key)
	}
	id := t.name(key)
	for _, b := range d.job.Benchmarks {
		if b.ID == id && b.Placed {
			return id, b.At
		}
	}
	for _, c := range d.job.Controls {
		if c.ID == id {
			return id, c.At
		}
	}
	f := phrase.NewFault(phrase.New("job.unknown_mark", phrase.With("id", id)), phrase.New("job.unknown_mark.remedy"))
	f.Code = phrase.NotFound
	t.failFault(key, f)
	return id, geom.Point{}
}

// level finds the elevation of a benchmark, control point or datum.
func (d *decoder) level(t *table, key string) (string, unit.Elevation) {
	id := t.name(key)
	for _, b := range d.job.Benchmarks {
		if b.ID == id {
			return id, b.Elevation
		}
	}
	for _, c := range d.job.Controls {
		if c.ID == id && c.Elevation != nil {
			return id, *c.Elevation
		}
	}
	for _, known := range d.job.Datums {
		if known.ID == id {
			return id, known.Elevation
		}
	}
	f := phrase.NewFault(phrase.New("job.unknown_level", phrase.With("id", id)), phrase.New("job.unknown_level.remedy"))
	f.Code = phrase.NotFound
	t.failFault(key, f)
	return id, 0
}
