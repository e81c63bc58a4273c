package assess

import "fitup/internal/geom/seat"

// standings is where the powertrain can be found: as built first, then with its
// weight on its mounts and rocked on them, as far as that is known. soft are the
// same with estimated rates of the mounts at their softest, where there are
// estimates. What is not in it, assumes says.
type standings struct {
	poses, soft []seat.NamedPose
	assumes     []string
}

// standings are worked out from the isolators; before those there is only the
// powertrain as built. They are empty while it has no place.
func (a *Assessment) standings() standings {
	if !a.Pose.Known {
		return standings{}
	}
	is := &a.Isolators
	if len(is.poses) == 0 {
		why := is.Why
		if why == "" {
			why = "the file says nothing of its mounts' rubber"
		}
		return standings{
			poses:   []seat.NamedPose{{Name: "as built", Pose: a.Pose.V}},
			assumes: []string{"the powertrain as built, not sagged or rocked on its mounts: " + why},
		}
	}
	out := standings{poses: is.poses}
	if is.estimated() {
		out.soft = is.soft[1:]
	}
	if !a.Statics.Torque.Known {
		out.assumes = []string{"the powertrain as built and sagged, not rocked by torque: " + a.Statics.TorqueWhy}
	}
	return out
}
