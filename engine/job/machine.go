package job

import (
	"spadework/engine/geom"
	"spadework/engine/machine"
	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// Body is the machine as the room machine takes it: with the reach of its
// linkage where that is told, else by the figures of its sheet. An envelope not
// known stays the zero one.
func (m Machine) Body() machine.Machine {
	out := machine.Machine{
		ID: m.ID, Type: machine.Type(m.Type), Swing: machine.SwingOf(machine.Type(m.Type), m.SwingLimit),
		Base: machine.Base{
			Length: m.Footprint[1], Width: m.Footprint[0], Behind: m.SwingBehind, TailSwing: m.TailSwing,
			Blade: machine.Blade(m.BladeSide), BladeOut: m.BladeOut, Outriggers: m.Outriggers,
		},
		BoomOffset: m.BoomOffset, Envelope: m.Reach, Highest: m.Highest, Steepest: m.SteepestSlop,
	}
	if top := m.Reach.Highest(); out.Highest == 0 {
		out.Highest = top
	}
	for _, b := range m.Buckets {
		out.Buckets = append(out.Buckets, machine.Bucket(b))
	}
	return out
}

// reach reads what tells a machine's reach: its linkage with the limits of its
// joints, or the figures of its sheet.
func (d *decoder) reach(t *table, m *Machine) {
	sheet := machine.Sheet{
		MaxReach: m.MaxReach, MaxDepth: m.MaxDepth, LevelDepth: t.positive("level_depth"), WallDepth: t.positive("wall_depth"),
		DumpHeight: m.DumpHeight, DumpReach: m.DumpReach, Floors: d.floors(t),
	}
	linkage, given := d.linkage(t)
	var f *phrase.Fault
	key := "floors"
	switch {
	case t.r.fault != nil:
		return
	case given:
		key = "linkage"
		m.Reach, f = linkage.Envelope()
	case len(sheet.Floors) > 0 || sheet.MaxReach > 0 && sheet.MaxDepth > 0:
		m.Reach, f = sheet.Envelope()
	}
	if f != nil {
		d.machineFault(t, key, f)
	}
}

// machineFault places a fault of a reach at the key it comes from.
func (d *decoder) machineFault(t *table, key string, f *phrase.Fault) {
	out := *f
	if key == "floors" && f.Place.Path != "" {
		key = f.Place.Path
	}
	if key == "linkage" && f.Place.Path != "" && t.n.get(key).get(f.Place.Path) != nil {
		key += "." + f.Place.Path
	}
	out.Place = phrase.Place{}
	t.failFault(key, &out)
}

// floors reads floors = [{ depth, near, far }], as a sheet's diagram shows them.
func (d *decoder) floors(t *table) []machine.Floor {
	var out []machine.Floor
	for _, f := range t.list("floors") {
		for _, key := range []string{"depth", "near", "far"} {
			f.need(key)
		}
		out = append(out, machine.Floor{Depth: f.length("depth"), Span: machine.Span{Near: f.notNegative("near"), Far: f.positive("far")}})
		f.done()
	}
	return out
}

// linkage reads linkage = { boom, stick, bucket, … } with the angles of each
// joint, or the pins and strokes of its cylinders.
func (d *decoder) linkage(t *table) (machine.Linkage, bool) {
	l, given := t.inner("linkage")
	if !given {
		return machine.Linkage{}, false
	}
	for _, key := range []string{"boom", "stick", "bucket", "boom_foot_height"} {
		l.need(key)
	}
	out := machine.Linkage{
		Boom: l.positive("boom"), Stick: l.positive("stick"), Bucket: l.positive("bucket"),
		FootForward: l.length("boom_foot_forward"), FootHeight: l.length("boom_foot_height"),
	}
	out.BoomAngles = d.joint(l, "boom", func(c *table) machine.Range { return cylinder(c, false).Angles() })
	out.StickAngles = d.joint(l, "stick", func(c *table) machine.Range { return cylinder(c, true).Angles() })
	out.BucketAngles = d.joint(l, "bucket", func(c *table) machine.Range { return fourBar(c).Angles() })
	l.done()
	return out, true
}

// joint reads the range of a joint, by its angles or by its cylinder.
func (d *decoder) joint(l *table, name string, drive func(*table) machine.Range) machine.Range {
	c, driven := l.inner(name + "_cylinder")
	if driven {
		out := drive(c)
		c.done()
		l.take(name + "_angles")
		return out
	}
	pair := d.pair(l, name+"_angles", "job.kind_angles")
	if pair == nil {
		l.need(name + "_angles")
		return machine.Range{}
	}
	return machine.Range{Low: pair.angle(name + "_angles.0"), High: pair.angle(name + "_angles.1")}
}

// cylinder reads { base, rod, shortest, longest }, pins from the joint's own.
func cylinder(c *table, folds bool) machine.Cylinder {
	out := machine.Cylinder{Stroke: stroke(c), Base: c.pin("base"), Rod: c.pin("rod"), Folds: folds}
	for _, key := range []string{"base", "rod"} {
		c.need(key)
	}
	return out
}

// fourBar reads a bucket's drive, pins from the bucket's own.
func fourBar(c *table) machine.FourBar {
	out := machine.FourBar{Stroke: stroke(c), Base: c.pin("base"), Idler: c.pin("idler"), Pin: c.pin("pin"),
		IdlerLink: c.positive("idler_link"), Connecting: c.positive("connecting_link")}
	for _, key := range []string{"base", "idler", "pin", "idler_link", "connecting_link"} {
		c.need(key)
	}
	return out
}

func stroke(c *table) machine.Stroke {
	out := machine.Stroke{Shortest: c.positive("shortest"), Longest: c.positive("longest")}
	for _, key := range []string{"shortest", "longest"} {
		c.need(key)
	}
	return out
}

// pin reads the place of a pin on its part, [along, across], in lengths.
func (t *table) pin(key string) geom.Vector {
	n := t.take(key)
	if n == nil {
		return geom.Vector{}
	}
	if n.kind != arrayNode || len(n.items) != 2 {
		t.r.wrongKind(n, t.sub(key), "job.kind_pin")
		return geom.Vector{}
	}
	var out [2]unit.Length
	for i, item := range n.items {
		v, err := t.units().Length(item.text)
		t.parseFault(key, err)
		out[i] = v
	}
	return geom.Vector{X: float64(out[0]), Y: float64(out[1])}
}

// angle reads an angle in degrees.
func (t *table) angle(key string) unit.Angle {
	s, ok := t.scalar(key, "job.kind_angle")
	if !ok {
		return 0
	}
	v, err := t.units().Angle(s)
	t.parseFault(key, err)
	return v
}
