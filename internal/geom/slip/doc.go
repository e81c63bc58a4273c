// Package slip lists what a person likely did wrong when a number was read and written
// down, and what the number would have been without it: digits that changed places,
// another unit, the other end lower. Which of them it was is asked of the measurements
// beside it: see Likely.
//
// The kinds are common practice, no source; which is thought of first is a rule of
// thumb.
package slip
