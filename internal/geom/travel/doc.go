// Package travel says where the axle, its pinion and the wheel ends go between
// bump and droop.
//
// # Frame
//
// Vehicle axes: X rearward, Y to the driver's right, Z up; mm and radians. All
// points are given where they stand at ride height. A rise is how far the axle
// centre has gone up from ride height, in mm: bump is positive, droop negative.
// The chassis is held still and the axle moves.
//
// # Motion
//
// A motion is a geom.Pose used as a rigid motion: Motion.Point takes a point of
// the axle from where it is at ride to where it is now, Motion.Dir does so for
// a direction. Motion.Slope is how far the axle has turned down to the rear (the
// nose of a pinion ahead of it comes up), Motion.Roll how far its right side has
// come up. At ride height, with no roll and no wind-up
// asked for, the motion is the identity exactly.
//
// # Suspensions
//
//   - Leaf: leaf springs with a shackle at either end, in side view.
//   - Linkage: four or five rigid links, in three dimensions.
//   - TrailingArms: arms rigid with the axle, turning about one line.
//   - HalfShaft: a fixed differential with a shaft out to a moving wheel end.
//
// These are motions of rigid parts on joints without play. Rubber, bent parts
// and tyres are not in them; leave room for what they add.
package travel
