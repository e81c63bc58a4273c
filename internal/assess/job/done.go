package job

import (
	"fmt"
	"slices"
	"strings"

	"fitup/internal/assess/finding"
	"fitup/internal/project"
)

// Headcount is how many jobs are done, and on what: the weakest basis among the
// findings that each was ticked on. Those that rest on no finding are in Done
// alone.
type Headcount struct{ Done, Total, Proved, Read, Planned int }

// Headcount counts the jobs. One that has to be proved again is not done.
func (res *Result) Headcount() Headcount {
	var h Headcount
	h.Done, h.Total = res.Progress()
	for _, j := range res.In(Done) {
		basis, some := finding.Proved, false
		for _, r := range j.Relied {
			for _, b := range []finding.Basis{finding.Planned, finding.Read, finding.Proved} {
				if r.Basis == b.String() {
					basis, some = finding.Weaker(basis, b), true
				}
			}
		}
		switch {
		case !some:
		case basis == finding.Proved:
			h.Proved++
		case basis == finding.Read:
			h.Read++
		default:
			h.Planned++
		}
	}
	return h
}

func (h Headcount) String() string {
	s := fmt.Sprintf("%d of %d done", h.Done, h.Total)
	for _, p := range []struct {
		n    int
		what string
	}{{h.Proved, "proved"}, {h.Read, "read"}, {h.Planned, "on the plan only"}} {
		if p.n > 0 {
			s += fmt.Sprintf(", %d %s", p.n, p.what)
		}
	}
	return s
}

// UpTo sorts the jobs that are not done up to job i, in order of the list:
// ticks are those that wait for no finding and whose needs are done or ticked
// with them; left are those that want proof or come behind one that does.
func (res *Result) UpTo(i int) (ticks, left []Job) {
	done := map[string]bool{}
	for _, j := range res.Jobs {
		done[j.ID] = j.State == Done
	}
	for _, j := range res.Jobs[:min(i+1, len(res.Jobs))] {
		switch {
		case j.State == Done:
		case len(j.Hold) == 0 && j.State != ProveAgain && j.State != InDoubt && !res.inTheWay(j) && allIn(done, waitedFor(j)):
			done[j.ID] = true
			ticks = append(ticks, j)
		default:
			left = append(left, j)
		}
	}
	return ticks, left
}

// Waits reports whether the hold is another job or the powertrain in the way:
// nothing about it is not known.
func (h Hold) Waits() bool { return h.ID == standingID || strings.HasPrefix(h.ID, needPrefix) }

// inTheWay reports whether the powertrain stands where the job is to be done.
func (res *Result) inTheWay(j Job) bool {
	return j.Out && res.build.Powertrain.Standing == project.StandsIn
}

// waitedFor are the jobs that come before it, and those at any distance that
// have to be proved again.
func waitedFor(j Job) []string {
	ids := slices.Clone(j.Needs)
	for _, h := range j.Holds {
		if id, ok := strings.CutPrefix(h.ID, needPrefix); ok && h.Holds() {
			ids = append(ids, id)
		}
	}
	return ids
}

func allIn(set map[string]bool, ids []string) bool {
	for _, id := range ids {
		if !set[id] {
			return false
		}
	}
	return true
}
