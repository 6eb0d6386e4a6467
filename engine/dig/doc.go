// Package dig turns an excavation as the drawing gives it into planar parts:
// an outline, the plane of its bottom, and the trace of the arithmetic that led
// to it.
//
// Start with Excavation and Resolve; a Dig then tells the points where numbers
// are wanted (Dig.Points). Dig.CutSurface is what it is cut to with its sides;
// ExcavateAll measures what that takes out of real ground, its top edge and what
// digs that run into each other share. Dig.Bill is what goes back in; Material,
// Truck, Heap and Output tell how it moves.
//
// Stations are horizontal metres from the first point of a run's line. Depths,
// drops and thicknesses are positive downward. Grades are positive where the
// line rises from its first point onward, except Excavation.Fall, which as on
// drawings is positive where it falls.
package dig
