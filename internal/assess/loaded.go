package assess

import (
	"fmt"
	"math"
	"strings"

	"fitup/internal/assess/finding"
	"fitup/internal/project"
	"fitup/internal/project/quantity"
)

// loadedVerdicts holds the planned angles of what hangs on the powertrain
// against their limits where it comes to run: with its weight on its mounts. The
// worse of that and as built is the verdict. Numbers that are not worked out
// there say so.
func (a *Assessment) loadedVerdicts() {
	if a.boltedSolid() {
		return // it stands where it was built
	}
	for i := range a.Lines {
		if l := a.Build.Lines[i]; a.Lines[i].HasPlan && !l.First.Slope.Known() {
			a.loadedLine(l, &a.Lines[i])
		}
	}
}

// boltedSolid reports whether no mount gives.
func (a *Assessment) boltedSolid() bool {
	for _, m := range a.Build.CarryingMounts() {
		if m.Holds != project.SolidMount {
			return false
		}
	}
	return true
}

func (a *Assessment) loadedLine(l project.Line, out *Line) {
	for i := range a.Findings {
		f := &a.Findings[i]
		if f.Basis != Planned || f.Moved || !f.HasValue || !f.HasLimit || !followsPowertrain(l, f.ID) || out.wasRead(f.ID) {
			continue
		}
		m := a.loadedJoint(l, f.ID)
		if plan := a.loadedMismatch(l, out, f); plan.Known {
			m = plan
		}
		switch {
		case len(a.Isolators.poses) == 0:
			f.Assumes = append(f.Assumes, "the powertrain as built, not sunk on its mounts: "+a.notSettled())
		case !m.Known:
			f.Assumes = append(f.Assumes, "the powertrain as built, before its weight is on its mounts")
		default:
			a.worseLoaded(f, m)
		}
	}
}

// followsPowertrain reports whether a finding is of a line's angles or of what
// follows from them.
func followsPowertrain(l project.Line, id string) bool {
	rest, ok := strings.CutPrefix(id, "line."+l.Name+".")
	if !ok {
		return false
	}
	part, what, _ := strings.Cut(rest, ".")
	switch part {
	case "joint":
		return !strings.HasSuffix(what, ".torque")
	case "shaft":
		return strings.HasSuffix(what, ".mismatch") || strings.HasSuffix(what, ".equivalent") || strings.Contains(what, ".inertia.")
	case "travel":
		return strings.HasPrefix(what, "joint.") || strings.HasPrefix(what, "slip.")
	}
	return part == "residual" || part == "equivalent"
}

// wasRead reports whether a finding's number is a reading brought to where the
// plan is, which the powertrain's weight in the model says nothing about.
func (l *Line) wasRead(id string) bool {
	if strings.Contains(id, ".travel.") {
		return false
	}
	for _, j := range l.Joints {
		if strings.HasPrefix(id, fmt.Sprintf("line.%s.joint.%d.", l.Name, j.Number)) {
			return j.Read.Known
		}
	}
	return l.unread(0).Known
}

// loadedJoint is the angle with the weight on of the joint that the finding
// holds at ride height.
func (a *Assessment) loadedJoint(l project.Line, id string) Number {
	for _, x := range a.Isolators.Loaded {
		if x.Line != l.Name {
			continue
		}
		for i, m := range x.Joints {
			if strings.HasPrefix(id, fmt.Sprintf("line.%s.joint.%d.", l.Name, i+1)) {
				return m
			}
		}
	}
	return finding.Missing("")
}

// loadedMismatch is how far the two joints of a shaft differ with the weight on,
// where that difference is what the finding holds. The estimates of the mounts
// move both joints, so their uncertainties are taken together.
func (a *Assessment) loadedMismatch(l project.Line, out *Line, f *Finding) Number {
	for _, x := range a.Isolators.Loaded {
		for k, s := range out.Shafts {
			plain := s.MismatchPlanned.Known && f.Value == s.MismatchPlanned.V && f.Limit == a.Build.Limit("mismatch").Value
			if x.Line != l.Name || f.ID != fmt.Sprintf("line.%s.shaft.%d.mismatch", l.Name, s.Number) || !plain || k+1 >= len(x.Joints) {
				continue
			}
			if j, next := x.Joints[k], x.Joints[k+1]; j.Known && next.Known {
				return finding.Known(math.Abs(j.V-next.V), j.U+next.U)
			}
		}
	}
	return finding.Missing("")
}

// worseLoaded takes the verdict with the weight on where it is the worse one.
func (a *Assessment) worseLoaded(f *Finding, m Number) {
	angle := func(v float64) string { return quantity.Format(f.Kind, v, a.Build.Units, 2) }
	g := *f
	g.JudgeAt(m, f.Limit, project.Rule{Kind: f.Kind, Source: f.Source, Changed: f.Changed}, f.AtLeast)
	if f.Status == NotKnown || g.Status <= f.Status {
		f.Assumes = append(f.Assumes, "the powertrain as built; with its weight on its mounts it is "+angle(m.V))
		return
	}
	g.Assumes = append(g.Assumes, "the powertrain with its weight on its mounts; as built it is "+angle(f.Value))
	g.Says = finding.Say("As built it is " + f.Status.String() + ", and once the powertrain's weight is on its mounts it is " + g.Status.String() +
		": set the powertrain so that it is right sunk, or fit stiffer mounts.")
	*f = g
}
