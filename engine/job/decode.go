package job

import (
	"slices"

	"spadework/engine/geom"
	"spadework/engine/phrase"
)

// decoder turns a document into a Job.
type decoder struct {
	reader
	job   *Job
	files Files
	ids   map[string][]string // by kind, in the order given
	seen  map[string]map[string]phrase.Place
	turns map[string]geom.Point // turning points read so far
	asked []string              // the keys of the excavation being read, used again for the next
}

// Decode gives a document its meaning. The first thing wrong is returned as a
// fault; nothing is decoded by halves.
func (doc *Document) Decode(files Files) (*Job, *phrase.Fault) {
	d := &decoder{
		reader: reader{src: doc.src},
		job:    &Job{},
		files:  files,
		ids:    map[string][]string{},
		seen:   map[string]map[string]phrase.Place{},
	}
	d.document(&table{r: &d.reader, n: doc.tree})
	if d.fault != nil {
		return nil, d.fault
	}
	return d.job, nil
}

// document reads the tables in the order in which they need each other.
func (d *decoder) document(t *table) {
	d.knownTables(t)
	head, given := t.inner("job")
	if !given {
		t.missing("job", phrase.New("job.missing_head.remedy"))
	}
	d.units(head)
	d.findOrigin(t)
	d.head(head)
	d.job.Datums = readAll(t, "datum", d.datumOf)
	d.job.Benchmarks = readAll(t, "benchmark", d.benchmark)
	d.job.Controls = readAll(t, "control", d.control)
	d.job.Existing = d.ground(t, "ground")
	d.job.Finished = d.ground(t, "finished")
	d.equipment(t)
	d.job.Conditions = d.conditions(t, Conditions{})
	d.materials(t)
	d.job.Excavations = readAll(t, "excavation", d.excavation)
	for _, s := range t.list("schedule") {
		d.schedule(s)
	}
	d.job.Hubs = readAll(t, "hub", d.hub)
	d.job.Setups = readAll(t, "setup", d.setup)
	d.neighbours(t)
	d.standing(t)
	d.policies(t)
	d.references()
}

// documentTables are the tables a job file may have.
var documentTables = []string{
	"job", "datum", "benchmark", "control", "ground", "finished", "excavation", "schedule", "hub", "laser", "receiver",
	"rod", "machine", "setup", "utility", "structure", "obstacle", "keepout", "overhead", "rules", "risk", "closes",
	"allowed", "trucks", "conditions", "material", "spoil", "practice", "site", "entry", "heap", "stand", "crossing",
	"underlay",
}

// knownTables faults a table nobody reads before anything that misses it.
func (d *decoder) knownTables(t *table) {
	all := &table{r: t.r, n: t.n, used: slices.Clone(documentTables)}
	all.done()
}

func (d *decoder) equipment(t *table) {
	d.job.Lasers = readAll(t, "laser", d.laser)
	d.job.Receivers = readAll(t, "receiver", d.receiver)
	d.job.Rods = readAll(t, "rod", d.rod)
	d.job.Machines = readAll(t, "machine", d.machine)
}

func (d *decoder) neighbours(t *table) {
	d.job.Utilities = readAll(t, "utility", d.utility)
	d.job.Structures = readAll(t, "structure", d.structure)
	d.job.Obstacles = readAll(t, "obstacle", d.obstacle)
	d.job.Keepouts = readAll(t, "keepout", d.keepout)
	d.job.Overheads = readAll(t, "overhead", d.overhead)
}

// standing reads what somebody told of the site as it is.
func (d *decoder) standing(t *table) {
	d.job.Site = readOne(t, "site", d.siteFacts)
	d.job.Heaps = readAll(t, "heap", d.heap)
	d.job.Stands = readAll(t, "stand", d.stand)
	d.job.Crossings = readAll(t, "crossing", d.crossing)
	d.job.Entries = readAll(t, "entry", d.entry)
	d.job.Underlays = readAll(t, "underlay", d.underlay)
}

func (d *decoder) policies(t *table) {
	d.job.Rules = readOne(t, "rules", d.rules)
	d.job.Risk = readOne(t, "risk", d.risk)
	d.job.Practice = readOne(t, "practice", d.practice)
	d.job.Closes = readOne(t, "closes", d.closes)
	d.job.Allowed = readOne(t, "allowed", d.allowed)
	d.job.Trucks = readOne(t, "trucks", d.trucks)
	d.job.Spoil = readOne(t, "spoil", d.spoil)
}

