// Package instrument turns readings of a gauge or a tape into uncertain numbers.
//
// One reading is the truth and
//
//   - the scatter from one reading to the next, of its own;
//   - half a step of the display, rectangular;
//   - the instrument's accuracy, a bound and rectangular, the same for all
//     readings of one surface: it does not average away, and another surface is
//     the repeat that helps;
//   - the error of its zero, the same on all readings, with the sign that it has
//     on each: where that sign is not known, the worse one;
//   - the error of its scale, in proportion to what was read.
//
// # Scatter
//
// The scatter is the larger of the stated repeat and the pooled standard
// deviation of all repeats with the instrument. A stated repeat is a bound and
// belongs to a single reading too. Where nothing is stated, what a few repeats
// show is an estimate with few degrees of freedom, and Student's factor follows
// from it. That alone would punish a second reading: two that are within the
// accuracy of each other would make the result ten times as uncertain as one. The
// accuracy of a single reading, typed without a repeat, is taken as all there is;
// then the mean of several lies no farther from the truth than that and its
// distance from one of them. No reading is made worse by repeats than by so much.
//
// Readings that differ by more than all this explains make no number.
package instrument
