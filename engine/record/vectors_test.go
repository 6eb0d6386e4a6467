package record

import (
	"math"
	"testing"
)

// TestNumberVectors: RFC 8785, appendix B (from memory of its table of IEEE 754
// bits and the ECMAScript form; the two that are no numbers are left out).
func TestNumberVectors(t *testing.T) {
	for _, c := range []struct {
		bits uint64
		want string
	}{
		{0x0000000000000000, "0"},
		{0x8000000000000000, "0"},
		{0x0000000000000001, "5e-324"},
		{0x8000000000000001, "-5e-324"},
		{0x7fefffffffffffff, "1.7976931348623157e+308"},
		{0xffefffffffffffff, "-1.7976931348623157e+308"},
		{0x4340000000000000, "9007199254740992"},
		{0xc340000000000000, "-9007199254740992"},
		{0x4430000000000000, "295147905179352830000"},
		{0x44b52d02c7e14af5, "9.999999999999997e+22"},
		{0x44b52d02c7e14af6, "1e+23"},
		{0x44b52d02c7e14af7, "1.0000000000000001e+23"},
		{0x444b1ae4d6e2ef4e, "999999999999999700000"},
		{0x444b1ae4d6e2ef4f, "999999999999999900000"},
		{0x444b1ae4d6e2ef50, "1e+21"},
		{0x3eb0c6f7a0b5ed8c, "9.999999999999997e-7"},
		{0x3eb0c6f7a0b5ed8d, "0.000001"},
		{0x41b3de4355555553, "333333333.3333332"},
		{0x41b3de4355555554, "333333333.33333325"},
		{0x41b3de4355555555, "333333333.3333333"},
		{0x41b3de4355555556, "333333333.3333334"},
		{0x41b3de4355555557, "333333333.33333343"},
		{0xbecbf647612f3696, "-0.0000033333333333333333"},
		{0x43143ff3c1cb0959, "1424953923781206.2"},
	} {
		if got := string(appendNumber(nil, math.Float64frombits(c.bits))); got != c.want {
			t.Errorf("appendNumber(%#x) = %s, want %s", c.bits, got, c.want)
		}
	}
}

// TestKeyOrderVector: RFC 8785, 3.2.3 (from memory): seven keys in the order of
// their UTF-16 code units.
func TestKeyOrderVector(t *testing.T) {
	want := []string{"\r", "1", "\u0080", "\u00f6", "\u20ac", "\U0001f600", "\ufb33"}
	for i := range want {
		for j := range want {
			if got := lessText(want[i], want[j]); got != (i < j) {
				t.Errorf("lessText(%q, %q) = %v, want %v", want[i], want[j], got, i < j)
			}
		}
	}
	if lessText("a", "a") || !lessText("a", "ab") || lessText("ab", "a") || !lessText("", "a") {
		t.Errorf("lessText mistakes a word for the beginning of another")
	}
}

// TestIDVector: RFC 9562, A.6 (from memory): 2022-02-22 14:22:22.00-05:00, with
// rand_a 0xCC3 and rand_b 0x18C4DC0C0C07398F.
func TestIDVector(t *testing.T) {
	id := NewID(0x017F22E279B0, [10]byte{0x0C, 0xC3, 0x18, 0xC4, 0xDC, 0x0C, 0x0C, 0x07, 0x39, 0x8F})
	const want = "017f22e2-79b0-7cc3-98c4-dc0c0c07398f"
	if got := id.String(); got != want {
		t.Errorf("NewID = %s, want %s", got, want)
	}
	if back, f := ParseID(want); f != nil || back != id || back.Millis() != 1645557742000 {
		t.Errorf("ParseID(%s) = %v at %d, want the id at 1645557742000", want, back, back.Millis())
	}
	for _, bad := range []string{"", "017F22E2-79B0-7CC3-98C4-DC0C0C07398F", "017f22e2-79b0-4cc3-98c4-dc0c0c07398f", "017f22e2-79b0-7cc3-58c4-dc0c0c07398f", want + "0"} {
		if _, f := ParseID(bad); f == nil {
			t.Errorf("ParseID(%q) takes it", bad)
		}
	}
}
