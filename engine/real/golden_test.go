package real

import (
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"math"
	"os"
	"os/exec"
	"runtime"
	"strings"
	"testing"
)

// goldenValues is how many values of each function the golden hash covers.
const goldenValues = 20_000

// golden are functions with the range of their arguments and the hash of their
// values. The same hashes must come out natively, without FMA and in wasm:
//
//	GOOS=js GOARCH=wasm go test -exec "$(go env GOROOT)/lib/wasm/go_js_wasm_exec" ./engine/real
var golden = []struct {
	name      string
	f         func(float64) float64
	low, high float64
	hash      string
}{
	{"Exp", Exp, -745, 710, "0092c3a5e0fdce271fdb769c"},
	{"Expm1", Expm1, -60, 710, "6ec0073294c0826c9d36011f"},
	{"Log", Log, 0, 1e6, "94a89719bb81c89643a887e9"},
	{"Log1p", Log1p, -1, 10, "0bcc92a55453061900fc6dcf"},
	{"Erf", Erf, -6.5, 6.5, "b00e042346024a17629f6263"},
	{"Erfc", Erfc, -7, 28, "2f7a5afa38e3d35bf7488240"},
	{"Sinh", Sinh, -25, 25, "426539f62071fab17ea719c3"},
	{"Cosh", Cosh, -711, 711, "c8c174d2d43a88c9ee5861ae"},
	{"Tanh", Tanh, -25, 25, "50978e989fca3c7844b8ac62"},
	{"Pow(x, 2/3)", func(x float64) float64 { return Pow(x, 2.0/3) }, 0, 1000, "d5105dfd1e8216eeacb8ce40"},
	{"Pow(1.7, x)", func(x float64) float64 { return Pow(1.7, x) }, -50, 50, "1e8f535b500177a4759d56fb"},
	{"Hypot(x, 3)", func(x float64) float64 { return Hypot(x, 3) }, -100, 100, "00d126bb4d8449e596fd3bf6"},
	{"NormalDensity", NormalDensity, -39, 39, "55bd6bc698f89382c2bf5f78"},
	{"NormalCDF", NormalCDF, -39, 10, "d9433ac53dd11741f29a0fed"},
	{"NormalLogCDF", NormalLogCDF, -50, 10, "419013e09a4bc2142525c6b8"},
	{"NormalQuantile", NormalQuantile, 0, 1, "eb6142490cacaf0937b114be"},
	{"ChiSquareOver(x, 9)", func(x float64) float64 { return ChiSquareOver(x, 9) }, 0, 60, "c36d44b19e66f6426aca3fe1"},
	{"StudentWithin(x, 6)", func(x float64) float64 { return StudentWithin(x, 6) }, 0, 30, "8e3ddca0fab25542d026aa5d"},
}

// sequence is a splitmix64 generator (S. Vigna, public domain) of numbers from 0
// up to 1.
type sequence uint64

func (s *sequence) next() float64 {
	*s += 0x9e3779b97f4a7c15
	z := uint64(*s)
	z = (z ^ z>>30) * 0xbf58476d1ce4e5b9
	z = (z ^ z>>27) * 0x94d049bb133111eb
	return float64((z^z>>31)>>11) / (1 << 53)
}

// between is the next number of the sequence in a range.
func (s *sequence) between(low, high float64) float64 {
	return low + float64((high-low)*s.next())
}

// hashOf is the hash of the values of f at random arguments, a quarter of them
// in the middle of the range where that holds 0.
func hashOf(f func(float64) float64, low, high float64) string {
	sum := sha256.New()
	var s sequence
	for i := range goldenValues {
		x := s.between(low, high)
		if i%4 == 0 {
			x /= 64
		}
		var word [8]byte
		binary.BigEndian.PutUint64(word[:], math.Float64bits(f(x)))
		sum.Write(word[:])
	}
	return hex.EncodeToString(sum.Sum(nil)[:12])
}

func TestGolden(t *testing.T) {
	for _, g := range golden {
		if got := hashOf(g.f, g.low, g.high); got != g.hash {
			t.Errorf("hash of %d values of %s = %s, want %s", goldenValues, g.name, got, g.hash)
		}
	}
}

// TestGoldenCanFail: the last bit of one value shows in the hash.
func TestGoldenCanFail(t *testing.T) {
	n := 0
	off := func(x float64) float64 {
		if n++; n == goldenValues/2 {
			return math.Nextafter(Exp(x), 0)
		}
		return Exp(x)
	}
	if hashOf(off, -1, 1) == hashOf(Exp, -1, 1) {
		t.Error("one bit changed and the hash did not")
	}
}

// TestGoldenWithoutFMA runs the golden test again in a process that may not use
// the processor's fused multiply-add.
func TestGoldenWithoutFMA(t *testing.T) {
	if runtime.GOOS == "js" || runtime.GOOS == "wasip1" {
		t.Skip("wasm starts no processes and has no fused multiply-add")
	}
	run := exec.Command(os.Args[0], "-test.run=^TestGolden$", "-test.v")
	run.Env = append(os.Environ(), "GODEBUG=cpu.fma=off")
	out, err := run.CombinedOutput()
	if err != nil || !strings.Contains(string(out), "--- PASS: TestGolden") {
		t.Errorf("golden hashes with GODEBUG=cpu.fma=off: %v\n%s", err, out)
	}
}
