package safety

import (
	"slices"

	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// Soil is a class of 29 CFR 1926 Subpart P App. A; the zero Soil is not known.
type Soil string

// The classes, strongest first.
const (
	Rock  Soil = "rock"
	TypeA Soil = "A"
	TypeB Soil = "B"
	TypeC Soil = "C"
)

// soils is the classes by falling strength.
func soils() []Soil { return []Soil{Rock, TypeA, TypeB, TypeC} }

// known says that s is one of the classes.
func (s Soil) known() bool { return slices.Contains(soils(), s) }

// weaker is the weaker of two classes; one that is not known is the weakest.
func weaker(s, o Soil) Soil {
	rank := func(s Soil) int {
		if i := slices.Index(soils(), s); i >= 0 {
			return i
		}
		return len(soils())
	}
	if rank(o) > rank(s) {
		return o
	}
	return s
}

// Ground is what is known of the soil a dig stands in.
type Ground struct {
	Soil      Soil
	Fissured  Answer
	Vibration Answer // traffic, piling, compaction plant
	Disturbed Answer // dug before
	Water     Answer // seeping, standing or submerged
	Running   Answer // ground that runs or flows in
	Cohesive  Answer
	Layers    []Layer // from the top, if it is not one soil; Soil is then not read
}

// Layer is one soil of several.
type Layer struct {
	Soil      Soil
	Thickness unit.Length // > 0; the last counts on to any depth
}

// Class is the soil to count with and what brought it down to that, the worst
// wherever something is not known.
type Class struct {
	Soil    Soil
	Told    bool // a class was given
	Because []phrase.Message
	Missing []string // names of Ground's fields not known: "soil", "fissured" …
}

// Classify is the class of a ground: the given one; never A if fissured,
// vibrated or disturbed; C if water seeps or it is submerged; the weakest of
// several layers; C where it is not known (29 CFR 1926 Subpart P App. A). Rock
// that is not known to be whole, still, undisturbed and dry counts as C.
func Classify(g Ground) Class {
	given := g.Soil
	for i, l := range g.Layers {
		if i == 0 {
			given = l.Soil
		}
		given = weaker(given, l.Soil)
	}
	return g.classify(given)
}

// classify brings one soil down by the conditions of its ground.
func (g Ground) classify(given Soil) Class {
	c := Class{Soil: given, Told: given.known()}
	if !c.Told {
		c.Soil = TypeC
		c.Missing = append(c.Missing, "soil")
		c.because("soil_unknown")
	}
	for _, cond := range []struct {
		name   string
		answer Answer
		to     Soil
	}{
		{"fissured", g.Fissured, TypeB}, {"vibration", g.Vibration, TypeB},
		{"disturbed", g.Disturbed, TypeB}, {"water", g.Water, TypeC},
	} {
		if cond.answer == Unknown {
			c.Missing = append(c.Missing, cond.name)
		}
		if cond.answer == No {
			continue
		}
		if given == Rock {
			cond.to = TypeC
		}
		if weaker(c.Soil, cond.to) != c.Soil {
			c.Soil = cond.to
			c.because(cond.name)
		}
	}
	return c
}

func (c *Class) because(name string) {
	c.Because = append(c.Because, phrase.New(phrase.Key("safety.because."+name)))
}

// ClassOfStrength is A, B or C for an unconfined compressive strength in tons
// per square foot: A from 1.5, B over 0.5, else C; C for NaN.
func ClassOfStrength(b Book, tsf float64) Soil {
	switch {
	case tsf >= b.rule("strength_a").Limit.Number:
		return TypeA
	case tsf > b.rule("strength_b").Limit.Number:
		return TypeB
	}
	return TypeC
}
