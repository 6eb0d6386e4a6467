package reception

// larger and smaller are max and min of numbers that are not NaN: compilers make
// one comparison of them, where the built-in ones cost a call on some machines.

func larger(a, b float64) float64 {
	if a > b {
		return a
	}
	return b
}

func smaller(a, b float64) float64 {
	if a < b {
		return a
	}
	return b
}

func largest3(v *[3]float64) float64 { return larger(larger(v[0], v[1]), v[2]) }

func smallest3(v *[3]float64) float64 { return smaller(smaller(v[0], v[1]), v[2]) }

// share01 is t, at least 0 and at most 1.
func share01(t float64) float64 { return smaller(1, larger(0, t)) }
