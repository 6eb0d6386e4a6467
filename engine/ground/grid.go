package ground

import "spadework/engine/geom"

// GridData is a regular grid of elevations.
type GridData struct {
	Origin     geom.Point // south-west node
	DX, DY     float64    // spacing of nodes east and north, metres, > 0
	Cols, Rows int
	Z          []float64 // row by row from the south, NaN = no data
}
