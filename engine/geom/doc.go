// Package geom holds points, planes and polygons of the site plan (x east,
// y north, metres) and the one exact orientation test everybody uses.
//
// It is a kernel: coordinates are bare float64 metres in the job's local frame.
package geom
