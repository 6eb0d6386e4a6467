package dig

import (
	"math"
	"testing"

	"spadework/engine/geom"
	"spadework/engine/ground"
	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// agrees says that a figure lies within a tolerance; NaN does not.
func agrees(got, want, tol float64) bool { return math.Abs(got-want) <= tol }

// Nunnally, Construction Methods and Management, second-hand: densities in
// lb/yd³ and the swell printed beside them.
func TestPublishedSwell(t *testing.T) {
	list := Materials()
	for i, c := range []struct {
		id    string
		swell float64
	}{{"clay", 30}, {"common earth", 25}, {"blasted rock", 50}, {"sand and gravel", 12}} {
		if m := list[i]; m.ID != c.id || m.Source == "" || !m.Listed || !agrees(m.Swell*100, c.swell, 0.5) {
			t.Errorf("material %d = %s swells %.2f %% (%s), want %s %g (tol 0.5: as printed)", i, m.ID, m.Swell*100, m.Source, c.id, c.swell)
		}
	}
}

// Listed materials speak both languages; the crew's own are called as they call
// them.
func TestMaterialsAreNamed(t *testing.T) {
	for _, m := range append(Materials(), Material{ID: "loam", Source: "weighed"}) {
		for _, text := range []phrase.Message{m.Name(), m.From()} {
			en, es := text.Render(phrase.English, unit.Style{}), text.Render(phrase.Spanish, unit.Style{})
			if en == string(text.Key) || m.Listed && en == es || !m.Listed && en != m.ID && en != m.Source {
				t.Errorf("%s: %q in English, %q in Spanish", m.ID, en, es)
			}
		}
	}
}

// Worked example read: 1960/2800/3500 lb/yd³, 1,000,000 loose → 700,000 bank →
// 560,000 compacted; 500 compacted at 0.95 → 526 bank.
func TestPublishedFactors(t *testing.T) {
	swell, shrinkage := Densities(1960, 2800, 3500)
	m := Material{Swell: swell, Shrinkage: shrinkage}
	bank := 1e6 * m.LoadFactor()
	for _, c := range []struct {
		name            string
		got, want, most float64
	}{
		{"load factor", m.LoadFactor(), 0.70, 1e-12},
		{"shrinkage factor", float64(m.Compacted(1)), 0.80, 1e-12},
		{"bank", bank, 700000, 1e-6},
		{"loose again", float64(m.Loose(unit.Volume(bank))), 1e6, 1e-6},
		{"compacted", float64(m.Compacted(unit.Volume(bank))), 560000, 1e-6},
		{"bank for 500", float64(Material{Shrinkage: 0.05}.BankFor(500)), 526, 0.5},
	} {
		if !agrees(c.got, c.want, c.most) {
			t.Errorf("%s = %.10g, want %.10g (tol %g: as printed)", c.name, c.got, c.want, c.most)
		}
	}
}

// Worked example read: 1,000 bank yd³ of clay at 30 % in 7 yd³ trucks, 186 loads,
// rounded up. The limits: a load that just fills, and one yd³ more.
func TestLoads(t *testing.T) {
	yd := float64(unit.CubicYard)
	truck := Truck{Volume: unit.Volume(7 * yd), Payload: 10000}
	loose := Material{Swell: 0.30}.Loose(unit.Volume(1000 * yd))
	for _, c := range []struct {
		loose, mass      float64
		volume, byWeight int
	}{
		{float64(loose), 0, 186, 0},
		{7 * 185 * yd, 1850000, 185, 185},
		{(7*185 + 0.01) * yd, 1850001, 186, 186},
		{0, 0, 0, 0},
	} {
		got := truck.Loads(unit.Volume(c.loose), c.mass)
		if got != (Loads{c.volume, c.byWeight}) || got.Most() != max(c.volume, c.byWeight) {
			t.Errorf("Loads(%g, %g) = %+v, want %d by volume, %d by weight", c.loose, c.mass, got, c.volume, c.byWeight)
		}
	}
	if got := (Truck{}).Loads(5, 5); got != (Loads{}) {
		t.Errorf("loads of an unknown truck = %+v, want none", got)
	}
}

// Worked examples read and recomputed: ridge of 100 bank yd³, swell 25 %, 30 ft
// long, 37°; cone of 100 bank yd³, swell 12 %, 32°.
func TestHeaps(t *testing.T) {
	yd, ft := float64(unit.CubicYard), float64(unit.Foot)
	ridge := Ridge(unit.Volume(125*yd), 30*unit.Foot, 37*float64(unit.Degree))
	cone := Cone(unit.Volume(112*yd), 32*float64(unit.Degree))
	for _, c := range []struct {
		name      string
		got, want float64
	}{
		{"ridge base", float64(ridge.Base) / ft, 24.44}, {"ridge height", float64(ridge.Height) / ft, 9.21},
		{"cone diameter", float64(cone.Base) / ft, 33.31}, {"cone height", float64(cone.Height) / ft, 10.41},
	} {
		if !agrees(c.got, c.want, 0.0051) {
			t.Errorf("%s = %.4f ft, want %.2f (tol 0.005 ft: as printed)", c.name, c.got, c.want)
		}
	}
	for _, h := range []Heap{Ridge(0, 1, 0.5), Ridge(1, 0, 0.5), Ridge(1, 1, 0), Ridge(1, 1, 1.6), Cone(1, math.NaN())} {
		if h != (Heap{}) {
			t.Errorf("heap of nothing = %+v, want none", h)
		}
	}
}

// Textbook tables from memory (Nunnally), arithmetic exact: 148 loose yd³/h;
// 194.4 loose and 155.5 bank yd³/h.
func TestOutput(t *testing.T) {
	a := Output{Bucket: 0.75, Fill: 0.95, CyclesPerHour: 250, Factor: 1, MinutesPerHour: 50}.Loose()
	b := Output{Bucket: 1.5, Fill: 0.90, CyclesPerHour: 160, Factor: 1.08, MinutesPerHour: 50}.Loose()
	if !agrees(float64(a), 148, 0.5) || !agrees(float64(b), 194.4, 0.05) || !agrees(float64(b)/1.25, 155.5, 0.05) {
		t.Errorf("output = %.2f, %.2f, bank %.2f yd³/h, want 148, 194.4, 155.5 (tol: as printed)", a, b, b/1.25)
	}
}

// Public estimating wiki, read: a bucket of 0.3 m³ digs 6.7 to 9.9 m³ an hour in sand
// or soil, 3.3 to 5.2 in clay. A bucket of half the size takes twice as long.
func TestDiggingTime(t *testing.T) {
	for _, c := range []struct {
		digs        Digging
		bucket      float64
		least, most float64 // m³/h
	}{
		{DigsAsSoil, 0.3, 6.7, 9.9}, {DigsAsClay, 0.3, 3.3, 5.2}, {DigsAsClay, 0.15, 1.65, 2.6}, {"", 0.3, 3.3, 9.9},
	} {
		h := HoursOf(100, unit.Volume(c.bucket), Material{Swell: 0.25, Digs: c.digs})
		if !agrees(h.Least, 100/c.most, 1e-9) || !agrees(h.Most, 100/c.least, 1e-9) {
			t.Errorf("%q, bucket %g: hours = %+v, want %.4f to %.4f", c.digs, c.bucket, h, 100/c.most, 100/c.least)
		}
		// Without trimming, by the textbook: 0.95 × 250 × 50/60 buckets of loose ground an hour.
		if want := 125 / (0.95 * 250 * 50 / 60 * c.bucket); !agrees(h.Untrimmed, want, 1e-9) || !(h.Untrimmed < h.Least) {
			t.Errorf("%q, bucket %g: untrimmed = %.4f h, want %.4f and under the rest", c.digs, c.bucket, h.Untrimmed, want)
		}
	}
	if HoursOf(100, 0, Material{}) != (Hours{}) || HoursOf(100, 0.3, Material{Digs: DigsAsRock}) != (Hours{}) {
		t.Error("hours without a bucket or in rock, want none: no rate was read")
	}
}

// Law: by hand an upright area is its volume where all of it is dug, whatever the
// ground does between its corners.
func TestUprightByHandIsTheVolume(t *testing.T) {
	g, _, err := ground.Build([]ground.Shot{{At: geom.Point{X: -20, Y: -20}}, {At: geom.Point{X: 20, Y: -20}, Z: 1}, {At: geom.Point{X: 20, Y: 20}},
		{At: geom.Point{X: -20, Y: 20}, Z: 0.5}, {At: geom.Point{X: 1, Y: 2}, Z: -0.7}, {At: geom.Point{X: -5, Y: -1}, Z: 0.9}}, nil, ground.Options{})
	if err != nil {
		t.Fatal(err)
	}
	x := pit(16, 12, 2, 0)
	x.Kind, x.Working, x.Concrete = Pad, 0.3, 0.2
	x.Thickened = []Edge{{Sides: AllSides, Width: 0.6, Depth: 0.2}}
	d, err := Resolve(x, Site{})
	if err != nil {
		t.Fatal(err)
	}
	hand, ok := d.ByHand(d.CutSurface(), g, 0)
	bank := float64(d.CutSurface().Excavate(g).Bank)
	if !ok || !agrees(float64(hand.EndArea), bank, 1e-6*bank) || !agrees(float64(hand.Prismoidal), bank, 1e-6*bank) {
		t.Errorf("by hand %+v, want %.9g (tol 1e-6: areas are taken a nanometre higher)", hand, bank)
	}
}

// railway is Vose's cut: base 20 ft, 1.5:1, cuts 0 5 10 15 0 ft at 50 ft.
func railway(t *testing.T) (Dig, ground.Surface) {
	ft := float64(unit.Foot)
	var shots []ground.Shot
	for i, cut := range []float64{0, 5, 10, 15, 0} {
		for _, y := range []float64{-100, 100} {
			shots = append(shots, ground.Shot{At: geom.Point{X: float64(i) * 50 * ft, Y: y * ft}, Z: cut * ft})
		}
	}
	g, _, err := ground.Build(shots, nil, ground.Options{})
	if err != nil {
		t.Fatal(err)
	}
	d, err := Resolve(ditch(200*ft, 20*ft, 0, 1.5), Site{})
	if err != nil {
		t.Fatal(err)
	}
	return d, g
}

// Vose, Handbook of Railroad Construction (19th c.): exact end area 56,250 ft³,
// prismoidal 52,500; the surface model gives the prismoid too.
func TestRailwayCut(t *testing.T) {
	d, g := railway(t)
	cubicFoot := math.Pow(float64(unit.Foot), 3)
	hand, ok := d.ByHand(d.CutSurface(), g, 50*unit.Foot)
	e := d.CutSurface().Excavate(g)
	if !ok || !agrees(float64(hand.EndArea)/cubicFoot, 56250, 1e-5) || !agrees(float64(hand.Prismoidal)/cubicFoot, 52500, 1e-5) {
		t.Errorf("by hand %+v in m³, want 56250 and 52500 ft³ (tol 1e-5 ft³: rounding)", hand)
	}
	if got := float64(e.Bank) / cubicFoot; !agrees(got, 52500, 1e-4) {
		t.Errorf("volume = %.6f ft³, want 52500 (tol 1e-4: ground under 1e-7 m is not dug); missing %v", got, e.Missing)
	}
}

// The pit's end area of 5632 m³ and prismoidal 5461.33 (read).
func TestPitByHand(t *testing.T) {
	d, err := Resolve(pit(34, 24, 4, 2), Site{})
	if err != nil {
		t.Fatal(err)
	}
	v, ok := d.ByHand(d.CutSurface(), ground.Level(0), 0)
	if !ok || !agrees(float64(v.EndArea), 5632, 1e-4) || !agrees(float64(v.Prismoidal), 5461.333333, 1e-4) {
		t.Errorf("by hand %+v, want 5632 and 5461.3333 (tol 1e-4: areas taken a nanometre higher)", v)
	}
}

// Wikibooks, Fundamentals of Transportation, mixed cut and fill: a pyramid at a
// zero end, else end area; fill 4087.5, cut 1058.3; plain 4100 and 1100 m³.
func TestMixedCutAndFill(t *testing.T) {
	fill := [][2]float64{{0, 60}, {50, 50}, {75, 25}, {100, 5}, {115, 0}}
	cut := [][2]float64{{75, 0}, {100, 10}, {115, 15}, {150, 30}}
	sum := func(s [][2]float64, rule func(l, a, b float64) float64) float64 {
		v := 0.0
		for i := 1; i < len(s); i++ {
			v += rule(s[i][0]-s[i-1][0], s[i-1][1], s[i][1])
		}
		return v
	}
	if got := sum(fill, TaperedEndArea); !agrees(got, 4087.5, 0.05) {
		t.Errorf("fill = %.2f, want 4087.5", got)
	}
	if got := sum(fill, AverageEndArea); !agrees(got, 4100, 0.05) {
		t.Errorf("fill by end area = %.2f, want 4100", got)
	}
	if got := sum(cut, TaperedEndArea); !agrees(got, 1058.3, 0.05) {
		t.Errorf("cut = %.2f, want 1058.3", got)
	}
	if got := sum(cut, AverageEndArea); !agrees(got, 1100, 0.05) {
		t.Errorf("cut by end area = %.2f, want 1100", got)
	}
}

// One grid cell of 2,500 ft², cuts 1.4 1.4 1.2 1.3 ft: 3,313 ft³ by the mean of four
// corners (read), which is the mean of the two ways to cut the cell in triangles.
func TestGridCell(t *testing.T) {
	ft := float64(unit.Foot)
	z := [4]float64{1.4, 1.4, 1.2, 1.3}
	sum := 0.0
	for _, turn := range []int{0, 1} {
		data := ground.GridData{Cols: 2, Rows: 2, DX: 50 * ft, DY: 50 * ft}
		at := func(i int) float64 { return z[(i+turn)%4] * ft }
		data.Z = []float64{at(0), at(1), at(3), at(2)} // south-west, south-east, north-west, north-east
		g, err := ground.NewGrid(data)
		if err != nil {
			t.Fatal(err)
		}
		x := pit(50*ft, 50*ft, 0, 0)
		x.At = geom.Point{X: 25 * ft, Y: 25 * ft}
		d, err := Resolve(x, Site{})
		if err != nil {
			t.Fatal(err)
		}
		e := d.CutSurface().Excavate(g)
		sum += float64(e.Bank) / (ft * ft * ft) / 2
	}
	if !agrees(sum, 3313, 0.51) {
		t.Errorf("cell = %.2f ft³, want 3313 (tol 0.5: as printed)", sum)
	}
}

// Outside the survey there is no volume, and the area missing is told; a dig that
// ends just within has one.
func TestOutsideTheSurvey(t *testing.T) {
	var shots []ground.Shot
	for _, p := range []geom.Point{{X: -10, Y: -10}, {X: 10, Y: -10}, {X: 10, Y: 10}, {X: -10, Y: 10}} {
		shots = append(shots, ground.Shot{At: p, Z: 0})
	}
	g, _, err := ground.Build(shots, nil, ground.Options{})
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		x     float64
		known bool
	}{{0, true}, {5.999, true}, {6.001, false}, {9.5, false}, {30, false}} {
		x := pit(4, 4, 2, 1) // its top edge is 8 m wide
		x.At = geom.Point{X: c.x}
		d, err := Resolve(x, Site{})
		if err != nil {
			t.Fatal(err)
		}
		e := d.CutSurface().Excavate(g)
		if e.Known() != c.known || c.known == (e.Missing > 0) || c.known != (e.Top != nil) {
			t.Errorf("pit at %g: known %v, missing %v, top edge %v, want known %v", c.x, e.Known(), e.Missing, e.Top != nil, c.known)
		}
	}
}

// Law: cut in two across, the halves add up to the whole; each half has a wall.
func TestVolumeAddsOverASplit(t *testing.T) {
	d, err := Resolve(pit(6, 4, 2, 1.25), Site{})
	if err != nil {
		t.Fatal(err)
	}
	c := d.CutSurface()
	g := ground.Level(0.2)
	whole := c.Excavate(g)
	west := c.Within(geom.Ring{{X: -3, Y: -2}, {X: 0.7, Y: -2}, {X: 0.7, Y: 2}, {X: -3, Y: 2}}).Excavate(g)
	east := c.Within(geom.Ring{{X: 0.7, Y: -2}, {X: 3, Y: -2}, {X: 3, Y: 2}, {X: 0.7, Y: 2}}).Excavate(g)
	if got := float64(west.Bank + east.Bank); !agrees(got, float64(whole.Bank), 1e-9*float64(whole.Bank)) || west.Bank <= east.Bank {
		t.Errorf("halves %v + %v = %v, want %v (tol 1e-9: rounding)", west.Bank, east.Bank, got, whole.Bank)
	}
	if x := west.Bounds.Max.X; !agrees(x, 0.7, 1e-9) {
		t.Errorf("the western half is dug to %g, want its wall at 0.7", x)
	}
}
