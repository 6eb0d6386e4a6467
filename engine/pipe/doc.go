// Package pipe holds pipe sections, where a trench bottom lies under them, how
// much they carry, and the limits that a laid pipe is held against.
//
// Start with Section for a pipe in hand, Find for one of the catalogue, and
// TrenchBottom. The wall on the pipe ticket goes before the catalogue's. Conduit
// is the hydraulics, Judge the findings about a Pipeline, JudgeNear those about
// a sewer and a water pipe. Limits are data with clause, edition and how well
// each is known; the local code decides.
package pipe
