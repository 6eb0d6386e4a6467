package pipe

import (
	"strings"
	"testing"

	"spadework/engine/unit"
)

func TestFind(t *testing.T) {
	for _, c := range []struct {
		standard, series string
		nominal          unit.Length
		outside, wall    float64 // inches
		mark             Mark
	}{
		// ASTM D3034 SDR 35: outside as quoted in pipe tables, walls from memory but 4 in.
		{"ASTM D3034", "SDR 35", 4, 4.215, 0.120, SecondHand},
		{"ASTM D3034", "SDR 35", 6, 6.275, 0.180, Memory},
		{"ASTM D3034", "SDR 35", 8, 8.400, 0.240, Memory},
		{"ASTM D3034", "SDR 35", 10, 10.500, 0.300, Memory},
		{"ASTM D3034", "SDR 35", 12, 12.500, 0.360, Memory},
		// ASTM D1785 schedule 40, as quoted in pipe tables.
		{"ASTM D1785", "schedule 40", 4, 4.500, 0.237, SecondHand},
		{"ASTM D1785", "schedule 40", 6, 6.625, 0.280, SecondHand},
		{"ASTM D1785", "schedule 40", 8, 8.625, 0.322, SecondHand},
	} {
		e, ok := Find(c.standard, c.series, c.nominal*unit.Inch)
		if !ok {
			t.Errorf("Find(%s, %s, %v in) found nothing", c.standard, c.series, c.nominal)
			continue
		}
		near(t, c.standard+" outside in", float64(e.Section.Outside/unit.Inch), c.outside, 1e-9)
		near(t, c.standard+" wall in", float64(e.Section.Wall/unit.Inch), c.wall, 1e-9)
		if e.Mark() != c.mark {
			t.Errorf("Find(%s, %s, %v in).Mark() = %s, want %s", c.standard, c.series, c.nominal, e.Mark(), c.mark)
		}
	}
	if e, ok := Find("ASTM D3034", "SDR 35", 5*unit.Inch); ok {
		t.Errorf("Find(5 in) = %v, want none", e)
	}
}

func TestCatalogueRows(t *testing.T) {
	all := Catalogue()
	if len(all) != 8 {
		t.Errorf("Catalogue() has %d rows, want 8", len(all))
	}
	for i, e := range all {
		if f := e.Section.Check(); f != nil {
			t.Errorf("row %d: %v", i, f)
		}
		if e.Source == "" || !strings.Contains(e.Source, e.Standard) {
			t.Errorf("row %d: source %q does not name %s", i, e.Source, e.Standard)
		}
		for _, m := range []Mark{e.OutsideMark, e.WallMark} {
			if m != Read && m != SecondHand && m != Memory {
				t.Errorf("row %d: mark %q", i, m)
			}
		}
	}
	all[0].Standard = "changed"
	if Catalogue()[0].Standard == "changed" {
		t.Error("Catalogue() hands out its own rows")
	}
}

func TestReadCatalogueFaults(t *testing.T) {
	const head = "standard,series,nominal_in,outside_in,wall_in,outside_mark,wall_mark,source\n"
	for _, text := range []string{head + "A,B,4,x,1,read,read,S\n", head + "A,B,4\n"} {
		if _, err := readCatalogue(text); err == nil {
			t.Errorf("readCatalogue(%q) gave no error", text)
		}
	}
}

func TestConcrete(t *testing.T) {
	// ASTM C76: wall B is the diameter in ft + 1 in: 24 in has 3 in, OD 30;
	// wall C + 1.75 in (read).
	for _, c := range []struct {
		wall          ConcreteWall
		thick, across float64
	}{{WallB, 3, 30}, {WallC, 3.75, 31.5}} {
		e, ok := Concrete(24*unit.Inch, c.wall)
		if !ok || e.Mark() != Read {
			t.Fatalf("Concrete(24 in, %s) = %v, %v", c.wall, e, ok)
		}
		near(t, "Concrete wall in", float64(e.Section.Wall/unit.Inch), c.thick, 1e-9)
		near(t, "Concrete outside in", float64(e.Section.Outside/unit.Inch), c.across, 1e-9)
		near(t, "Concrete inside in", float64(e.Section.Inside()/unit.Inch), 24, 1e-9)
	}
	if e, ok := Find("ASTM C76", "wall B", 24*unit.Inch); !ok || e.Series != "wall B" {
		t.Errorf("Find(ASTM C76, wall B, 24 in) = %v, %v", e, ok)
	}
	if _, ok := Concrete(24*unit.Inch, "D"); ok {
		t.Error("Concrete(24 in, D) is known, want not")
	}
	if _, ok := Concrete(0, WallB); ok {
		t.Error("Concrete(0, B) is known, want not")
	}
}
