// Package cover chooses the cheapest sets that together hold every element, and
// proves it: the weighted set covering problem, solved exactly.
//
// New takes a Problem, Step works on it for a count of work, Best, Bound and
// Proven tell what is known so far. There is no clock and no chance: the same
// problem and the same total of work give the same answer on every machine, and
// many small steps end where one large step ends. Stopping is not stepping any
// more; the best cover so far stands.
//
// The method, in the order it runs:
//
//	reduce      drop elements whose sets include all sets of another element,
//	            drop sets inside one that costs no more, take a set that alone
//	            holds an element, until nothing changes; split what is left
//	            into components
//	search      row-weighting local search, for a good cover early
//	ascent      Lagrangian bound by subgradients; sets whose reduced cost says
//	            that they are in no better cover go
//	relax       linear relaxation by the dual simplex method on a dictionary
//	            that keeps only the rows that bind
//	branch      depth first, strong branching; dominance, relaxation and reduced
//	            costs again in each node
//
// A tree looks for covers up to a limit only; where more than one step of cost
// is open, the limit rises from the bound, so that the bound improves early.
//
// Floating point only proposes. A bound counts only after its multipliers have
// been rounded to integers and the Lagrangian bound of these has been summed in
// integers (see prove), so the proof has no rounding error to allow for.
package cover
