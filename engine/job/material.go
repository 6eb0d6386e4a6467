package job

import (
	"math"

	"spadework/engine/dig"
	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// Spoil is the table [spoil]: what is dug where a dig does not tell, and how far
// from the edge heaps stay.
type Spoil struct {
	Material string
	Setback  unit.Length // from the top edge, 0 not given
}

// materials takes the published list and reads [[material]], which goes before
// it: the crew's own figures with their source.
func (d *decoder) materials(t *table) {
	own := readAll(t, "material", d.material)
	d.job.Materials = own
	for _, m := range dig.Materials() {
		if _, known := d.seen["material"][m.ID]; !known {
			d.note("material", m.ID)
			d.job.Materials = append(d.job.Materials, m)
		}
	}
}

// note makes an id known that no table gives.
func (d *decoder) note(kind, id string) {
	if d.seen[kind] == nil {
		d.seen[kind] = map[string]phrase.Place{}
	}
	d.seen[kind][id] = phrase.Place{}
	d.ids[kind] = append(d.ids[kind], id)
}

// material reads [[material]].
func (d *decoder) material(t *table) dig.Material {
	out := dig.Material{ID: d.id(t, "material"), Source: t.text("source")}
	for _, key := range []string{"swell", "source"} {
		t.need(key)
	}
	out.Swell = t.share("swell", 0, 2)
	out.Shrinkage = t.share("shrinkage", -1, 0.5)
	out.Density = t.numberIn("bank_density", 0, 5000)
	out.Repose = t.numberIn("repose", 0, 60) * math.Pi / 180
	kinds := []string{string(dig.DigsAsSoil), string(dig.DigsAsClay), string(dig.DigsAsRock)}
	if i := t.choice("digs", kinds, -1); i >= 0 {
		out.Digs = dig.Digging(kinds[i])
	}
	t.done()
	return out
}

// share reads a percentage between two shares: "25 %".
func (t *table) share(key string, least, most float64) float64 {
	v := float64(t.grade(key))
	t.bounded(key, v, least, most)
	return v
}

// numberIn reads a number over the least and up to the most; absent it is 0.
func (t *table) numberIn(key string, least, most float64) float64 {
	v := t.number(key, 0)
	t.bounded(key, v, least, most)
	return v
}

// bounded faults a figure outside its bounds, which is a slip of the unit.
func (t *table) bounded(key string, v, least, most float64) {
	if n := t.n.get(key); n != nil && t.r.fault == nil && !(v >= least && v <= most) {
		t.fail(key, phrase.New("job.out_of_bounds", phrase.With("key", key), phrase.With("value", n.describe()),
			phrase.With("least", least), phrase.With("most", most)), phrase.New("job.out_of_bounds.remedy", phrase.With("key", key)))
	}
}

// spoil reads [spoil].
func (d *decoder) spoil(t *table) Spoil {
	out := Spoil{Material: t.name("material"), Setback: t.notNegative("setback")}
	d.refer(t, "material", "material", out.Material)
	t.done()
	return out
}
