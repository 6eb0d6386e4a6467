// Package estimate solves linear problems with Gaussian noise.
//
// LeastSquares takes all observations at once and returns the unknowns with
// their covariance, the residuals and the figures by which a blunder shows.
// Information takes them one by one, may start from knowing nothing, and says
// of any linear function whether it is determined yet. The two agree.
//
// It is a kernel: values are bare float64 in whatever unit the caller uses; a
// weight is one over a variance in that unit squared, or relative to an unknown
// variance of unit weight. Matrices are dense, which is quick up to some
// 500 unknowns.
package estimate
