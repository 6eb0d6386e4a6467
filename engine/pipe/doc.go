// Package pipe holds pipe sections and where a trench bottom lies under them.
//
// Start with Section for a pipe in hand, Find for one of the catalogue, and
// TrenchBottom. The wall on the pipe ticket goes before the catalogue's.
package pipe
