// Package rigid finds where a rigid body hangs whose own points are known: from
// tapes, heights, strings and gauge readings between it and the vehicle, by weighted
// least squares of six unknowns, or from the places of its points themselves.
//
// A pose's six unknowns are where a reference point of the body lies (X to the rear,
// Y to the driver's right, Z up, mm) and its heading, slope and roll (rad), signed as
// in geom.Orient: heading positive with the rear end to the right, slope positive
// down to the rear, roll positive with the right side high.
//
// # Sources
//
// Least squares: as in geom/tape. The pose from points: W. Kabsch, Acta
// Crystallographica A32 (1976) 922 and A34 (1978) 827, from memory.
package rigid
