// Package watch judges whether a set-up's beam can still be believed.
//
// A Log holds what was read under one set-up: benchmarks, beam marks, bottoms read
// again, check shots, and when each dig was dug. Judge weighs what may have
// happened (nothing, a bump of the laser, slow settling, a misread rod, a moved or
// wrong benchmark, and pairs of these) by the likelihood of all readings together
// and tells the chance that some dig is out because of the beam, which digs, and
// what to do next. Shewhart, Cusum and Ewma are control charts with their run
// lengths; Closes says how often to close.
//
// What the beam was worth when it was set up is package trust's: here a departure
// is the beam as it is over the beam as it was set up. It is normal, linear in
// height and two tilts, and at most two things happen to one set-up.
package watch
