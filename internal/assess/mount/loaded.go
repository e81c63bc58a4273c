package mount

import (
	"fmt"
	"math"
	"strings"

	"fitup/internal/assess/finding"
	"fitup/internal/project"
	"fitup/internal/project/quantity"
)

// HungLine is what of a planned line that hangs on the powertrain the verdicts
// with the weight on follow from.
type HungLine struct {
	Name     string
	Read     []bool           // of each joint, whether its angle was read
	WasRead  bool             // whether the line as a whole was
	Mismatch []finding.Number // of each shaft, planned, rad
}

// Sunk holds the planned angles of what hangs on the powertrain
// against their limits where it comes to run: with its weight on its mounts. The
// worse of that and as built is the verdict. Numbers that are not worked out
// there say so. It changes the findings of those lines among fs.
func (res *Result) Sunk(fs []finding.Finding, lines []HungLine) {
	if res.boltedSolid() {
		return // it stands where it was built
	}
	for _, l := range lines {
		res.loadedLine(fs, l)
	}
}

// boltedSolid reports whether no mount gives.
func (res *Result) boltedSolid() bool {
	for _, m := range res.in.Build.CarryingMounts() {
		if m.Holds != project.SolidMount {
			return false
		}
	}
	return true
}

func (res *Result) loadedLine(fs []finding.Finding, l HungLine) {
	for i := range fs {
		f := &fs[i]
		if f.Basis != finding.Planned || f.Moved || !f.HasValue || !f.HasLimit || !followsPowertrain(l.Name, f.ID) || l.wasRead(f.ID) {
			continue
		}
		m := res.loadedJoint(l, f.ID)
		if plan := res.loadedMismatch(l, f); plan.Known {
			m = plan
		}
		switch {
		case len(res.Isolators.Poses) == 0:
			f.Assumes = append(f.Assumes, "the powertrain as built, not sunk on its mounts: "+res.notSettled())
		case !m.Known:
			f.Assumes = append(f.Assumes, "the powertrain as built, before its weight is on its mounts")
		default:
			res.worseLoaded(f, m)
		}
	}
}

// followsPowertrain reports whether a finding is of a line's angles or of what
// follows from them.
func followsPowertrain(line, id string) bool {
	rest, ok := strings.CutPrefix(id, "line."+line+".")
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
func (l HungLine) wasRead(id string) bool {
	if strings.Contains(id, ".travel.") {
		return false
	}
	for i, read := range l.Read {
		if strings.HasPrefix(id, fmt.Sprintf("line.%s.joint.%d.", l.Name, i+1)) {
			return read
		}
	}
	return l.WasRead
}

// loadedJoint is the angle with the weight on of the joint that the finding
// holds at ride height.
func (res *Result) loadedJoint(l HungLine, id string) finding.Number {
	for _, x := range res.Isolators.Loaded {
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
func (res *Result) loadedMismatch(l HungLine, f *finding.Finding) finding.Number {
	for _, x := range res.Isolators.Loaded {
		for k, planned := range l.Mismatch {
			plain := planned.Known && f.Value == planned.V && f.Limit == res.in.Build.Limit("mismatch").Value
			if x.Line != l.Name || f.ID != fmt.Sprintf("line.%s.shaft.%d.mismatch", l.Name, k+1) || !plain || k+1 >= len(x.Joints) {
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
func (res *Result) worseLoaded(f *finding.Finding, m finding.Number) {
	angle := func(v float64) string { return quantity.Format(f.Kind, v, res.in.Build.Units, 2) }
	g := *f
	g.JudgeAt(m, f.Limit, project.Rule{Kind: f.Kind, Source: f.Source, Changed: f.Changed}, f.AtLeast)
	if f.Status == finding.NotKnown || g.Status <= f.Status {
		f.Assumes = append(f.Assumes, "the powertrain as built; with its weight on its mounts it is "+angle(m.V))
		return
	}
	g.Assumes = append(g.Assumes, "the powertrain with its weight on its mounts; as built it is "+angle(f.Value))
	g.Says = finding.Say("As built it is " + f.Status.String() + ", and once the powertrain's weight is on its mounts it is " + g.Status.String() +
		": set the powertrain so that it is right sunk, or fit stiffer mounts.")
	*f = g
}
