// Package tape finds what fits a set of measurements best: weighted least
// squares of any observations in any unknowns, and on top of it points in space
// from tape distances, heights, plumb marks, string lines and squares.
//
// # What an answer comes with
//
// Each answer has the covariance of its unknowns, and each observation its
// residual (adjusted less observed), its redundancy (the part of an error in it
// that shows in its own residual; they add up to the degrees of freedom), its
// standardised residual w (Baarda) and the smallest error that the test of w
// would find (minimal detectable).
//
// Observations are taken as independent, each with its own standard
// uncertainty. Covariances are those the stated uncertainties give; the
// a-posteriori standard deviation of unit weight is beside them and does not
// scale them.
//
// # Sources
//
// Least squares, free networks and the tests: C. D. Ghilani, Adjustment
// Computations, chapters 11 to 21; W. Baarda, A Testing Procedure for Use in
// Geodetic Networks (1968). From memory; the numbers are held against published
// networks by the tests.
//
// The package knows no build. Lengths are in one unit throughout, mm in fitup;
// nothing here depends on it.
package tape
