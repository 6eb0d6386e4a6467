// Package dig turns an excavation as the drawing gives it into planar parts:
// an outline, the plane of its bottom, and the trace of the arithmetic that led
// to it.
//
// Start with Excavation and Resolve; a Dig then tells the points where numbers
// are wanted (Dig.Points). Volumes and cut surfaces are not told here yet.
//
// Stations are horizontal metres from the first point of a run's line. Depths,
// drops and thicknesses are positive downward. Grades are positive where the
// line rises from its first point onward, except Excavation.Fall, which as on
// drawings is positive where it falls.
package dig
