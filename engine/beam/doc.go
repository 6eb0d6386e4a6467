// Package beam is the laser plane and the numbers that hang from it: where the
// beam stands over a point, the grade rod at a dig, the dial that makes one rod
// right along a sloped trench, what a number means under each way of guidance,
// and the numbers from a hub, a string or two control points where no beam
// reaches.
//
// Start with FromBacksights, which gives a Plane, and Plane.GradeRod; for a
// sloped trench with DialForRun; for the strip of clamp heights with ClampStrip.
//
// Signs: x east, y north, z up; a grade rises when positive; a cut is positive
// where earth must go; a larger rod is lower ground. Trust in a plane, its
// reception and the choice of its place lie in other packages.
package beam
