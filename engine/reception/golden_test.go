package reception_test

import (
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"math"
	"testing"

	"spadework/engine/reception"
)

// goldenWindows is the hash of what From says of 60 random sites. The check
// command runs it natively and in WebAssembly: both must say the same
// (formulations, point 1).
const goldenWindows = "657a09548a3492a2b68c1fa0"

func TestWindowsAreTheSameOnEveryMachine(t *testing.T) {
	sum := sha256.New()
	put := func(values ...float64) {
		for _, v := range values {
			var word [8]byte
			binary.BigEndian.PutUint64(word[:], math.Float64bits(v))
			sum.Write(word[:])
		}
	}
	for seed := range uint64(60) {
		d := drawSite(t, 5000+seed)
		f, err := reception.New(d.site)
		if err != nil {
			t.Fatal(err)
		}
		var s reception.Scratch
		for range 40 {
			l, target := d.pair()
			w := f.From(l, []reception.Target{target}, &s)[0]
			put(float64(w.Low), float64(w.High), float64(w.Why.Kind), float64(w.Why.By), w.Why.At.X, w.Why.At.Y)
		}
	}
	if got := hex.EncodeToString(sum.Sum(nil)[:12]); got != goldenWindows {
		t.Errorf("hash of 2 400 windows = %s, want %s", got, goldenWindows)
	}
}
