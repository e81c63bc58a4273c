package mount

import (
	"slices"

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
	if is.Estimated() {
		out.add(is.Soft[1:], true)
	}
	if !res.Statics.Torque.Known {
		out.Assumes = []string{"the powertrain as built and sagged, not rocked by torque: " + res.Statics.TorqueWhy}
	}
	return out
}

// AtEnds are the poses with estimated rates at the ends of what they may be: all
// at their lowest, and each by itself at its low and its high end. The first is as
// built; there is none where no rate is an estimate.
func (is *Isolators) AtEnds() []seat.NamedPose {
	if !is.Estimated() {
		return nil
	}
	out := slices.Clone(is.Soft)
	for _, e := range is.Ends {
		out = append(append(out, e[0][1:]...), e[1][1:]...)
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
