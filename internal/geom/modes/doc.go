// Package modes is how a powertrain shakes on its mounts: a rigid body on springs
// with six natural frequencies, what an engine order passes on to the frame, and how
// far a load moves it where links and stops take part.
//
// # Frames and units
//
// Places and directions are in vehicle axes (X rearward, Y right, Z up), mm; rates in
// N/mm, masses in kg, moments of inertia in kg·mm² (1 kg·m² is 1e6) about the centre
// of mass, frequencies in Hz. The six ways of a body are shifts of its centre along,
// and turns about, axes the caller gives: X along the crankshaft, rearward, Y right,
// Z up. A turn about X is roll, about Y pitch, about Z yaw.
//
// # What is left out
//
// Motions are small, springs straight. The weight's own tipping moment, the spin of
// the crankshaft and the softness of frame and castings are left out; the latter
// lowers every frequency.
//
// # Rubber
//
// In vibration rubber is stiffer than under dead weight: Dynamic is by how much, and
// has to be given. Its damping is a loss factor η, taken as the same at every
// frequency (hysteretic damping); a damping ratio ζ given at resonance is η = 2ζ.
// Neither says anything of the slow set of rubber under load.
//
// # Errors
//
// Every error names the mount, link or stop it is about, or the way of moving that
// nothing holds. Finite input never gives NaN or an infinity.
package modes
