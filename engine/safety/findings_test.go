package safety

import (
	"math"
	"slices"
	"testing"

	"spadework/engine/geom"
	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// ft is a known length in feet.
func ft(x float64) *unit.Length {
	l := unit.Length(x) * unit.Foot
	return &l
}

// in is a known length in inches.
func in(x float64) *unit.Length {
	l := unit.Length(x) * unit.Inch
	return &l
}

// of is a known value.
func of[T any](v T) *T { return &v }

// book is a rule set that must be there.
func book(t *testing.T, set string, overrides ...Override) Book {
	t.Helper()
	b, err := Rules(set, overrides...)
	if err != nil {
		t.Fatalf("Rules(%q, %v) = %v, want no fault", set, overrides, err)
	}
	return b
}

const today = "2026-05-04"

// complete is a site of which everything is known and nothing breaks a rule: a
// vertical trench 3.9 ft deep in type B soil, everything else beside it kept.
func complete() Facts {
	return Facts{
		Today: today, Competent: "A. Digger",
		Entries: []Entry{{Who: "A. Digger", At: today + "T07:10", Saw: "dry, no cracks"}},
		Locate:  Locate{Ticket: "T-1", MarkedOn: "2026-05-01", Expires: "2026-05-15", Private: Yes},
		Duties:  Duties{Encumbrances: Yes, Vests: Yes, NobodyUnder: Yes},
		Digs: []Dig{{
			ID: "T1", Kind: "trench", Bottom: of(unit.Elevation(30)), Depth: ft(3.9), Least: ft(3), Width: ft(2), Length: ft(40),
			Sides: []Side{{}}, People: Yes, Surcharge: No, OpenHours: of(8.0), WayOut: ft(20), Support: Support{Kind: Unsupported},
			Ground:    Ground{Soil: TypeB, Fissured: No, Vibration: No, Disturbed: No, Water: No, Running: No, Cohesive: Yes},
			AirHazard: No, Drained: Yes, LooseRock: No, EdgeMarked: Yes, Bears: Yes, Slope: of(unit.Grade(0)), Frosty: Yes, Frost: ft(2.5),
		}},
		Footings: []Footing{{ID: "N1", Dig: "T1", Bearing: of(unit.Elevation(30).Plus(*ft(3))), Distance: ft(6), Granular: Yes}},
		Services: []Service{{
			ID: "W1", Kind: "water", Line: []geom.Point{{X: 0, Y: 0}, {X: 10, Y: 0}}, Size: in(2), Private: Yes,
			Exposed: &Exposed{By: "B. Rodman", Top: of(unit.Elevation(31))}, Near: []Approach{{Dig: "T1", Distance: ft(10)}},
		}},
		Overheads: []Overhead{{ID: "L1", Kilovolts: of(13.8), Height: ft(30), On: Pole}},
		Reaches:   []Reach{{Line: "L1", What: Machine, Stand: "1", Distance: ft(60), Top: ft(24), Radius: ft(25)}},
		Heaps:     []Heap{{ID: "H1", Dig: "T1", Edge: ft(3)}},
		Stands:    []Stand{{ID: "1", Dig: "T1", Edge: ft(3)}},
		Crossings: []Crossing{{ID: "C1", Dig: "T1", Height: ft(3), Rails: No}},
		Lasers: []Laser{{Setup: "A1", Walked: Yes, Lowest: ft(6.2), Highest: ft(6.8), Signs: Yes, Attended: Yes,
			Trained: Yes, Foul: No}},
	}
}

// serious is the findings above a note.
func serious(findings []phrase.Finding) []phrase.Finding {
	return slices.DeleteFunc(slices.Clone(findings), func(f phrase.Finding) bool { return f.Severity == phrase.Note })
}

// has says that a rule speaks above a note.
func has(findings []phrase.Finding, rule string) bool {
	return slices.ContainsFunc(serious(findings), func(f phrase.Finding) bool { return f.Rule == rule })
}

func names(findings []phrase.Finding) []string {
	var out []string
	for _, f := range findings {
		out = append(out, f.Rule)
	}
	return out
}

func TestACompleteSiteThatKeepsEveryRuleHasNotesOnly(t *testing.T) {
	facts := complete()
	facts.Services[0].Exposed = &Exposed{By: "B. Rodman", Top: of(unit.Elevation(31))}
	got := Findings(book(t, ""), facts)
	if bad := serious(got); len(bad) != 0 {
		t.Errorf("Findings(complete site) = %v, want notes only", names(bad))
	}
	if want := []string{"state_zone", "rules_off"}; !slices.Equal(names(got), want) {
		t.Errorf("Findings(complete site) = %v, want %v", names(got), want)
	}
}

// deep makes the trench of the complete site deep, its sides sloped.
func deep(depth, batter float64, soil Soil) func(*Facts) {
	return func(f *Facts) {
		d := &f.Digs[0]
		d.Depth, d.Sides, d.Ground.Soil = ft(depth), []Side{{Batter: batter}}, soil
	}
}

// and makes several changes in turn.
func and(edits ...func(*Facts)) func(*Facts) {
	return func(f *Facts) {
		for _, e := range edits {
			e(f)
		}
	}
}

// shield holds the trench.
func shield(s Support) func(*Facts) {
	return func(f *Facts) { s.Kind = Shield; f.Digs[0].Support = s }
}

func TestEachRuleBreaksAndJustKeeps(t *testing.T) {
	dig := func(f *Facts) *Dig { return &f.Digs[0] }
	for _, c := range []struct {
		rule         string
		set          string
		overrides    []Override
		breaks, kept func(*Facts)
	}{
		// 29 CFR 1926.652(a): protection from 5 ft, sides vertical (read).
		{rule: "protection_depth", breaks: deep(5.00, 0, TypeB), kept: deep(4.99, 0, TypeB)},
		{rule: "protection_depth", breaks: deep(5.00, 0, TypeB), kept: deep(5.00, 0, Rock)},
		// Model WHS Regulations r. 306: 1.5 m and over (read).
		{rule: "protection_depth", set: Australia, breaks: deep(1.5/0.3048, 0, TypeB), kept: deep(1.499/0.3048, 0, TypeB)},
		// Alberta OHS Code s. 450: over 1.5 m (read).
		{rule: "protection_depth", set: Alberta, breaks: deep(1.501/0.3048, 0, TypeB), kept: deep(1.5/0.3048, 0, TypeB)},
		// O. Reg. 213/91: over 1.2 m (from memory, switched on).
		{rule: "protection_depth", set: Ontario, overrides: []Override{{"protection_depth", "", "read by the job"}},
			breaks: deep(1.201/0.3048, 0, TypeB), kept: deep(1.2/0.3048, 0, TypeB)},
		// CDM 2015 reg. 22: no fixed depth (from memory, switched on).
		{rule: "protection_depth", set: UK, overrides: []Override{{"protection_depth", "", "read by the job"}},
			breaks: deep(0.01, 0, TypeB), kept: deep(0.01, 0, Rock)},
		// 29 CFR 1926.652(a)(1)(ii): under 5 ft a competent person looks (read).
		{rule: "cave_in_look", breaks: func(f *Facts) { f.Entries = nil }, kept: func(f *Facts) {}},
		// 29 CFR 1926.652(b)(1): 1.5:1 in soil nobody classified (read).
		{rule: "slope_default", breaks: deep(6, 1.49, ""), kept: deep(6, 1.5, "")},
		// Table B-1 as quoted by others: A 3/4:1, B 1:1, C 1.5:1; A for a short time 1/2:1.
		{rule: "slope_a", breaks: and(deep(8, 0.74, TypeA), func(f *Facts) { dig(f).OpenHours = of(25.0) }),
			kept: and(deep(8, 0.75, TypeA), func(f *Facts) { dig(f).OpenHours = of(25.0) })},
		{rule: "slope_a", breaks: deep(12.01, 0.5, TypeA), kept: deep(12, 0.5, TypeA)},
		{rule: "slope_a", breaks: and(deep(8, 0.5, TypeA), func(f *Facts) { dig(f).OpenHours = of(24.01) }),
			kept: and(deep(8, 0.5, TypeA), func(f *Facts) { dig(f).OpenHours = of(24.0) })},
		{rule: "slope_a_short", breaks: deep(8, 0.49, TypeA), kept: deep(8, 0.5, TypeA)},
		{rule: "slope_b", breaks: deep(10, 0.99, TypeB), kept: deep(10, 1, TypeB)},
		{rule: "slope_c", breaks: deep(8, 1.49, TypeC), kept: deep(8, 1.5, TypeC)},
		// 29 CFR 1926.652(b) and App. F: over 20 ft an engineer (read).
		{rule: "engineer_depth", breaks: deep(20.01, 2, TypeC), kept: deep(20, 2, TypeC)},
		{rule: "engineer_depth", breaks: deep(20.01, 2, TypeC), kept: and(deep(20.01, 2, TypeC), func(f *Facts) { dig(f).Engineer = "C. Engineer" })},
		// 29 CFR 1926.651(c)(2) as quoted by others: trench from 4 ft, 25 ft of travel.
		{rule: "missing_way_out", breaks: and(deep(4, 0, TypeB), func(f *Facts) { dig(f).WayOut = nil }),
			kept: and(deep(3.99, 0, TypeB), func(f *Facts) { dig(f).WayOut = nil })},
		{rule: "way_out_travel", breaks: and(deep(4, 0, TypeB), func(f *Facts) { dig(f).WayOut = ft(25.01) }),
			kept: and(deep(4, 0, TypeB), func(f *Facts) { dig(f).WayOut = ft(25) })},
		// 29 CFR 1926.650(b) as quoted by others: a trench is deeper than wide and up to 15 ft wide.
		{rule: "missing_way_out", breaks: and(deep(16, 2, TypeB), func(f *Facts) { dig(f).WayOut, dig(f).Width = nil, ft(15) }),
			kept: and(deep(16, 2, TypeB), func(f *Facts) { dig(f).WayOut, dig(f).Width = nil, ft(15.01) })},
		{rule: "missing_way_out", breaks: and(deep(4.5, 0, TypeB), func(f *Facts) { dig(f).WayOut, dig(f).Width = nil, ft(4.49) }),
			kept: and(deep(4.5, 0, TypeB), func(f *Facts) { dig(f).WayOut, dig(f).Width = nil, ft(4.5) })},
		// Forms that leave up to 15 ft (from memory, switched on).
		{rule: "missing_way_out", overrides: []Override{{"forms_width", "", "read by the job"}},
			breaks: and(deep(6, 2, TypeB), func(f *Facts) { dig(f).WayOut, dig(f).Width, dig(f).Forms = nil, ft(30), ft(15) }),
			kept:   and(deep(6, 2, TypeB), func(f *Facts) { dig(f).WayOut, dig(f).Width, dig(f).Forms = nil, ft(30), ft(15.01) })},
		// 29 CFR 1926.651(g) as quoted by others: deeper than 4 ft; oxygen 19.5 %.
		{rule: "missing_oxygen", breaks: and(deep(4.01, 0, TypeB), func(f *Facts) { dig(f).AirHazard = Yes }),
			kept: and(deep(4, 0, TypeB), func(f *Facts) { dig(f).AirHazard = Yes })},
		{rule: "oxygen", breaks: and(deep(4.5, 0, TypeB), func(f *Facts) { dig(f).AirHazard, dig(f).Oxygen = Yes, of(19.4) }),
			kept: and(deep(4.5, 0, TypeB), func(f *Facts) { dig(f).AirHazard, dig(f).Oxygen = Yes, of(19.5) })},
		// 29 CFR 1926.651(h) as quoted by others.
		{rule: "hole_water", breaks: func(f *Facts) { dig(f).Ground.Water, dig(f).Drained = Yes, No },
			kept: func(f *Facts) { dig(f).Ground.Water, dig(f).Drained = Yes, Yes }},
		// 29 CFR 1926.651(f) as quoted by others.
		{rule: "edge_warning", breaks: func(f *Facts) { dig(f).EdgeMarked = No }, kept: func(f *Facts) { dig(f).EdgeMarked, f.Stands = No, nil }},
		// 29 CFR 1926.651(j)(1), from memory, switched on.
		{rule: "loose_rock", overrides: []Override{{"loose_rock", "", "read by the job"}},
			breaks: func(f *Facts) { dig(f).LooseRock = Yes }, kept: func(f *Facts) { dig(f).LooseRock = No }},
		// 29 CFR 1926.651(j)(2) as quoted by others: 2 ft, or retained.
		{rule: "spoil_setback", breaks: func(f *Facts) { f.Heaps[0].Edge = ft(1.99) }, kept: func(f *Facts) { f.Heaps[0].Edge = ft(2) }},
		{rule: "spoil_setback", breaks: func(f *Facts) { f.Heaps[0].Edge = ft(1) }, kept: func(f *Facts) { f.Heaps[0].Edge, f.Heaps[0].Retained = ft(1), Yes }},
		{rule: "plant_setback", breaks: func(f *Facts) { f.Stands[0].Edge = ft(1.99) }, kept: func(f *Facts) { f.Stands[0].Edge = ft(2) }},
		// 29 CFR 1926.651(k) as quoted by others: daily, and after rain.
		{rule: "inspection", breaks: func(f *Facts) { f.Rain = today + "T07:11" }, kept: func(f *Facts) { f.Rain = today + "T07:09" }},
		{rule: "inspection", breaks: func(f *Facts) { f.Today = "2026-05-05" }, kept: func(f *Facts) { f.Today = today }},
		// 29 CFR 1926.651(l) as quoted by others: guardrails from 6 ft.
		{rule: "crossing_rails", breaks: func(f *Facts) { f.Crossings[0].Height = ft(6) }, kept: func(f *Facts) { f.Crossings[0].Height = ft(5.99) }},
		// 29 CFR 1926.652(e) as quoted by others: 2 ft below the support.
		{rule: "below_support", breaks: and(deep(8, 0, TypeC), shield(Support{Top: in(18), Below: ft(2.01), FullDepth: Yes, SoilLoss: No})),
			kept: and(deep(8, 0, TypeC), shield(Support{Top: in(18), Below: ft(2), FullDepth: Yes, SoilLoss: No}))},
		{rule: "below_support", breaks: and(deep(8, 0, TypeC), shield(Support{Top: in(18), Below: ft(1), SoilLoss: No})),
			kept: and(deep(8, 0, TypeC), shield(Support{Top: in(18), Below: ft(0)}))},
		// App. B as quoted by others: shield 18 in over the vertical part.
		{rule: "shield_top", breaks: and(deep(8, 0, TypeC), shield(Support{Vertical: ft(5), Top: in(17.9), Below: ft(0)})),
			kept: and(deep(8, 0, TypeC), shield(Support{Vertical: ft(5), Top: in(18), Below: ft(0)}))},
		{rule: "shield_top", breaks: and(deep(8, 0, TypeC), shield(Support{Vertical: ft(7.9), Top: ft(0), Below: ft(0)})),
			kept: and(deep(8, 0, TypeC), shield(Support{Vertical: ft(8), Top: ft(0), Below: ft(0)}))},
		// Benches count as run: 8 ft of type B want 8 ft of it.
		{rule: "slope_b", breaks: and(benched(TypeB, 8, 4), func(f *Facts) { dig(f).Sides[0].Batter, dig(f).Sides[0].Benches[0].Width = 0.5, *ft(3.9) }),
			kept: and(benched(TypeB, 8, 4), func(f *Facts) { dig(f).Sides[0].Batter, dig(f).Sides[0].Benches[0].Width = 0.5, *ft(4) })},
		// App. B as quoted by others: A lowest bench 4 ft, others 5; B 4; C none.
		{rule: "bench_a_first", breaks: benched(TypeA, 9, 4.01), kept: benched(TypeA, 9, 4)},
		{rule: "bench_a_other", breaks: benched(TypeA, 9.01, 4), kept: benched(TypeA, 9, 4)},
		{rule: "bench_b", breaks: benched(TypeB, 7, 4.01), kept: benched(TypeB, 8, 4)},
		{rule: "bench_c", breaks: benched(TypeC, 7, 4), kept: deep(7, 2, TypeC)},
		{rule: "bench_b_cohesive", overrides: []Override{{"bench_b_cohesive", "", "read by the job"}},
			breaks: and(benched(TypeB, 7, 4), func(f *Facts) { dig(f).Ground.Cohesive = Unknown }), kept: benched(TypeB, 7, 4)},
		// Running ground, from memory: without its rule no slope is known.
		{rule: "no_slope_known", breaks: func(f *Facts) { dig(f).Ground.Running = Yes }, kept: func(f *Facts) {}},
		{rule: "running_ground", overrides: []Override{{"running_ground", "", "read by the job"}},
			breaks: func(f *Facts) { dig(f).Ground.Running = Yes }, kept: func(f *Facts) {}},
		{rule: "surcharge", breaks: func(f *Facts) { dig(f).Surcharge = Yes }, kept: func(f *Facts) {}},
		// UPC 314.1 (read): 3.00 ft for a drop of 3 ft (exact).
		{rule: "influence_trench", breaks: func(f *Facts) { f.Footings[0].Distance = ft(2.99) }, kept: func(f *Facts) { f.Footings[0].Distance = ft(3) }},
		// IBC 1809.6 (read): 5.196 ft for the same drop (exact).
		{rule: "influence_footing", breaks: beside(5.19), kept: beside(5.197)},
		{rule: "influence_footing", breaks: beside(5.19), kept: and(beside(5.19), func(f *Facts) { f.Footings[0].Granular = No })},
		// 29 CFR 1926.651(i) as quoted by others, within the flatter of the two lines.
		{rule: "footing_below", breaks: func(f *Facts) { f.Footings[0].Distance = ft(5.19) }, kept: func(f *Facts) { f.Footings[0].Distance = ft(5.197) }},
		{rule: "footing_below", breaks: func(f *Facts) { f.Footings[0].Distance = ft(5) },
			kept: func(f *Facts) { f.Footings[0].Distance, f.Footings[0].Supported = ft(5), Yes }},
		{rule: "footing_below", breaks: func(f *Facts) { f.Footings[0].Distance = ft(0) },
			kept: func(f *Facts) {
				f.Footings[0].Distance, f.Footings[0].Bearing = ft(0), of(unit.Elevation(30))
			}},
		// IRC R403.1.4, R403.1.5, R403.1 (read).
		{rule: "footing_cover", breaks: func(f *Facts) { dig(f).Least, dig(f).Frosty = in(11.9), No }, kept: func(f *Facts) { dig(f).Least, dig(f).Frosty = in(12), No }},
		{rule: "footing_frost", breaks: func(f *Facts) { dig(f).Least = ft(2.49) }, kept: func(f *Facts) { dig(f).Least = ft(2.5) }},
		{rule: "footing_slope", breaks: func(f *Facts) { dig(f).Slope = of(unit.Grade(-0.101)) }, kept: func(f *Facts) { dig(f).Slope = of(unit.Grade(-0.1)) }},
		{rule: "footing_bed", breaks: func(f *Facts) { dig(f).OverDug, dig(f).LooseFill = *in(1), No }, kept: func(f *Facts) {}},
		// CGA 5-19 (read): a 2 in line and 18 in on each side, 19 in from the marks.
		{rule: "tolerance_zone", breaks: near(18.9), kept: near(19)},
		{rule: "hand_dig", breaks: func(f *Facts) { f.Services[0].Near[0].Distance = in(18.9) }, kept: func(f *Facts) { f.Services[0].Near[0].Distance = in(19) }},
		// 29 CFR 1926.651(b) (read): located before digging; a ticket holds to its last day.
		{rule: "services_located", breaks: func(f *Facts) { f.Locate.Expires = "2026-05-03" }, kept: func(f *Facts) { f.Locate.Expires = today }},
		{rule: "services_located", breaks: func(f *Facts) { f.Locate.MarkedOn = "2026-05-05" }, kept: func(f *Facts) { f.Locate.MarkedOn = today }},
		// 29 CFR 1926.1408 table A (read): 10 ft to 50 kV, 15 ft to 200 kV … 45 ft to 1000 kV.
		{rule: "line_50", breaks: wire(50, 9.99), kept: wire(50, 10)},
		{rule: "line_200", breaks: wire(50.1, 14.99), kept: wire(200, 15)},
		{rule: "line_350", breaks: wire(200.1, 19.99), kept: wire(350, 20)},
		{rule: "line_500", breaks: wire(350.1, 24.99), kept: wire(500, 25)},
		{rule: "line_750", breaks: wire(500.1, 34.99), kept: wire(750, 35)},
		{rule: "line_1000", breaks: wire(750.1, 44.99), kept: wire(1000, 45)},
		{rule: "line_1000", breaks: wire(1000.1, 500), kept: wire(1000, 500)},
		// 29 CFR 1926.600(a)(6), from memory, switched on: 146.0 in at 115 kV (exact).
		{rule: "line_plant", overrides: []Override{{"line_plant", "", "read by the job"}}, breaks: wire(115, 145.9/12), kept: wire(115, 146.0/12)},
		// HSE GS6 as quoted by others: ask within 15 m of towers, 9 m of poles.
		{rule: "ask_pole", set: UK, breaks: hung(Pole, 8.99), kept: hung(Pole, 9)},
		{rule: "ask_tower", set: UK, breaks: hung(Tower, 14.99), kept: hung(Tower, 15)},
		{rule: "ask_tower", set: UK, breaks: hung("", 14.99), kept: hung(Pole, 14.99)},
		// 29 CFR 1926.54, a research copy; eye height by a trade page: not between 4 and 6 ft.
		{rule: "eye_low", breaks: beam(5, 6.5), kept: beam(6, 6.5)},
		{rule: "eye_low", breaks: beam(3, 4.01), kept: beam(3, 4)},
		{rule: "eye_low", breaks: beam(5, 5), kept: and(beam(5, 5), func(f *Facts) { f.Lasers[0].Walked = No })},
		{rule: "laser_signs", breaks: func(f *Facts) { f.Lasers[0].Signs = No }, kept: func(f *Facts) {}},
		{rule: "laser_unattended", breaks: func(f *Facts) { f.Lasers[0].Attended = No }, kept: func(f *Facts) {}},
		{rule: "laser_trained", breaks: func(f *Facts) { f.Lasers[0].Trained = No }, kept: func(f *Facts) {}},
		{rule: "laser_weather", breaks: func(f *Facts) { f.Lasers[0].Foul = Yes }, kept: func(f *Facts) { f.Lasers[0].Foul = Unknown }},
		// 29 CFR 1926.651(a), (d), (e) as quoted by others.
		{rule: "encumbrances", breaks: func(f *Facts) { f.Duties.Encumbrances = No }, kept: func(f *Facts) {}},
		{rule: "vests", breaks: func(f *Facts) { f.Duties.Vests = No }, kept: func(f *Facts) {}},
		{rule: "nobody_under", breaks: func(f *Facts) { f.Duties.NobodyUnder = No }, kept: func(f *Facts) {}},
	} {
		b := book(t, c.set, c.overrides...)
		broken, kept := complete(), complete()
		c.breaks(&broken)
		c.kept(&kept)
		if got := Findings(b, broken); !has(got, c.rule) {
			t.Errorf("%s %s: Findings(broken) = %v, want the rule to speak", c.set, c.rule, names(serious(got)))
		} else {
			checkTexts(t, got)
		}
		if got := Findings(b, kept); has(got, c.rule) {
			t.Errorf("%s %s: Findings(kept) = %v, want the rule silent", c.set, c.rule, names(serious(got)))
		}
	}
}

// benched cuts the trench in two steps: a first riser, then up to the depth.
func benched(soil Soil, depth, first float64) func(*Facts) {
	return and(deep(depth, 0, soil), func(f *Facts) {
		f.Digs[0].Sides = []Side{{Benches: []Bench{{Height: *ft(first), Width: *ft(20)}}}}
	})
}

// beside makes the neighbour an adjoining footing at a distance in feet.
func beside(distance float64) func(*Facts) {
	return func(f *Facts) { f.Footings[0].Distance, f.Footings[0].Adjoining = ft(distance), true }
}

// near brings the trench within inches of the marks of a service not seen yet.
func near(inches float64) func(*Facts) {
	return func(f *Facts) { f.Services[0].Exposed, f.Services[0].Near[0].Distance = nil, in(inches) }
}

// wire hangs a line of a voltage so that the machine passes at a gap in feet.
func wire(kv, gap float64) func(*Facts) {
	return func(f *Facts) {
		f.Overheads[0].Kilovolts, f.Overheads[0].Height = of(kv), ft(20)
		f.Reaches[0].Top, f.Reaches[0].Distance, f.Reaches[0].Radius = ft(20), ft(25+gap), ft(25)
	}
}

// hung puts the machine's centre metres from a line on poles or towers.
func hung(on string, distance unit.Length) func(*Facts) {
	return func(f *Facts) {
		f.Overheads[0].On, f.Reaches[0].Distance, f.Reaches[0].Radius = on, &distance, ft(1)
	}
}

// beam runs the laser's beam between two heights in feet.
func beam(low, high float64) func(*Facts) {
	return func(f *Facts) { f.Lasers[0].Lowest, f.Lasers[0].Highest = ft(low), ft(high) }
}

func TestEachMissingThingIsAFindingOfItsOwn(t *testing.T) {
	dig := func(f *Facts) *Dig { return &f.Digs[0] }
	nan := unit.Length(math.NaN())
	for kind, forget := range map[string]func(*Facts){
		"depth":            func(f *Facts) { dig(f).Depth = nil },
		"soil":             func(f *Facts) { dig(f).Ground.Soil = "" },
		"fissured":         func(f *Facts) { dig(f).Ground.Fissured = Unknown },
		"vibration":        func(f *Facts) { dig(f).Ground.Vibration = Unknown },
		"disturbed":        func(f *Facts) { dig(f).Ground.Disturbed = Unknown },
		"water":            func(f *Facts) { dig(f).Ground.Water = Unknown },
		"width":            func(f *Facts) { dig(f).Width = nil },
		"sides":            func(f *Facts) { dig(f).Sides = nil },
		"open_hours":       func(f *Facts) { dig(f).OpenHours = nil },
		"surcharge":        func(f *Facts) { dig(f).Surcharge = Unknown },
		"people":           func(f *Facts) { dig(f).People = Unknown },
		"support":          func(f *Facts) { dig(f).Support.Kind = NotTold },
		"shield_top":       shield(Support{Below: ft(0)}),
		"below_support":    shield(Support{Top: ft(2)}),
		"way_out":          and(deep(4.5, 0, TypeB), func(f *Facts) { dig(f).WayOut = nil }),
		"air":              and(deep(4.5, 0, TypeB), func(f *Facts) { dig(f).AirHazard = Unknown }),
		"oxygen":           and(deep(4.5, 0, TypeB), func(f *Facts) { dig(f).AirHazard = Yes }),
		"hole_water":       func(f *Facts) { dig(f).Ground.Water, dig(f).Drained = Yes, Unknown },
		"edge_warning":     func(f *Facts) { dig(f).EdgeMarked = Unknown },
		"bears":            func(f *Facts) { dig(f).Bears = Unknown },
		"least_depth":      func(f *Facts) { dig(f).Least = &nan },
		"frost":            func(f *Facts) { dig(f).Frost = nil },
		"bottom_slope":     func(f *Facts) { dig(f).Slope = nil },
		"loose_fill":       func(f *Facts) { dig(f).OverDug = 0.1 },
		"footing_bearing":  func(f *Facts) { f.Footings[0].Bearing = nil },
		"footing_distance": func(f *Facts) { f.Footings[0].Distance = nil },
		"granular":         func(f *Facts) { f.Footings[0].Adjoining, f.Footings[0].Granular = true, Unknown },
		"ticket":           func(f *Facts) { f.Locate.Ticket = "" },
		"marked":           func(f *Facts) { f.Locate.MarkedOn = "" },
		"expires":          func(f *Facts) { f.Locate.Expires = "2026-02-30" },
		"today":            func(f *Facts) { f.Today = "" },
		"service_size":     func(f *Facts) { f.Services[0].Size = nil },
		"service_depth":    func(f *Facts) { f.Services[0].Exposed = nil },
		"service_distance": func(f *Facts) { f.Services[0].Near[0].Distance = nil },
		"private_locate":   func(f *Facts) { f.Locate.Private, f.Services[0].Private = Unknown, Unknown },
		"voltage":          func(f *Facts) { f.Overheads[0].Kilovolts = nil },
		"line_height":      func(f *Facts) { f.Overheads[0].Height = nil },
		"reach":            func(f *Facts) { f.Reaches = nil },
		"reach_size":       func(f *Facts) { f.Reaches[0].Top = nil },
		"heap_edge":        func(f *Facts) { f.Heaps[0].Edge = nil },
		"stand_edge":       func(f *Facts) { f.Stands[0].Edge = nil },
		"crossing_height":  func(f *Facts) { f.Crossings[0].Height = nil },
		"crossing_rails":   func(f *Facts) { f.Crossings[0].Height, f.Crossings[0].Rails = ft(7), Unknown },
		"laser_trained":    func(f *Facts) { f.Lasers[0].Trained = Unknown },
		"laser_signs":      func(f *Facts) { f.Lasers[0].Signs = Unknown },
		"laser_unattended": func(f *Facts) { f.Lasers[0].Attended = Unknown },
		"walked":           func(f *Facts) { f.Lasers[0].Walked = Unknown },
		"beam_height":      func(f *Facts) { f.Lasers[0].Lowest = nil },
		"competent_person": func(f *Facts) { f.Competent = "" },
		"encumbrances":     func(f *Facts) { f.Duties.Encumbrances = Unknown },
		"vests":            func(f *Facts) { f.Duties.Vests = Unknown },
		"nobody_under":     func(f *Facts) { f.Duties.NobodyUnder = Unknown },
	} {
		facts := complete()
		forget(&facts)
		got := Findings(book(t, ""), facts)
		if !slices.Contains(names(got), "missing_"+kind) {
			t.Errorf("without %s Findings = %v, want missing_%s", kind, names(got), kind)
		}
		checkTexts(t, got)
	}
}

// Each is judged as bad as it can be, not left out.
func TestUnknownIsTakenAtItsWorst(t *testing.T) {
	dig := func(f *Facts) *Dig { return &f.Digs[0] }
	for _, c := range []struct {
		name   string
		forget func(*Facts)
		rules  []string
	}{
		{"depth", func(f *Facts) { dig(f).Depth = nil }, []string{"protection_depth", "engineer_depth"}},
		{"sides", and(deep(6, 2, TypeB), func(f *Facts) { dig(f).Sides = nil }), []string{"protection_depth"}},
		{"soil", deep(6, 1.4, ""), []string{"slope_default"}},
		{"cracks in type A", and(deep(6, 0.9, TypeA), func(f *Facts) { dig(f).Ground.Fissured = Unknown }), []string{"slope_b"}},
		{"water", and(deep(6, 1.4, TypeA), func(f *Facts) { dig(f).Ground.Water = Unknown }), []string{"slope_c"}},
		{"whether rock is whole", and(deep(6, 1.4, Rock), func(f *Facts) { dig(f).Ground.Vibration = Unknown }), []string{"slope_c"}},
		{"time open", and(deep(6, 0.5, TypeA), func(f *Facts) { dig(f).OpenHours = nil }), []string{"slope_a"}},
		{"people", and(deep(6, 0, TypeB), func(f *Facts) { dig(f).People = Unknown }), []string{"protection_depth"}},
		{"width", and(deep(16, 2, TypeB), func(f *Facts) { dig(f).Width, dig(f).WayOut = nil, nil }), []string{"missing_way_out"}},
		{"bearing level", func(f *Facts) { f.Footings[0].Bearing, f.Footings[0].Distance = nil, ft(3.8) }, []string{"influence_trench"}},
		{"distance to a footing", func(f *Facts) { f.Footings[0].Distance = nil }, []string{"influence_trench", "footing_below"}},
		{"distance to a service", func(f *Facts) { f.Services[0].Exposed, f.Services[0].Near[0].Distance = nil, nil }, []string{"tolerance_zone"}},
		{"width of a service", and(near(41.9), func(f *Facts) { f.Services[0].Size = nil }), []string{"tolerance_zone"}},
		{"voltage", and(wire(1, 44.9), func(f *Facts) { f.Overheads[0].Kilovolts = nil }), []string{"line_1000"}},
		{"height of a line", and(wire(1, 9), func(f *Facts) { f.Overheads[0].Height = nil }), []string{"line_50"}},
		{"reach", and(wire(1, 100), func(f *Facts) { f.Overheads[0].Height, f.Reaches[0].Radius = nil, nil }), []string{"line_50"}},
	} {
		facts := complete()
		c.forget(&facts)
		for _, rule := range c.rules {
			if got := Findings(book(t, ""), facts); !has(got, rule) {
				t.Errorf("without %s Findings = %v, want %s", c.name, names(serious(got)), rule)
			}
		}
	}
}

func TestLongRodsMastsAndTruckBodiesCountNearLines(t *testing.T) {
	for _, what := range []string{Machine, LongRod, Mast, TruckBody} {
		facts := complete()
		wire(13.8, 9)(&facts)
		facts.Reaches[0].What = what
		if got := Findings(book(t, ""), facts); !has(got, "line_50") {
			t.Errorf("%s 9 ft from a line of 13.8 kV: Findings = %v, want line_50", what, names(serious(got)))
		}
	}
}

func TestADigThatNobodyEntersNeedsNoLadder(t *testing.T) {
	facts := complete()
	and(deep(9, 0, TypeC), func(f *Facts) { f.Digs[0].People, f.Digs[0].WayOut = No, nil })(&facts)
	got := Findings(book(t, ""), facts)
	if bad := serious(got); len(bad) != 0 || !slices.Contains(names(got), "nobody_enters") {
		t.Errorf("Findings = %v, want nobody_enters and no caution", names(got))
	}
}

func TestNoSetSaysThatNothingWasJudged(t *testing.T) {
	for _, b := range []Book{{}, book(t, NoSet), book(t, NoSet, Override{"loose_rock", "", "x"})} {
		got := Findings(b, complete())
		if len(got) != 1 || got[0].Rule != "no_rules" || got[0].Severity != phrase.Stop {
			t.Errorf("Findings(%s) = %v, want one stop, no_rules", b.Set(), names(got))
		}
		checkTexts(t, got)
	}
}

func TestAFindingCarriesMeasureLimitClauseAndWhoDecides(t *testing.T) {
	facts := complete()
	deep(5, 0, TypeB)(&facts)
	all := Findings(book(t, ""), facts)
	i := slices.IndexFunc(all, func(f phrase.Finding) bool { return f.Rule == "protection_depth" })
	f := all[i]
	if f.Measured != *ft(5) || f.Limit != *ft(5) || f.Clause != "29 CFR 1926.652(a)(1)" || f.Where.Excavation != "T1" ||
		f.Decides.Key != "who.competent_person" || f.Severity != phrase.Stop {
		t.Errorf("finding = %+v, want 5 ft measured, 5 ft allowed, its clause, T1, the competent person", f)
	}
}

func TestGatherNamesTheOthers(t *testing.T) {
	facts := complete()
	facts.Digs[0].Ground.Soil = ""
	second := facts.Digs[0]
	second.ID = "T2"
	facts.Digs = append(facts.Digs, second)
	got := Gather(Findings(book(t, ""), facts))
	i := slices.IndexFunc(got, func(f phrase.Finding) bool { return f.Rule == "missing_soil" })
	text := got[i].What.Render(phrase.English, unit.Style{})
	want := "T1: nobody has classified the soil. It is taken as type C [not checked against the current text]; likewise T2"
	if text != want {
		t.Errorf("Gather = %q, want %q", text, want)
	}
	if n := len(slices.DeleteFunc(got, func(f phrase.Finding) bool { return f.Rule != "missing_soil" })); n != 1 {
		t.Errorf("Gather keeps %d of missing_soil, want 1", n)
	}
}
