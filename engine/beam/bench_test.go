package beam_test

import (
	"fmt"
	"testing"

	"spadework/engine/beam"
	"spadework/engine/geom"
	"spadework/engine/unit"
)

func BenchmarkGradeRod(b *testing.B) {
	pl := beam.Plane{HI: 100, Gradient: geom.Vector{X: 0.01, Y: -0.02}}
	var sum unit.Reading
	for i := range b.N {
		sum += pl.GradeRod(geom.Point{X: float64(i % 100), Y: 7}, 98)
	}
	if sum != sum {
		b.Fatal("not a number")
	}
}

func BenchmarkClampStrip10000(b *testing.B) {
	rods := make([]beam.ClampRod, 10_000)
	for i := range rods {
		rods[i] = beam.Within(fmt.Sprintf("F%05d", i), 1+unit.Reading(i*7919%10_000)/5000, beam.Band{Above: 0.003, Below: 0.003})
	}
	b.ResetTimer()
	b.ReportAllocs()
	for range b.N {
		if _, f := beam.ClampStrip(rods, 0.001); f != nil {
			b.Fatal(f)
		}
	}
}

func BenchmarkGroups100Runs(b *testing.B) {
	wants := make([]beam.Want, 100)
	for i := range wants {
		to := geom.Point{X: float64(20 + i%7), Y: float64(i % 11)}
		wants[i] = beam.Want{OneRod: true, Allowed: beam.Band{Above: 0.003, Below: 0.003},
			Run: beam.Run{ID: fmt.Sprintf("T%03d", i), To: to, FromElevation: 10, ToElevation: unit.Elevation(9.9 - float64(i%13)/100)}}
	}
	laser := tenPercent(2)
	b.ResetTimer()
	b.ReportAllocs()
	for range b.N {
		if _, _, f := beam.Groups(wants, laser); f != nil {
			b.Fatal(f)
		}
	}
}
