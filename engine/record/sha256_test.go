package record

import (
	"crypto/sha256"
	"encoding/hex"
	"testing"

	"pgregory.net/rapid"
)

// The digests of NIST's examples for FIPS 180-4 (csrc.nist.gov, SHA256.pdf) and
// of the empty message (NIST CAVP, SHA256ShortMsg, Len = 0).
func TestPortableSumOfExamples(t *testing.T) {
	for text, want := range map[string]string{
		"":    "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855",
		"abc": "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad",
		"abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq": "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1",
	} {
		sum := portableSum([]byte(text))
		if got := hex.EncodeToString(sum[:]); got != want {
			t.Errorf("portableSum(%q) = %s, want %s", text, got, want)
		}
	}
}

// It is the sum that Go's own package gives, at every length about a block.
func TestPortableSumIsGos(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		data := rapid.SliceOfN(rapid.Byte(), 0, 300).Draw(t, "data")
		if got, want := portableSum(data), Hash(sha256.Sum256(data)); got != want {
			t.Errorf("portableSum(%x) = %x, want %x", data, got, want)
		}
	})
}
