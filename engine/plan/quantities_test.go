package plan_test

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"testing"

	"spadework/engine/plan"
	"spadework/engine/unit"
	"spadework/exchange"
)

// measured plans a job written in the test.
func measured(t *testing.T, text string) *plan.Plan {
	t.Helper()
	j, _, err := exchange.ReadJob("job.toml", []byte(text), func(name string) ([]byte, error) {
		return os.ReadFile(filepath.Join("testdata", name))
	})
	if err != nil {
		t.Fatal(err)
	}
	p, f := plan.Make(j)
	if f != nil {
		t.Fatal(f)
	}
	return p
}

const yard = `[job]
name = "yard"
units = "m"
[ground]
level = 0
[spoil]
material = "sand"
[[material]]
id = "sand"
swell = "12 %"
shrinkage = "10 %"
bank_density = 1900
repose = 32
source = "weighed on site"
[trucks]
volume = 6
payload_kg = 9000
[[machine]]
id = "M"
type = "tracked"
guidance = "rod"
buckets = [{ volume = 0.3 }]
`

func footingAt(id, at, more string) string {
	return "[[excavation]]\nid = \"" + id + "\"\nkind = \"footing\"\nat = " + at +
		"\nsize = [4, 3]\nbottom = { elevation = -2 }\ntolerance = \"20 mm\"\n" + more
}

// Law: the shares add up to the site's volume, bit for bit; the common
// bottom of two digs of one depth goes to the smaller id.
func TestSharesAddUpExactly(t *testing.T) {
	p := measured(t, yard+footingAt("F2", "[3, 0]", "sides = \"1:1\"\n")+footingAt("F1", "[0, 0]", "sides = \"1:1\"\n")+footingAt("F3", "[40, 0]", ""))
	sum := unit.Volume(0)
	for _, d := range p.Digs {
		sum += d.Earth.Share
	}
	if sum != p.Quantities.Bank {
		t.Errorf("shares add up to %v, the site digs %v", sum, p.Quantities.Bank)
	}
	f1, f2, f3 := p.Digs[0].Earth, p.Digs[1].Earth, p.Digs[2].Earth
	if !(f1.Share > f2.Share && f1.Share < f1.Bank) || f3.Share != f3.Bank {
		t.Errorf("shares %v %v %v of %v %v %v, want the common bottom with F1 and F3 whole", f1.Share, f2.Share, f3.Share, f1.Bank, f2.Bank, f3.Bank)
	}
	// Two equal digs 3 m apart along x are one of 7 m: abD + s(a+b)D² + 4/3 s²D³.
	want := 7*3*2 + 10.0*4 + 4.0/3*8
	if got := float64(f1.Share + f2.Share); !(math.Abs(got-want) <= 1e-9*want) {
		t.Errorf("both dig %.12g m³, want %.12g", got, want)
	}
}

// The bill of a footing: concrete 4 × 3 × 0.5, blinding on the dug outline, the
// rest backfill; what is left over goes in trucks, by weight here.
func TestBillOfAFooting(t *testing.T) {
	p := measured(t, yard+footingAt("F1", "[0, 0]", "concrete = 0.5\nblinding = 0.05\nsides_at = { working = 0.5 }\n"))
	e := p.Digs[0].Earth
	dug, concrete, blinding := 5*4*2.05, 4*3*0.5, 5*4*0.05
	fill := dug - concrete - blinding
	left := dug - fill/0.9
	for _, c := range []struct {
		name      string
		got, want float64
	}{
		{"bank", float64(e.Bank), dug}, {"concrete", float64(*e.Bill.Concrete), concrete}, {"blinding", float64(e.Bill.Blinding), blinding},
		{"backfill", float64(*e.Bill.Backfill), fill}, {"left over", float64(*e.Surplus), left}, {"loose", float64(*e.Loose), dug * 1.12},
		{"hauled", float64(e.Hauled.Loose), left * 1.12}, {"mass", e.Hauled.Mass, left * 1900},
	} {
		if !(math.Abs(c.got-c.want) <= 1e-9*math.Abs(dug)) {
			t.Errorf("%s = %.10g, want %.10g m³ or kg (tol: rounding)", c.name, c.got, c.want)
		}
	}
	if l := e.Hauled.Loads; l.ByVolume != int(math.Ceil(left*1.12/6)) || l.ByWeight != int(math.Ceil(left*1900/9000)) {
		t.Errorf("loads %+v of %.3f m³ and %.0f kg", l, left*1.12, left*1900)
	}
	if !(e.Hours.Least > 0 && e.Hours.Most > e.Hours.Least) {
		t.Errorf("hours %+v, want a range", e.Hours)
	}
}

// A heap fits where the room beside the set-back takes its base, and does not one
// millimetre closer.
func TestRoomForTheHeap(t *testing.T) {
	base := func(p *plan.Plan) unit.Length { return p.Digs[0].Earth.Heap.Base }
	alone := measured(t, yard+footingAt("F1", "[0, 0]", ""))
	h := alone.Digs[0].Earth.Heap
	if h == nil || h.Room != nil || !h.Fits || h.Setback != 2*unit.Foot {
		t.Fatalf("heap on open ground = %+v, want one that fits, 2 ft back", h)
	}
	for _, c := range []struct {
		more float64
		fits bool
	}{{0.001, true}, {-0.001, false}} {
		// Keep-outs all round leave the heap's width on the long side alone.
		free := float64(base(alone)+h.Setback) + c.more
		y := 1.5 + free
		p := measured(t, yard+footingAt("F1", "[0, 0]", "")+ring(y))
		if got := p.Digs[0].Earth.Heap; got.Fits != c.fits || got.Room == nil || !(math.Abs(float64(*got.Room)-free+float64(h.Setback)) < 1e-6) {
			t.Errorf("keep-out %g m off: heap %+v, want fits %v", free, got, c.fits)
		}
	}
}

// ring is four keep-outs: close on three sides, the fourth with its edge at y.
func ring(y float64) string {
	out := ""
	for i, box := range [][4]float64{{-20, y, 20, y + 5}, {-20, -9, 20, -2}, {2.2, -9, 9, 1}, {-9, -9, -2.2, 1}} {
		id := string(rune('A' + i))
		out += "[[keepout]]\nid = \"" + id + "\"\nreason = \"test\"\noutline = [" +
			pair(box[0], box[1]) + ", " + pair(box[2], box[1]) + ", " + pair(box[2], box[3]) + ", " + pair(box[0], box[3]) + "]\n"
	}
	return out
}

func pair(x, y float64) string { return fmt.Sprintf("[%.6f, %.6f]", x, y) }
