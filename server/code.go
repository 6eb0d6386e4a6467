package server

import (
	"fmt"
	"strings"

	goqr "github.com/piglig/go-qr"
)

// codeQuiet is the blank border of a code in modules (ISO/IEC 18004).
const codeQuiet = 4

// Code is a QR code as an SVG path of unit squares, its quiet border inside.
type Code struct {
	Size int    `json:"size" doc:"modules along a side, with the border"`
	Path string `json:"path"`
}

// codeOf draws an address.
func codeOf(address string) (Code, error) {
	q, err := goqr.EncodeText(address, goqr.Medium)
	if err != nil {
		return Code{}, err
	}
	var b strings.Builder
	for y := range q.Size() {
		for x := 0; x < q.Size(); x++ {
			from := x
			for x < q.Size() && q.Module(x, y) {
				x++
			}
			if x > from {
				fmt.Fprintf(&b, "M%d %dh%dv1h-%dz", from+codeQuiet, y+codeQuiet, x-from, x-from)
			}
		}
	}
	return Code{q.Size() + 2*codeQuiet, b.String()}, nil
}
