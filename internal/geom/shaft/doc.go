// Package shaft is the geometry of a line of shafts joined by universal
// joints: joint angles, the exact motion of every shaft, the loads that follow
// from it, and the tube between two joints.
//
// # The joint
//
// A Cardan joint is a cross with two arms at right angles, one carried by each
// yoke. The driving arm stays perpendicular to the driving axis u, the driven
// arm to the driven axis v. So the driven arm is the driving arm's shadow on
// the plane square to v, turned a quarter turn about v. That is a linear map of
// the plane, and so is a whole chain of joints with yokes set at fixed angles.
//
// In complex numbers every linear map of the plane is z -> a·z + b·conj(z), and
// what the chain does to the speed depends on the one number k = |b|/|a|:
//
//	speed ratio = (1 - k²) / (1 - 2k·cos 2θ + k²)
//
// with θ from the position of highest speed. One joint at angle β has
// k = tan²(β/2), so any chain runs exactly like one joint at the angle
// 2·atan √k, and its extremes, peak acceleration and harmonics have closed
// forms (Ripple). Motion finds the same by carrying the cross vectors round one
// turn, without this map; the tests hold the two and the textbook equation
// tan θ2 = cos β · tan θ1 against each other.
//
// # Signs
//
// All axes point from the driving to the driven end. A yoke offset is the angle
// of a shaft's rear yoke against its front yoke, right-handed about that axis:
// 0 is in phase (both yokes in one plane), 90° is crossed. Shafts are numbered
// from the driving one: shaft 0 is the driving shaft, shaft i carries the driven
// yoke of joint i. Joints are numbered from 1 in messages.
//
// Speeds are rad/s, torques N·mm, lengths mm, stresses MPa, masses kg.
package shaft
