package pipe

import (
	"testing"

	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// inch, foot and percent are the sizes in which the tables are printed.
const (
	inch    = float64(unit.Inch)
	foot    = float64(unit.Foot)
	percent = 0.01
)

func TestLeastSlopeTables(t *testing.T) {
	for _, c := range []struct {
		purpose Purpose
		inches  float64
		want    float64 // %
	}{
		// 35 Ill. Adm. Code 370.320(c), read.
		{Sanitary, 8, 0.40}, {Sanitary, 10, 0.28}, {Sanitary, 12, 0.22}, {Sanitary, 14, 0.17}, {Sanitary, 15, 0.15},
		{Sanitary, 16, 0.14}, {Sanitary, 18, 0.12}, {Sanitary, 21, 0.10}, {Sanitary, 24, 0.08}, {Sanitary, 27, 0.067},
		{Sanitary, 30, 0.058}, {Sanitary, 33, 0.050}, {Sanitary, 36, 0.046}, {Sanitary, 42, 0.036},
		// Between two rows the steeper; DN 200 is 8 in (common practice).
		{Sanitary, 9, 0.40}, {Sanitary, 200 / 25.4, 0.40}, {Sanitary, 300 / 25.4, 0.22},
		// IPC table 704.1 as adopted by Chicago, read: 1/4, 1/8 and 1/16 in/ft.
		{BuildingDrain, 2, 100.0 / 48}, {BuildingDrain, 2.5, 100.0 / 48}, {BuildingDrain, 3, 100.0 / 96},
		{BuildingDrain, 4, 100.0 / 96}, {BuildingDrain, 6, 100.0 / 96}, {BuildingDrain, 8, 100.0 / 192},
		// Storm, 3 ft/s full, second-hand.
		{Storm, 12, 0.44}, {Storm, 15, 0.32}, {Storm, 18, 0.25}, {Storm, 24, 0.17},
	} {
		l, ok := LeastSlope(c.purpose, unit.Length(c.inches*inch))
		if !ok {
			t.Errorf("LeastSlope(%s, %g in) found no row", c.purpose, c.inches)
			continue
		}
		near(t, "LeastSlope("+string(c.purpose)+") in %", l.Add/percent, c.want, 1e-12)
	}
	for _, c := range []struct {
		purpose Purpose
		inches  float64
	}{{Sanitary, 6}, {Storm, 10}, {Water, 8}, {Cable, 8}, {"", 8}} {
		if l, ok := LeastSlope(c.purpose, unit.Length(c.inches*inch)); ok {
			t.Errorf("LeastSlope(%s, %g in) = %v, want none", c.purpose, c.inches, l)
		}
	}
}

func TestTenStatesDiffersWhereItDoes(t *testing.T) {
	// Recommended Standards, second-hand: 33 in 0.052, 39 in 0.041, 42 in 0.037.
	for inches, want := range map[float64]float64{33: 0.052, 39: 0.041, 42: 0.037} {
		l, ok := rowFor("least_slope.ten_states", inches*inch)
		if !ok || l.Mark != SecondHand {
			t.Fatalf("ten states at %g in: %v, %v", inches, l, ok)
		}
		near(t, "ten states in %", l.Add/percent, want, 1e-12)
	}
}

func TestOtherLimits(t *testing.T) {
	for _, c := range []struct {
		id   string
		want float64
		mark Mark
	}{
		{"too_fast", 15 * foot, SecondHand},                                        // Ten States
		{"self_cleansing.sanitary", 2 * foot, Read},                                // 370.320(c)
		{"self_cleansing.storm", 3 * foot, SecondHand},                             // storm tables
		{"water_apart", 10 * foot, Read},                                           // 370.350
		{"water_above", 18 * inch, Read},                                           // 370.350
		{"absorption_fall", 2.0 / 1200, Read},                                      // 25 Pa. Code 73.52
		{"absorption_fall.lateral_least", 2.0 / 1200, Read},                        // NAC 444.8354
		{"absorption_fall.lateral_most", 4.0 / 1200, Read},                         // NAC 444.8354
		{"absorption_fall.some_least", 0.5 / 1200, Read},                           // Rapid City 13.20.500
		{"absorption_fall.some_most", 4.0 / 1200, Read},                            // Rapid City 13.20.500
		{"absorption_length", 100 * foot, Read},                                    // Rapid City 13.20.500
		{"absorption_width", 3 * foot, Read}, {"absorption_apart", 6 * foot, Read}, // Rapid City 13.20.500
		{"cable_cover.direct_burial", 24 * inch, Read},                                           // NEC 300.5
		{"cable_cover.rigid_metal", 6 * inch, Read},                                              // NEC 300.5
		{"cable_cover.plastic_conduit", 18 * inch, Read},                                         // NEC 300.5
		{"cable_cover.street", 24 * inch, Read}, {"cable_cover.dwelling_drive", 18 * inch, Read}, // NEC 300.5
		{"bedding_rock", 6 * inch, Read}, // Depoe Bay OR
	} {
		l := limit(c.id)
		near(t, c.id, l.Add, c.want, 1e-12)
		if l.Mark != c.mark {
			t.Errorf("%s has the mark %s, want %s", c.id, l.Mark, c.mark)
		}
	}
	if a, b := CableCover("", ""), CableCover(DirectBurial, ""); a != b {
		t.Errorf("CableCover(not known) = %v, want direct burial's", a)
	}
	if l := CableCover(RigidMetal, Street); l.ID != "cable_cover.street" {
		t.Errorf("CableCover(rigid_metal, street) = %s", l.ID)
	}
}

func TestAnchors(t *testing.T) {
	// Ten States, second-hand: from 20 % 36 ft, from 35 % 24 ft, from 50 % 16 ft.
	for _, c := range []struct{ grade, feet float64 }{
		{0.1999, 0}, {0.20, 36}, {-0.20, 36}, {0.3499, 36}, {0.35, 24}, {0.4999, 24}, {0.50, 16}, {1, 16},
	} {
		l, ok := Anchors(unit.Grade(c.grade))
		if ok != (c.feet > 0) || ok && !(l.Add/foot-c.feet < 1e-9 && c.feet-l.Add/foot < 1e-9) {
			t.Errorf("Anchors(%g) = %g ft, %v, want %g", c.grade, l.Add/foot, ok, c.feet)
		}
	}
}

func TestTrenchWidth(t *testing.T) {
	// ASTM D2321, read: OD 12 → 28; 16 → 32; 24 → 42 in.
	for outside, want := range map[float64]float64{12: 28, 16: 32, 24: 42} {
		od := unit.Length(outside * inch)
		l, ok := LeastWidth(ByASTM, od, od)
		if !ok {
			t.Fatal("LeastWidth(astm) found nothing")
		}
		near(t, "LeastWidth in inches", l.Value(od)/inch, want, 1e-9)
	}
	// EN 1610, read: DN ≤ 225 OD + 0.40 m; 225 to 350 with supports OD + 0.50 m.
	for _, c := range []struct{ dn, want float64 }{{0.225, 0.625}, {0.250, 0.750}, {0.350, 0.850}} {
		l, ok := LeastWidth(ByEN, unit.Length(c.dn), unit.Length(c.dn))
		if !ok {
			t.Fatalf("LeastWidth(en, %g) found nothing", c.dn)
		}
		near(t, "LeastWidth(en)", l.Value(unit.Length(c.dn)), c.want, 1e-9)
	}
	if l, ok := LeastWidth(ByEN, 0.4, 0.4); ok {
		t.Errorf("LeastWidth(en, DN 400) = %v, want none: not read", l)
	}
}

func TestLeastBedding(t *testing.T) {
	// ASTM C12, second-hand: the greater of 4 in and OD/8; Depoe Bay, read: 6 in
	// over rock.
	for _, c := range []struct {
		outside float64
		rock    bool
		want    float64
	}{{8, false, 4}, {32, false, 4}, {40, false, 5}, {8, true, 6}, {56, true, 7}} {
		od := unit.Length(c.outside * inch)
		near(t, "LeastBedding in inches", LeastBedding(od, c.rock).Value(od)/inch, c.want, 1e-9)
	}
}

func TestLevelEnds(t *testing.T) {
	// 2 in per 100 ft over 60 ft is 1.2 in = 0.10 ft end to end (exact).
	got := LevelEnds(60 * unit.Foot)
	near(t, "LevelEnds(60 ft) in inches", float64(got/unit.Inch), 1.2, 1e-12)
	near(t, "LevelEnds(60 ft) in feet", float64(got/unit.Foot), 0.10, 1e-12)
}

func TestLimitRows(t *testing.T) {
	all := Limits()
	if len(all) < 50 {
		t.Errorf("Limits() has %d rows, want at least 50", len(all))
	}
	for i, l := range all {
		if l.Clause == "" || l.Source == "" || l.Edition == "" {
			t.Errorf("row %d (%s) has no clause, edition or source", i, l.ID)
		}
		if l.Mark != Read && l.Mark != SecondHand && l.Mark != Memory {
			t.Errorf("row %d (%s): mark %q", i, l.ID, l.Mark)
		}
		if l.Severity != phrase.Note && l.Severity != phrase.Caution && l.Severity != phrase.Stop {
			t.Errorf("row %d (%s): severity %q", i, l.ID, l.Severity)
		}
		if text := phrase.New(l.Decides).Render(phrase.Spanish, unit.Style{}); text == string(l.Decides) {
			t.Errorf("row %d (%s): nobody is called %s", i, l.ID, l.Decides)
		}
		if l.Add < 0 || l.Factor < 0 || l.Add == 0 && l.Factor == 0 || l.To != 0 && l.To <= l.From {
			t.Errorf("row %d (%s): figures %+v", i, l.ID, l)
		}
	}
	all[0].ID = "changed"
	if Limits()[0].ID == "changed" {
		t.Error("Limits() hands out its own rows")
	}
}

func TestReadLimitsFaults(t *testing.T) {
	const head = "id,from,to,from_unit,factor,add,unit,clause,title,edition,severity,mark,decides,source\n"
	for _, row := range []string{
		"a,x,,in,,1,ft,c,t,e,note,read,engineer,s\n", "a,,,,,1,yd,c,t,e,note,read,engineer,s\n",
		"a,,,ell,,1,ft,c,t,e,note,read,engineer,s\n", "a,b\n",
	} {
		if _, err := readLimits(head + row); err == nil {
			t.Errorf("readLimits(%q) gave no error", row)
		}
	}
}
