package draw_test

import (
	"strings"
	"testing"

	"spadework/engine/draw"
)

// TestHandDigIsHatched: what lies in the zone of a service that nobody has seen
// is hatched in the pen of the service, and no longer once it is seen.
func TestHandDigIsHatched(t *testing.T) {
	count := func(text string) int {
		p := planned(t, text, noFiles)
		n := 0
		for _, it := range draw.SitePlan(p, voice(p), sitePapers[0]).Items {
			if it.Pen == draw.Service && it.Text == "" {
				n++
			}
		}
		return n
	}
	seen := strings.Replace(neighbours, "kind = \"gas\"", "kind = \"gas\"\nexposed = { by = \"A. Digger\", top = 1 }", 1)
	if unseen, without := count(neighbours), count(seen); !(unseen > without) {
		t.Errorf("%d strokes over the zone of a service nobody has seen, %d once it is seen; want more", unseen, without)
	}
}
