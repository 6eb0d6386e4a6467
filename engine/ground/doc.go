// Package ground is the survey surface: a constrained Delaunay triangulation
// of shots and breaklines (Build), a regular grid (NewGrid) or a level
// (Level), all asked through Surface: height, slope, profile, sight line,
// contour, lowest ground along an outline.
//
// Outside the survey there is no height, never a guess. Coordinates are bare
// float64 metres in the job's local frame. Surfaces do not change once built
// and may be read from many goroutines.
package ground
