package ground

import "spadework/engine/geom"

// Breakline is a line the surface bends along, with heights at its points.
type Breakline []Shot

// TIN is a surface of triangles.
type TIN struct{}

// Build triangulates shots and breaklines.
func Build(shots []Shot, breaklines []Breakline, o Options) (*TIN, Report, error) {
	return nil, Report{}, nil
}

// HeightGrid fills out row by row with the heights at origin + (i·dx, j·dy),
// NaN outside the survey.
func (t *TIN) HeightGrid(origin geom.Point, dx, dy float64, cols int, out []float64) {}
