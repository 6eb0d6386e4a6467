package sheet

import "testing"

func TestUnbrokenTiesFiguresToFractionAndUnit(t *testing.T) {
	for text, want := range map[string]string{
		"8'-1 1/8\" from foot": "8'-1\u00a01/8\" from foot",
		"0.024 m high, 2 % so": "0.024\u00a0m high, 2\u00a0% so",
		"P1 P2, at 3 corners":  "P1 P2, at 3 corners",
		"5 more":               "5 more",
		"25 ft of travel":      "25\u00a0ft of travel",
	} {
		if got := Unbroken(text); got != want {
			t.Errorf("Unbroken(%q) = %q, want %q", text, got, want)
		}
	}
}
