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
// uncertainty, but for the errors that they are said to share (Problem.With):
// residuals, tests and covariances are then those of correlated observations. Covariances are those the stated uncertainties give; the
// a-posteriori standard deviation of unit weight is beside them and does not
// scale them.
//
// # How large, how long
//
// The equations are sparse: points that are measured to their neighbours only, as
// along a frame, take time in proportion to their number (40 points with 200
// distances 3 ms, 500 with 5,000 0.1 s, 1,000 with 10,000 0.2 s, in space and on
// one processor of two). Strewn so that every point is measured to points
// anywhere, time grows with between the square and the cube (125 points 0.05 s,
// 250 0.15 s, 500 with 5,000 distances 0.6 s). BenchmarkSolve measures it. A fit
// reports each step and ends with its context.
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
