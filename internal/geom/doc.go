// Package geom holds what all geometry in fitup shares: the vehicle's axes,
// angles, poses and the tolerance of a comparison.
//
// # Axes
//
// Vehicle axes follow body-drawing practice (ISO 4130, SAE J182): X is the
// station, positive rearward; Y is the offset, positive to the driver's right;
// Z is the height, positive up. The three are right-handed. The origin is
// where the builder says, usually front axle line, centreline, top of rail.
//
// A powertrain has its own frame with the same senses: X along the crankshaft
// from the front of the engine to the gearbox output, Y right, Z up.
//
// # Units
//
// Lengths are mm, angles rad, forces N, torques N·mm, stresses MPa, masses kg,
// angular speeds rad/s.
//
// # Signs
//
// A slope is positive down to the rear, which is nose up. A heading is
// positive with the rear end to the right. A roll is positive with the right
// side high. Joint angles have no sign: they are the angle between two axis
// vectors.
//
// # Errors
//
// Functions return an error where a geometry cannot exist. They never return
// NaN or an infinity for finite input.
package geom
