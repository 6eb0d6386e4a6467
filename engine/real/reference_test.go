package real

import (
	"bufio"
	_ "embed"
	"math"
	"strconv"
	"strings"
	"testing"
)

//go:embed testdata/reference.csv
var reference string

// ulps is how many float64 lie between a and b; NaN or a different sign counts
// as endlessly many.
func ulps(a, b float64) uint64 {
	if a == b {
		return 0
	}
	if math.IsNaN(a) || math.IsNaN(b) || math.Signbit(a) != math.Signbit(b) {
		return math.MaxUint64
	}
	i, j := math.Float64bits(a), math.Float64bits(b)
	if i < j {
		i, j = j, i
	}
	return i - j
}

func TestUlpsCanFail(t *testing.T) {
	if ulps(1, math.Nextafter(1, 2)) != 1 || ulps(math.NaN(), math.NaN()) < 1e9 || ulps(1, -1) < 1e9 {
		t.Error("ulps(…) does not tell values apart")
	}
}

// unary are the functions of one argument with the error allowed, in ulp.
var unary = map[string]struct {
	f   func(float64) float64
	max uint64
}{
	"exp": {Exp, 1}, "expm1": {Expm1, 1}, "log": {Log, 1}, "log1p": {Log1p, 3},
	"erf": {Erf, 1}, "erfc": {Erfc, 2},
	"sinh": {Sinh, 3}, "cosh": {Cosh, 2}, "tanh": {Tanh, 3},
	"normalcdf": {NormalCDF, 3}, "normallogcdf": {NormalLogCDF, 3},
	"normaldensity": {NormalDensity, 3}, "normalquantile": {NormalQuantile, 4},
}

// withTwo are the functions of two; the sums of Student and chi-square are told
// to 1e-13 rather than in ulp.
var withTwo = map[string]struct {
	f   func(x, y float64) float64
	max uint64
}{
	"pow": {Pow, 2}, "hypot": {Hypot, 1},
	"studentwithin": {func(t, n float64) float64 { return StudentWithin(t, int(n)) }, 20},
	"chisquareover": {func(x, n float64) float64 { return ChiSquareOver(x, int(n)) }, 4000},
}

// TestReference checks against mpmath (see testdata/README.md).
func TestReference(t *testing.T) {
	seen := map[string]uint64{}
	lines := bufio.NewScanner(strings.NewReader(reference))
	for lines.Scan() {
		if strings.HasPrefix(lines.Text(), "#") {
			continue
		}
		field := strings.Split(lines.Text(), ",")
		name, second, _ := strings.Cut(field[0], " ")
		x, want := number(t, field[1]), number(t, field[2])
		var got float64
		var limit uint64
		if u, ok := unary[name]; ok {
			got, limit = u.f(x), u.max
		} else if b, ok := withTwo[name]; ok {
			got, limit = b.f(x, number(t, second)), b.max
		} else {
			t.Fatalf("no function %q", name)
		}
		off := ulps(got, want)
		seen[name] = max(seen[name], off)
		if off > limit {
			t.Errorf("%s(%v %s) = %v, want %v (off %d ulp, tol %d)", name, x, second, got, want, off, limit)
		}
	}
	if len(seen) != len(unary)+len(withTwo) {
		t.Errorf("reference.csv tests %d functions, want %d", len(seen), len(unary)+len(withTwo))
	}
	t.Log("largest errors in ulp:", seen)
}

func number(t *testing.T, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}
