// Package pickup says where a spring tower, a rod's bracket or the bushes of an
// anti-roll bar have to stand, and what the travel of the wheel does to what is fixed
// to them.
//
// # Frame
//
// Vehicle axes: X rearward, Y to the driver's right, Z up; mm, radians, N, N/mm. All
// points are given where they stand at ride height. A rise is how far the wheel centre
// has gone up from there, in mm: bump is positive, droop negative. The chassis is held
// still.
//
// # Motion
//
// A Path is how a wheel goes up and down: on two arms, on a strut, rigid with an arm,
// or with an axle. Each of its bodies has a rigid motion from ride height at each rise.
// Arms turn about the line of their two pivots, and where ends of fixed distance meet,
// a circle is cut with a sphere: no angle is taken as small. Bushes and bent parts are
// not in it.
package pickup
