package mount

import (
	"fitup/internal/geom"
	"fitup/internal/geom/seat"
)

// Standings is where the powertrain can be found: as built first, then with its
// weight on its mounts and rocked on them, as far as that is known. What is not
// in it, Assumes says.
type Standings struct {
	All     []seat.Stand
	Assumes []string
}

func (s *Standings) add(poses []seat.NamedPose, soft bool) {
	for _, p := range poses {
		s.All = append(s.All, seat.Stand{Name: p.Name, Pose: p.Pose, Soft: soft})
	}
}

// Standings are worked out from the isolators; before those there is only the
// powertrain as built. They are empty while it has no place.
func (res *Result) Standings() Standings {
	var out Standings
	if !res.in.Pose.Known {
		return out
	}
	is := &res.Isolators
	if len(is.Poses) == 0 {
		out.All = []seat.Stand{{Name: "as built", Pose: res.in.Pose.V}}
		out.Assumes = []string{"the powertrain as built, not sagged or rocked on its mounts: " + res.notSettled()}
		return out
	}
	out.add(is.Poses, false)
	if res.p.estimated() {
		out.add(is.Soft[1:], true)
	}
	if !res.Statics.Torque.Known {
		out.Assumes = []string{"the powertrain as built and sagged, not rocked by torque: " + res.Statics.TorqueWhy}
	}
	return out
}

// AtEnds are the poses beside those of Standings with the estimated rates of one
// mount by itself at their low and their high end.
func (is *Isolators) AtEnds() []geom.Pose {
	var out []geom.Pose
	for _, e := range is.Ends {
		for _, end := range e {
			for _, p := range end[1:] {
				out = append(out, p.Pose)
			}
		}
	}
	return out
}

// notSettled is why it is not known where the powertrain comes to stand on its
// mounts.
func (res *Result) notSettled() string {
	if why := res.Isolators.Why; why != "" {
		return why
	}
	return "the file says nothing of its mounts' rubber"
}
