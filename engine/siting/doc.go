// Package siting chooses where the laser stands: the fewest set-ups that
// receive every cell of the digs, among them the smallest worst error, among
// these the least walking.
//
// New takes a Problem, Step works on it for a count of work, Best tells the
// plan so far and Proof how far it is proven. There is no clock: the same
// problem and the same total of work give the same plan on every machine.
//
// A candidate is a place, a gradient and a cell of beam heights between the
// ends of what digs and benchmarks receive; of each place and gradient only
// those stay whose served digs are in no other's. A new dial is a set-up of its
// own; dialled anew on the same tripod it costs no walk. Places are a lattice
// that the caller gives, refined near the good ones. Fewest means fewest among
// the final list of candidates.
//
// The package knows no job: it takes who receives what from a Receiver and how
// well a number is known from a Judge.
package siting
