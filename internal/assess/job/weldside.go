package job

import (
	"fmt"
	"slices"
	"strings"

	"fitup/internal/assess/finding"
	"fitup/internal/project"
	"fitup/internal/project/edit"
)

// proofHolds is what keeps any finish weld from being made, by the findings.
func proofHolds(b *project.Build, g grounds) []Hold {
	j := Job{Job: project.Job{Finish: true, Hold: b.Proof()}}
	return slices.DeleteFunc(g.holds(&j), func(h Hold) bool { return !h.Holds() })
}

// WeldHolds is what keeps a side of weld i from going past tacked: proof that
// is missing, and what holds the jobs of finish welding.
func (res *Result) WeldHolds(i int, side string) []Hold {
	out := proofHolds(res.build, res.grounds)
	add := func(h Hold) {
		if h.Holds() && !slices.ContainsFunc(out, func(o Hold) bool { return o.ID == h.ID }) {
			out = append(out, h)
		}
	}
	s, _ := res.weldSide(i, side)
	for k := range res.Jobs {
		j := &res.Jobs[k]
		switch {
		case !j.Finish || j.Out && !s.Out:
		case j.State == ProveAgain || j.State == InDoubt:
			add(needHold(j, true))
		case !j.Done:
			own := j.yields()
			for _, h := range j.Holds {
				if !slices.ContainsFunc(own, func(p string) bool { return finding.Matches(p, h.ID) }) && (h.ID != standingID || s.Out) {
					add(h)
				}
			}
		}
	}
	if s.Out && res.build.Powertrain.Standing == project.StandsIn {
		add(Hold{ID: standingID, Title: "the powertrain is in", Status: finding.NotKnown,
			Text: "the powertrain is in, and this side can only be reached with it out", Why: finding.Say("It waits on the engine-out list.")})
	}
	return out
}

// WeldSide returns the edits that bring a side of weld i to a state. Past
// tacked it wants proof or a reason, which is recorded with it; the error then
// is *ErrHeld. An inspection wants a finished side and a name.
func (res *Result) WeldSide(i int, side string, to project.WeldState, reason, by string) ([]edit.Edit, error) {
	s, ok := res.weldSide(i, side)
	if !ok {
		return nil, fmt.Errorf("this weld has no %s side", project.Printable(side))
	}
	path := fmt.Sprintf("weld[%d].side.%s.", i, side)
	set := func(key, text string) edit.Edit {
		return edit.Edit{Op: edit.OpSet, Path: path + key, Text: edit.Quoted(text)}
	}
	edits := []edit.Edit{set("state", string(to))}
	drop := func(key, now string) {
		if now != "" {
			edits = append(edits, edit.Edit{Op: edit.OpRemove, Path: path + key})
		}
	}
	reason, by = strings.TrimSpace(reason), strings.TrimSpace(by)
	switch to {
	case project.Inspected:
		if !s.Carries() {
			return nil, fmt.Errorf("the %s side is %s; it is inspected once it is finished", project.Printable(side), s.State.Spoken())
		}
		if by == "" {
			return nil, fmt.Errorf("an inspection wants a name: who looked at it")
		}
		edits = append(edits, set("inspected_by", by))
	case project.WeldFinished:
		drop("inspected_by", s.InspectedBy)
		if s.Carries() {
			break
		}
		drop("override", s.Override)
		if holds := res.WeldHolds(i, side); len(holds) > 0 {
			if reason == "" {
				return nil, &ErrHeld{Holds: holds}
			}
			if s.Override != "" {
				edits = edits[:len(edits)-1]
			}
			edits = append(edits, set("override", reason))
		}
	default:
		drop("override", s.Override)
		drop("inspected_by", s.InspectedBy)
	}
	return edits, nil
}

func (res *Result) weldSide(i int, side string) (project.WeldSide, bool) {
	if i < 0 || i >= len(res.build.Welds) {
		return project.WeldSide{}, false
	}
	sides := res.build.Welds[i].Sides
	k := slices.IndexFunc(sides, func(s project.WeldSide) bool { return s.Name == side })
	if k < 0 {
		return project.WeldSide{}, false
	}
	return sides[k], true
}
