// Package rigid finds where a rigid body hangs whose own points are known: from
// tapes, heights, strings and gauge readings between it and the vehicle, by weighted
// least squares of six unknowns, or from the places of its points themselves.
//
// A pose's six unknowns are where a reference point of the body lies (X to the rear,
// Y to the driver's right, Z up, mm) and its heading, slope and roll (rad), signed as
// in geom.Orient: heading positive with the rear end to the right, slope positive
// down to the rear, roll positive with the right side high.
//
// # One after the other, or all at once
//
// Bodies that are measured from each other are found in one fit (Group). A body may as well
// be found before, and what is measured from points of it fitted then, with all that the
// first fit leaves open of its pose as errors which those measurements share (tape.Common):
// for the second body the answer is the same, value and covariance. Let x be the first pose,
// y the second, and the measurements fall into those of x alone and those of x and y, which
// share no error. The sum of squares of the first is, but for its smallest value,
// (x - x')ᵀ C⁻¹ (x - x') with x' and C as the first fit has them: in it is all that they say
// of x. One fit of all makes the least of that and the squares of the second measurements
// over x and y. With x = x' + L e, L Lᵀ = C, that first part is eᵀe: e are shared errors,
// observed to be 0 give or take 1, which is what the second fit has as unknowns beside y. It
// makes the least of the same sum over the same unknowns, so y and its covariance are those
// of the one fit; x' + L e is what that has for x. Errors that both kinds of measurements
// share go into both as the same sources (uncertain.Sources), and so on for any number of
// bodies, one behind the other. Nothing goes the other way: what is measured from the first
// body to the second moves the first in the one fit alone, where the second is fixed by
// something else as well. Its own figures without that are no surer than they could be.
//
// # Sources
//
// Least squares: as in geom/tape. The pose from points: W. Kabsch, Acta
// Crystallographica A32 (1976) 922 and A34 (1978) 827, from memory.
package rigid
