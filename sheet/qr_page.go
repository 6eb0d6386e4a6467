//go:build page

package sheet

import "spadework/engine/geom"

// code draws nothing: the page's engine shows sheets and prints none, so that it
// is spared the tables of an encoder of codes.
func (c *column) code(string, geom.Point, float64) (ok bool) { return false }
