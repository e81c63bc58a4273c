// Package wheel holds tyres, and the speeds of engine, shaft and road that
// follow from them.
//
// Lengths are mm, speeds of rotation rad/s, road speeds mm/s; RPM, KmH and MPH
// turn the usual units into these. Ratios say how many times slower the output
// turns: 3.73 for an axle, 0.7 for an overdrive.
package wheel
