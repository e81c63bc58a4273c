package assess

import (
	"fitup/internal/geom/seat"
)

// standings is where the powertrain can be found: as built first, then with its
// weight on its mounts and rocked on them, as far as that is known. What is not
// in it, assumes says.
type standings struct {
	all     []seat.Stand
	assumes []string
}

func (s *standings) add(poses []seat.NamedPose, soft bool) {
	for _, p := range poses {
		s.all = append(s.all, seat.Stand{Name: p.Name, Pose: p.Pose, Soft: soft})
	}
}

// standings are worked out from the isolators; before those there is only the
// powertrain as built. They are empty while it has no place.
func (a *Assessment) standings() standings {
	var out standings
	if !a.Pose.Known {
		return out
	}
	is := &a.Isolators
	if len(is.poses) == 0 {
		out.all = []seat.Stand{{Name: "as built", Pose: a.Pose.V}}
		out.assumes = []string{"the powertrain as built, not sagged or rocked on its mounts: " + a.notSettled()}
		return out
	}
	out.add(is.poses, false)
	if is.estimated() {
		out.add(is.soft[1:], true)
	}
	if !a.Statics.Torque.Known {
		out.assumes = []string{"the powertrain as built and sagged, not rocked by torque: " + a.Statics.TorqueWhy}
	}
	return out
}

// notSettled is why it is not known where the powertrain comes to stand on its
// mounts.
func (a *Assessment) notSettled() string {
	if why := a.Isolators.Why; why != "" {
		return why
	}
	return "the file says nothing of its mounts' rubber"
}
