package trust_test

import (
	"fmt"
	"testing"

	"spadework/engine/beam"
	"spadework/engine/geom"
	"spadework/engine/trust"
	"spadework/engine/unit"
)

// office is a laser of 10″ that will be read on one benchmark 20 m off, or two.
func office(benchmarks int) (*trust.Belief, trust.Way) {
	control := trust.Control{Points: []trust.Point{
		{ID: "BM1", At: geom.Point{X: -20}, Known: true, Sigma: 2 * unit.Millimetre},
		{ID: "BM2", At: geom.Point{X: 60, Y: 40}, Known: true, Sigma: 2 * unit.Millimetre},
	}[:benchmarks]}
	laser := trust.Setup{ID: "A1", Laser: "L1", Prior: trust.FromAccuracy(unit.Grade(10 * unit.ArcSecond))}
	b, _ := trust.Predict(laser, control, 2*unit.Millimetre)
	return b, trust.Way{DeadBand: 6 * unit.Millimetre, Cutting: 10 * unit.Millimetre, Trimming: 3 * unit.Millimetre}
}

// What a second backsight is worth before it is read.
func ExamplePredict() {
	band := beam.Band{Above: 10 * unit.Millimetre, Below: 10 * unit.Millimetre}
	for n := 1; n <= 2; n++ {
		b, way := office(n)
		o := b.At(geom.Point{X: 50, Y: 10}, 2.4, way)
		fmt.Printf("%d: beam ±%.1f mm, bottom ±%.1f mm, in %.3f, over-dig %.3f, %s\n", n,
			o.Beam/unit.Millimetre, o.Final/unit.Millimetre, o.Within(band, 0), o.Over(band, 0), trust.Judge(o, band, 0, 0.95))
	}
	// Output:
	// 1: beam ±3.5 mm, bottom ±4.9 mm, in 0.959, over-dig 0.175, check
	// 2: beam ±2.2 mm, bottom ±4.1 mm, in 0.986, over-dig 0.168, check
}

func BenchmarkOutlook(b *testing.B) {
	belief, way := office(2)
	band := beam.Band{Above: 10 * unit.Millimetre, Below: 10 * unit.Millimetre}
	b.ReportAllocs()
	sum := unit.Chance(0)
	for b.Loop() {
		o := belief.At(geom.Point{X: 50, Y: 10}, 2.4, way)
		sum += o.Within(band, 0) + o.Over(band, 0)
	}
	if sum == 0 {
		b.Fatal("nothing computed")
	}
}

func BenchmarkPredict(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if belief, _ := office(2); !belief.Known() {
			b.Fatal("not known")
		}
	}
}
