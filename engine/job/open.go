package job

import (
	"strconv"

	"spadework/engine/dig"
	"spadework/engine/gradeline"
	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// Open is a trench whose grade the drawing leaves open: what its line must
// keep.
type Open struct {
	Cover  unit.Length   // least, ≥ 0
	From   dig.Reference // the ground that cover counts from
	Falls  gradeline.Falls
	Bends  gradeline.Bends
	At     []unit.Station // of gradeline.AtStations
	Fixed  []gradeline.Fixed
	Passes []gradeline.Pass
}

// open reads what an open grade must keep, nil where the grade is drawn.
func (d *decoder) open(t *table, x *dig.Excavation) *Open {
	o, given := t.inner("open")
	if !given {
		return nil
	}
	d.onlyOpen(t, x)
	out := &Open{Cover: o.notNegative("cover"), From: dig.Existing}
	o.need("cover")
	if o.has("from") {
		out.From = d.from(o)
	} else {
		o.take("from")
	}
	out.Falls = o.falls()
	out.Bends, out.At = o.bends(x)
	for _, f := range o.list("fixed") {
		out.Fixed = append(out.Fixed, gradeline.Fixed{Station: f.station("station"), Invert: f.elevation("invert")})
		f.need("station")
		f.need("invert")
		f.done()
	}
	for _, p := range o.list("passes") {
		out.Passes = append(out.Passes, p.pass())
	}
	o.done()
	return out
}

// onlyOpen faults a grade that is open and drawn as well.
func (d *decoder) onlyOpen(t *table, x *dig.Excavation) {
	if x.Kind != dig.Trench {
		t.fail("open", phrase.New("job.open_kind", phrase.With("kind", string(x.Kind))), phrase.New("job.open_kind.remedy"))
		return
	}
	for _, key := range []string{"bottom", "inverts", "fall", "steps"} {
		if t.has(key) {
			t.fail(key, phrase.New("job.open_drawn", phrase.With("key", key)), phrase.New("job.open_drawn.remedy", phrase.With("key", key)))
			return
		}
	}
	for i, s := range x.Structures {
		if s.InvertIn != nil || s.InvertOut != nil {
			t.fail("structures."+strconv.Itoa(i), phrase.New("job.open_structure", phrase.With("id", s.ID)), phrase.New("job.open_structure.remedy"))
			return
		}
	}
}

// falls reads least_fall and most_fall. A least fall with a minus falls the
// other way; without one the line may fall either way.
func (t *table) falls() gradeline.Falls {
	least, most := t.grade("least_fall"), t.grade("most_fall")
	most = max(most, -most)
	out := gradeline.AnyFall()
	switch {
	case t.has("least_fall") && least >= 0:
		out.Least = least
		if t.has("most_fall") {
			out.Most = most
		}
	case t.has("least_fall"):
		out.Most = least
		if t.has("most_fall") {
			out.Least = -most
		}
	case t.has("most_fall"):
		out = gradeline.Falls{Least: -most, Most: most}
	}
	if out.Least > out.Most && t.r.fault == nil {
		t.fail("most_fall", phrase.New("job.open_falls", phrase.With("least", max(least, -least)), phrase.With("most", most)),
			phrase.New("job.open_falls.remedy"))
	}
	return out
}

// bends reads "none", "points" (those of the line, and its structures),
// "anywhere" or a list of stations.
func (t *table) bends(x *dig.Excavation) (gradeline.Bends, []unit.Station) {
	if n := t.n.get("bends"); n == nil || n.kind != arrayNode {
		switch t.choice("bends", []string{"none", "points", "anywhere"}, 0) {
		case 1:
			return gradeline.AtStations, pointStations(x)
		case 2:
			return gradeline.Anywhere, nil
		}
		return gradeline.Straight, nil
	}
	n := t.take("bends")
	var out []unit.Station
	for _, item := range n.items {
		one := &table{r: t.r, path: t.path, comma: t.comma, n: &node{keys: []entry{{name: "bends", value: item}}}}
		out = append(out, one.station("bends"))
	}
	return gradeline.AtStations, out
}

// pointStations are the stations of a line's points between its ends and of its
// structures.
func pointStations(x *dig.Excavation) []unit.Station {
	var out []unit.Station
	at := 0.0
	for i := 1; i+1 < len(x.Line); i++ {
		at += x.Line[i-1].Distance(x.Line[i])
		out = append(out, unit.Station(at))
	}
	for _, s := range x.Structures {
		out = append(out, s.Station)
	}
	return out
}

// pass reads something that the line must stay over or under.
func (t *table) pass() gradeline.Pass {
	out := gradeline.Pass{ID: t.name("id"), Station: t.station("station"), Over: t.has("over"), Clearance: t.notNegative("clearance")}
	t.need("id")
	t.need("station")
	over, under := t.elevation("over"), t.elevation("under")
	switch {
	case t.has("over") == t.has("under"):
		t.missing("over", phrase.New("job.pass.remedy"))
	case out.Over:
		out.Level = over
	default:
		out.Level = under
	}
	t.done()
	return out
}
