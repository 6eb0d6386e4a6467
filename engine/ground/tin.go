package ground

import "spadework/engine/geom"

// TIN is a surface of triangles.
type TIN struct {
	mesh
	z     []float64
	rows  []int32 // index in the input of each vertex
	shots int     // how many of the input are shots; the rest are breakline points
	box   geom.Box
}
