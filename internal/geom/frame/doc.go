// Package frame solves small frames of straight members in space: the arms,
// legs, braces and crossmembers between a powertrain and its rails, six degrees
// of freedom to a node.
//
// # Frames of reference
//
// Nodes, loads, shifts and reactions are in vehicle axes (X rearward, Y right, Z
// up), mm, N, N·mm, rad. A member has its own axes: x runs from its first end to
// its second; z lies in the plane of x and Up, on Up's side; y = z × x. Where Up
// is left out it is vehicle Z, so y of a level member is level and its Iy carries
// a vertical load; y of an upright member is vehicle Y.
//
// A node's turn is a small right-handed rotation vector. Turns and shifts are
// small: forces are those of the frame as drawn.
//
// # Inside a member
//
// Internal forces act on the face whose outward normal is +x: Axial is tension
// positive, MomentY = ∫σ z dA, MomentZ = −∫σ y dA, Torsion is about the shear
// centre. End forces act on the member, at the end of its rigid offset, along its
// own axes.
//
// # Method
//
// Direct stiffness method with the matrices of J. S. Przemieniecki, Theory of
// Matrix Structural Analysis, ch. 5 and 15 (from memory): bending with shear
// flexibility (Timoshenko), St Venant torsion, releases by condensation. The
// stiffness is factored once by Cholesky's method within its skyline and serves
// every load case. Warping of open sections is left out, which makes them softer
// in torsion than they are.
//
// # Screening figures
//
// Stresses and buckling loads are screening figures of straight, perfect members:
// nothing of fatigue, impact, welds, dents, joints' own softness or the tube's
// face under a branch. A licensed engineer and the rules of the place decide.
//
// # Errors
//
// Every error names the node, member, spring or load it is about. A frame that
// can move without bending is refused with a MechanismError. Finite input never
// gives NaN or an infinity.
package frame
