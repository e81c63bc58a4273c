package mount

import (
	"strconv"
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
	if res.p.solid {
		return // it stands where it was built
	}
	for _, l := range lines {
		prefix := "line." + l.Name + "."
		var loaded []finding.Number
		for _, x := range res.Isolators.Loaded {
			if x.Line == l.Name {
				loaded = x.Joints
			}
		}
		for i := range fs {
			f := &fs[i]
			if f.Basis != finding.Planned || f.Moved || !f.HasValue || !f.HasLimit {
				continue
			}
			if rest, ok := strings.CutPrefix(f.ID, prefix); ok && followsPowertrain(rest) && !l.wasRead(rest) {
				res.sunk(f, res.loadedOf(l, loaded, rest, f))
			}
		}
	}
}

// sunk takes the number with the weight on into account, where there is one.
func (res *Result) sunk(f *finding.Finding, m finding.Number) {
	switch {
	case len(res.Isolators.Poses) == 0:
		f.Assumes = append(f.Assumes, "the powertrain as built, not sunk on its mounts: "+res.notSettled())
	case !m.Known:
		f.Assumes = append(f.Assumes, "the powertrain as built, before its weight is on its mounts")
	default:
		res.worseLoaded(f, f.Opened(m))
	}
}

// followsPowertrain reports whether a finding, its id behind that of the line, is
// of the line's angles or of what follows from them.
func followsPowertrain(id string) bool {
	part, what, _ := strings.Cut(id, ".")
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

// numberIn returns the number, from 0, of the joint or the shaft that an id is of:
// it begins with what and its number from 1, and goes on with rest.
func numberIn(id, what string) (i int, rest string, ok bool) {
	if rest, ok = strings.CutPrefix(id, what); !ok {
		return 0, "", false
	}
	number, rest, _ := strings.Cut(rest, ".")
	n, err := strconv.Atoi(number)
	return n - 1, rest, err == nil && n > 0
}

// wasRead reports whether a finding's number is a reading brought to where the
// plan is, which the powertrain's weight in the model says nothing about.
func (l HungLine) wasRead(id string) bool {
	if strings.HasPrefix(id, "travel.") {
		return false
	}
	if i, _, ok := numberIn(id, "joint."); ok && i < len(l.Read) {
		return l.Read[i]
	}
	return l.WasRead
}

// loadedOf is the number with the weight on of what a finding holds at ride
// height: the angle of a joint, or how far the two joints of a shaft differ, where
// that difference is what it holds. The estimates of the mounts move both joints,
// so their uncertainties are taken together.
func (res *Result) loadedOf(l HungLine, loaded []finding.Number, id string, f *finding.Finding) finding.Number {
	if i, _, ok := numberIn(id, "joint."); ok && i < len(loaded) {
		return loaded[i]
	}
	k, what, ok := numberIn(id, "shaft.")
	if !ok || what != "mismatch" || k >= len(l.Mismatch) || k+1 >= len(loaded) {
		return finding.Missing("")
	}
	planned := l.Mismatch[k]
	if !planned.Known || f.Value != planned.V || f.Limit != res.p.mismatch.Value {
		return finding.Missing("")
	}
	if j, next := loaded[k], loaded[k+1]; j.Known && next.Known {
		return j.Apart(next)
	}
	return finding.Missing("")
}

// worseLoaded takes the verdict with the weight on where it is the worse one.
func (res *Result) worseLoaded(f *finding.Finding, m finding.Number) {
	angle := func(v float64) string { return quantity.Format(f.Kind, v, res.p.build.Units, 2) }
	g := *f
	g.JudgeAt(m, f.Limit, project.Rule{Kind: f.Kind, Source: f.Source, Changed: f.Changed}, f.AtLeast)
	if f.Status == finding.NotKnown || g.Status <= f.Status {
		f.BesideLoaded(&g)
		f.Assumes = append(f.Assumes, "the powertrain as built; with its weight on its mounts it is "+angle(m.V))
		return
	}
	g.Assumes = append(g.Assumes, "the powertrain with its weight on its mounts; as built it is "+angle(f.Value))
	g.InPlaceOf(f)
	before, sunk := f.Status, g.Status
	g.Says = func() string {
		return "As built it is " + before.String() + ", and once the powertrain's weight is on its mounts it is " + sunk.String() +
			": set the powertrain so that it is right sunk, or fit stiffer mounts."
	}
	*f = g
}
