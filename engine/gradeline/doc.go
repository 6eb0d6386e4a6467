// Package gradeline finds the grade line of a run whose drawing leaves the
// grade open: the one with the least digging that keeps a least cover at every
// point of the ground and a least and most fall, passes what it must pass and
// meets the inverts that are fixed.
//
// Start with Problem and Find. The line is found, not searched for: where it may
// bend anywhere it is the highest line that the rules allow, point by point, and
// so the least digging for sides of any shape; where its bends are given it is
// the optimum of a linear programme whose cost is width × depth. Rules that
// cannot be kept together are told as a Clash.
//
// Stations are horizontal metres from the first point. The line is the flow line
// of a pipe, or the line of a cable.
package gradeline
