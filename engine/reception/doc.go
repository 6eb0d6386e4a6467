// Package reception says where a laser's beam is received: which beam heights
// at a place serve a receiver at a point, over real ground and past obstacles,
// or why none does.
//
// Start with New, which prepares a Field from a Site; Field.From gives the
// Windows of many Targets from one Laser, Field.Digs those of digs of several
// points, Field.Within quickly what of them lies in a band of heights, Field.Serves and Field.Why answer for one beam height.
//
// # The model
//
// A laser at the place L with gradient g and beam elevation H has its beam over
// p at H + g·(p−L) + k·|p−L|², with k = 6.75e-8 per metre for curvature less
// refraction, or 0. It serves a target at P iff
//
//  1. |P−L| ≤ range;
//  2. the survey speaks at every point of the straight line L–P in plan;
//  3. lowest ≤ beam over P − bottom ≤ highest;
//  4. over every point of L–P, both ends too, the beam is more than the
//     clearance over the ground, and over the top of every obstacle whose closed
//     outline holds that point. To touch is to be blocked.
//
// The ground is the piecewise linear surface of its facets (a grid's cell is two
// triangles); it is as surveyed, the digs not yet dug: a beam under the
// surface is not received though it may be over the bottom.
//
// # What is exact
//
// All figures given are taken as the float64 they are, k as 27/(4·10^8); on
// these every decision above is that of rational arithmetic. So Window.Low is
// the least float64 beam height that serves and Window.High the greatest:
// every one between them serves, no other does. Float64 with derived bounds
// decides what it can, pairs of float64 most of the rest, integers of any size what
// is left. Places, amounts and heights
// in a Reason are rounded.
//
// Along a line the beam rises with H everywhere alike, so the least height that
// clears is the running maximum of ground less plane outward: one pass gives
// every beam height at once, and no angle is needed.
package reception