// readAll reads every table of a list.
func readAll[T any](t *table, key string, read func(*table) T) []T {
	list := t.list(key)
	if len(list) == 0 {
		return nil
	}
	out := make([]T, 0, len(list))
	for _, item := range list {
		if t.r.fault != nil {
			return out
		}
		out = append(out, read(item))
	}
	return out
}

// readOne reads a table that may be absent.
func readOne[T any](t *table, key string, read func(*table) T) T {
	n, _ := t.inner(key)
	return read(n)
}

// id reads the id of a thing and faults one that its kind already has.
func (d *decoder) id(t *table, kind string) string { return d.idAt(t, kind, "id") }

func (d *decoder) idAt(t *table, kind, key string) string {
	id := t.name(key)
	if id == "" {
		t.need(key)
		if t.r.fault == nil {
			t.fail(key, phrase.New("job.empty_id"), phrase.New("job.empty_id.remedy"))
		}
		return ""
	}
	if d.seen[kind] == nil {
		d.seen[kind] = map[string]phrase.Place{}
	}
	if first, twice := d.seen[kind][id]; twice {
		f := phrase.NewFault(
			phrase.New("job.id_twice", phrase.With("kind", kindText(kind)), phrase.With("id", id), phrase.With("first", first.String())),
			phrase.New("job.id_twice.remedy", phrase.With("id", id)))
		f.Code = phrase.Conflict
		t.failFault(key, f)
		return id
	}
	d.seen[kind][id] = t.place(key)
	d.ids[kind] = append(d.ids[kind], id)
	return id
}

// findOrigin takes the whole metre nearest to the first benchmark with a place,
// or to the first place of the document.
func (d *decoder) findOrigin(t *table) {
	n := firstPlace(t.n.get("benchmark"))
	if n == nil {
		n = firstPlace(t.n)
	}
	if n == nil {
		return
	}
	x := d.coordinate(n.items[0], "at", false)
	y := d.coordinate(n.items[1], "at", false)
	d.job.Origin = Origin{X: wholeMetre(x), Y: wholeMetre(y)}
	d.origin = d.job.Origin
}

// firstPlace is the first at = [x, y] at or under a node, in document order.
func firstPlace(n *node) *node {
	if n == nil {
		return nil
	}
	if at := n.get("at"); at != nil && at.kind == arrayNode && len(at.items) == 2 {
		return at
	}
	for _, e := range n.keys {
		if e.value.kind == tableNode || e.value.tables {
			if at := firstPlace(e.value); at != nil {
				return at
			}
		}
	}
	for _, item := range n.items {
		if at := firstPlace(item); at != nil {
			return at
		}
	}
	return nil
}

// references checks the ids that digs, hubs and set-ups give of each other.
func (d *decoder) references() {
	for _, x := range d.job.Excavations {
		for _, id := range x.Before {
			d.refer(x.table, "before", "excavation", id)
		}
	}
	for _, h := range d.job.Hubs {
		d.refer(h.table, "excavation", "excavation", h.Excavation)
	}
	for _, s := range d.job.Setups {
		for _, id := range s.Serves {
			d.refer(s.table, "serves", "excavation", id)
		}
		if s.Dial != nil {
			for _, id := range s.Dial.For {
				d.refer(s.table, "dial.for", "excavation", id)
			}
		}
	}
	d.pourOrder()
}

// pourOrder faults digs that wait for each other.
func (d *decoder) pourOrder() {
	const (
		open = iota + 1
		done
	)
	state := map[string]int{}
	byID := map[string]*Excavation{}
	for i := range d.job.Excavations {
		byID[d.job.Excavations[i].ID] = &d.job.Excavations[i]
	}
	var visit func(x *Excavation, path []string)
	visit = func(x *Excavation, path []string) {
		path = append(path, x.ID)
		if state[x.ID] == open && d.fault == nil {
			f := phrase.NewFault(
				phrase.New("job.before_ring", phrase.With("ids", path[slices.Index(path, x.ID):])),
				phrase.New("job.before_ring.remedy"))
			f.Code = phrase.Conflict
			x.table.failFault("before", f)
		}
		if state[x.ID] != 0 || d.fault != nil {
			return
		}
		state[x.ID] = open
		for _, id := range x.Before {
			visit(byID[id], path)
		}
		state[x.ID] = done
	}
	for i := range d.job.Excavations {
		visit(&d.job.Excavations[i], nil)
	}
}
