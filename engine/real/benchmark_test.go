package real

import (
	"math"
	"testing"
)

var sink float64

func BenchmarkExp(b *testing.B) {
	for name, f := range map[string]func(float64) float64{"ours": Exp, "math": math.Exp} {
		b.Run(name, func(b *testing.B) {
			for i := range b.N {
				sink += f(float64(i&1023) / 64)
			}
		})
	}
}

func BenchmarkNormalCDF(b *testing.B) {
	for i := range b.N {
		sink += NormalCDF(float64(i&1023)/128 - 4)
	}
}
