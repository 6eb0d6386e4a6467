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
//	relax       linear relaxation by the dual simplex method on a dictionary
//	            that keeps only the rows that bind
//	fix         sets whose reduced cost says they are in no better cover
//	cut         zero-half cuts
//	branch      depth first, strong branching, all of the above in each node
//
// Floating point only proposes. A bound counts only after its multipliers have
// been rounded to integers and the Lagrangian bound of these has been summed in
// integers (see certify), so the proof has no rounding error to allow for.
package cover
