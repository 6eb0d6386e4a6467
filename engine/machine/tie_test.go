package machine

import (
	"slices"
	"testing"
)

// TestTies holds what ends a tie (common practice): sensors lose their zero with
// the machine's frame or its bucket, a rod never does.
func TestTies(t *testing.T) {
	for _, guidance := range []string{"rod", "stick_receiver", "sensors_beam", "sensors_touch", "none"} {
		for _, e := range Events() {
			want := Keep
			teeth := slices.Contains([]Event{BucketChanged, CouplerChanged, TeethChanged}, e)
			switch {
			case guidance == "sensors_beam" || guidance == "sensors_touch":
				want = Void
			case guidance == "stick_receiver" && teeth:
				want = Reclamp
			}
			if got := EffectOf(guidance, e); got != want {
				t.Errorf("EffectOf(%s, %s) = %s, want %s", guidance, e, got, want)
			}
			rows := 0
			for _, r := range Ties() {
				if r.Guidance == guidance && r.Event == e && r.Source != "" {
					rows++
				}
			}
			if rows != 1 {
				t.Errorf("%s, %s: %d rows with a source, want 1", guidance, e, rows)
			}
		}
	}
	if got := EffectOf("", TracksMoved); got != Void {
		t.Errorf("EffectOf of no guidance = %s, want void: unknown is the worst", got)
	}
	if got, want := len(Ties()), 5*len(Events()); got != want {
		t.Errorf("%d rows, want %d", got, want)
	}
}
