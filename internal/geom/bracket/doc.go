// Package bracket is the leg between an isolator and a frame rail: the tube it
// is made of, how it is cut, the plates it stands between, and screening
// figures for its section, bolts and welds.
//
// # Frames
//
// Points and directions of a leg are in vehicle axes (X rearward, Y right, Z
// up), mm. A plate, a bolt pattern and a weld group have a plane of their own:
// x and y in the plane, z out of it, right-handed; FacePose places that plane
// on a face in vehicle axes.
//
// A tube has three directions of its own. The axis runs from the pad to the
// rail. V is the direction of the side H, U that of the side B; looking along
// the axis from the pad with V up, U is to the right. Bending "about y" is the
// EN 1993 strong-axis bending of a section that stands on its side B: about U.
//
// # Saw
//
// The tube lies along the fence of a level table, one of its sides down, its
// rail end to the right of an operator who faces the fence. The mitre is the
// swing of the saw in the plane of the table, measured from square; seen from
// above, anticlockwise is positive. The tilt is the lean of the blade from
// upright, taken after the swing; positive leans the cut's normal, which
// points to the rail end, upward. The words of Where say the same without
// signs.
//
// # Screening figures
//
// Every stress, strength and utilisation here is a screening figure: it says
// whether a design is plainly too weak. It knows nothing of fatigue, impact,
// the rail itself, heat-affected metal or workmanship. A licensed engineer and
// the rules of the place decide what may be built.
//
// # Errors
//
// Every error names the part it is about (geom.PartError) and says what to do.
// Finite input never gives NaN or an infinity.
package bracket
