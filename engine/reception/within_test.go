package reception_test

import (
	"math/rand/v2"
	"testing"

	"spadework/engine/reception"
	"spadework/engine/unit"
)

// Within is what From's windows and the band have in common, on sites of every
// kind; From itself is held against the referee.
func TestWithinIsFromCutToABand(t *testing.T) {
	open, cut := 0, 0
	for seed := range uint64(300) {
		d := drawSite(t, 9000+seed)
		f, err := reception.New(d.site)
		if err != nil {
			t.Fatal(err)
		}
		var s reception.Scratch
		r := rand.New(rand.NewPCG(seed, 3))
		for range 40 {
			l, target := d.pair()
			targets := []reception.Target{target}
			for range r.IntN(3) {
				_, next := d.pair()
				targets = append(targets, next)
			}
			want := reception.Window{Low: unit.Elevation(3*r.Float64() - 0.5), High: unit.Elevation(4 * r.Float64())}
			band := want
			for _, w := range f.From(l, targets, &s) {
				want.Low, want.High = max(want.Low, w.Low), min(want.High, w.High)
			}
			got := f.Within(l, band.Low, band.High, []reception.Dig{{Targets: targets}}, &s)[0]
			if got.Open() != want.Open() || want.Open() && got != want {
				t.Fatalf("%s: Within(%+v, %v, %+v) = %+v, want %+v", d.name, l, band, targets, got, want)
			}
			if got.Open() {
				open++
				if got != band {
					cut++
				}
			}
		}
	}
	if open < 1000 || cut < 500 {
		t.Errorf("%d open windows, %d narrower than their band, want 1000 and 500 so that the comparison tells", open, cut)
	}
}
