//go:build !page

package sheet

import (
	goqr "github.com/piglig/go-qr"

	"spadework/engine/draw"
	"spadework/engine/geom"
)

// qrQuiet is the blank border of a code in modules (ISO/IEC 18004).
const qrQuiet = 4

// code draws a QR code of an address in a square of paper, its quiet border
// inside it, and links the square. An address too long for any code is left out,
// and ok is false.
func (c *column) code(address string, corner geom.Point, side float64) (ok bool) {
	q, err := goqr.EncodeText(address, goqr.Medium)
	if err != nil {
		return false
	}
	module := side / float64(q.Size()+2*qrQuiet)
	for y := range q.Size() {
		for x := 0; x < q.Size(); x++ {
			if !q.Module(x, y) {
				continue
			}
			from := x
			for x+1 < q.Size() && q.Module(x+1, y) {
				x++
			}
			c.Items = append(c.Items, draw.Item{Pen: draw.Module, Closed: true, Fill: draw.Solid, Points: geom.BoxOf(
				corner.Add(geom.Vector{X: float64(from+qrQuiet) * module, Y: float64(y+qrQuiet) * module}),
				corner.Add(geom.Vector{X: float64(x+1+qrQuiet) * module, Y: float64(y+1+qrQuiet) * module})).Ring()})
		}
	}
	c.links = append(c.links, Link{geom.BoxOf(corner, corner.Add(geom.Vector{X: side, Y: side})), address})
	return true
}
