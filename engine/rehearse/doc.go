// Package rehearse simulates job-days, so that what the program says of chances
// can be held against what happens.
//
// A Day is made by nature: a true beam that is rotated, not linearised, benchmarks
// that are off, rods that lean, receivers that show On over a dead band and faces
// read to a step. Of it the program gets the Records only; Truth is kept for the
// referee. Calibrate and Flatness are the referee. Everything is drawn from a
// seed: the same seed gives the same day on every machine.
package rehearse
