package dig

import (
	"math"
	"testing"

	"spadework/engine/geom"
	"spadework/engine/ground"
)

// A dig whose two parts are one and the same hole: the hand methods count it once,
// as the exact volume does.
func TestHandMethodsCountOverlapsOnce(t *testing.T) {
	whole := Excavation{ID: "L", Kind: Pit, Outline: geom.Ring{{}, {X: 10}, {X: 10, Y: 4}, {Y: 4}}, Bottom: Bottom{Rule: ByElevation, Elevation: -2}}
	d := resolve(t, whole, Site{})
	half := d.Parts[0]
	d.Parts = append(d.Parts[:1:1], half) // the same part twice: all of it is shared
	g := ground.Level(0)
	bank := d.CutSurface().Excavate(g).Bank
	share := d.Overlap(g, bank)
	if !(math.Abs(share-0.5) <= 1e-9) {
		t.Errorf("Overlap = %v, want 0.5 (tol 1e-9)", share)
	}
	v, ok := d.ByHand(d.CutSurface(), g, 0)
	if got := v.Times(share).EndArea; !ok || !(math.Abs(float64(got-bank)) <= 1e-6*float64(bank)) {
		t.Errorf("end area counted once = %v, want %v (tol 1e-6)", got, bank)
	}
}
