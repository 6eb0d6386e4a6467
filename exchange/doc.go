// Package exchange reads and writes the files that carry a job in and out:
// tables as CSV, grids. Readers take bytes and give values with their places;
// they open nothing themselves.
//
// Start with ReadJob, which reads a job file and the tables it names.
package exchange
