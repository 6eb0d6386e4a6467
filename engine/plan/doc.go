// Package plan is the entrance of the engine: a job in, every number the crew
// needs out.
//
// Make resolves the digs, the beams of the set-ups and the rod at every point.
// The Plan holds typed values in the job's local frame; AppendJSON gives the
// contract, in job coordinates turned to metres.
package plan
