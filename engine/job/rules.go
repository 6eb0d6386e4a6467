package job

import (
	"spadework/engine/geom"
	"spadework/engine/safety"
	"spadework/engine/unit"
)

// Rules is the table [rules]: which safety rules hold and who decides.
type Rules struct {
	Set             string
	CompetentPerson string
	Overrides       []Override
}

// Override is a local value of a rule with its source.
type Override struct{ Rule, Value, Source string }

// Allowed is the table [allowed]: ground for set-ups and for the machine.
type Allowed struct {
	Setups, Machine geom.Ring
	Entry           geom.Point // where the machine comes in and goes out
	Entered         bool       // Entry is told
}

// Trucks is the table [trucks].
type Trucks struct {
	Volume  unit.Volume
	Payload float64 // kilograms
	At      geom.Point
	Placed  bool
	Raised  unit.Length // height of the raised body over the ground, 0 not told
	Radius  unit.Length // its farthest from At, 0 not told
}

func (d *decoder) rules(t *table) Rules {
	sets := safety.Sets()
	out := Rules{Set: sets[t.choice("set", sets, 0)], CompetentPerson: t.text("competent_person")}
	for _, o := range t.list("override") {
		for _, key := range []string{"rule", "value", "source"} {
			o.need(key)
		}
		value, _ := o.scalar("value", "job.kind_text")
		out.Overrides = append(out.Overrides, Override{o.text("rule"), value, o.text("source")})
		o.done()
	}
	t.done()
	return out
}

func (d *decoder) allowed(t *table) Allowed {
	out := Allowed{Setups: t.corners("setups", 3), Machine: t.corners("machine", 3), Entry: t.point("entry"), Entered: t.has("entry")}
	t.done()
	return out
}

func (d *decoder) trucks(t *table) Trucks {
	out := Trucks{Volume: d.volume(t, "volume"), Payload: t.number("payload_kg", 0), At: t.point("at"), Placed: t.has("at"),
		Raised: t.positive("raised"), Radius: t.positive("radius")}
	t.done()
	return out
}
