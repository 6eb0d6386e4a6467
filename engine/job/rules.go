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

// Risk is the table [risk].
type Risk struct {
	Chance             unit.Chance // wanted least chance that a bottom is in, 0 not given
	OverDig            unit.Chance // chosen chance of over-dig at the first pass, 0 not given
	BumpsPerDay        float64
	Jump               unit.Length
	Tilt               unit.Grade
	CostOver, CostTrim float64 // per cubic metre of over-dig; per trimming
	Currency           string
}

// Closes is the table [closes]: when the rod is read back.
type Closes struct {
	EveryDigs    int
	EveryMinutes float64
	On           []string // benchmarks or beam marks
	Benchmarks   int      // that a set-up must see
}

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

func (d *decoder) risk(t *table) Risk {
	out := Risk{
		Chance: t.chance("chance"), OverDig: t.chance("over_dig"), BumpsPerDay: t.number("bumps_per_day", 0),
		Jump: t.notNegative("jump"), Tilt: t.accuracy("tilt"),
		CostOver: t.cost("cost_over"), CostTrim: t.cost("cost_trim"), Currency: t.text("currency"),
	}
	t.done()
	return out
}

func (d *decoder) closes(t *table) Closes {
	out := Closes{
		EveryDigs: t.count("every_digs", 0), EveryMinutes: t.number("every_minutes", 0),
		On: t.names("on"), Benchmarks: t.count("benchmarks", 1),
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
