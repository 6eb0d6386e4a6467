// Package stands decides where the machine stands, in what order, what it digs
// from each stand and where the spoil goes: fewest stands first, least travel
// next.
//
// New takes a Problem, Step works on it for a count of work, Best and Bound tell
// what is known. Play moves a machine through a Plan and finds the first rule
// that it breaks; it shares no geometry with the planner. Along is the exact
// answer for the cells of one trench that are dug in their order.
//
// The rules of a plan:
//
//	stand    the footprint is on allowed ground no steeper than the machine
//	         works on, off every keep-out, its tail swings clear of walls, and
//	         with the set-back clear of the daylight outline of every cell
//	         that is open or is dug from it
//	cell     lies whole in the column of reach down to its depth under where
//	         the machine stands, which has the beam if need be, after every
//	         cell that has to be open before it, exactly once
//	path     the machine drives straight along its own bearing to a place
//	         where it can turn, then from such a place to the next, then
//	         straight in along the bearing of the stand; where it can turn, the
//	         circle about its farthest corner is clear as the footprint is
//	heap     a cone at the angle of repose that the bucket empties over, off
//	         keep-outs and lines of sight, back from every cell of the plan, and
//	         off its own and every later footprint, tail swing and path
//	truck    stands within dump reach on a place from which, with all open, a way
//	         as wide as the machine's turning leads to the entry
//
// Spoil with neither a heap nor a truck within dump reach is told as Carted.
// The stands of the cover without order bound their number from below; places
// are those of a lattice, so that "fewest" is among them.
package stands
