package job

import (
	"fmt"
	"slices"
	"strings"

	"fitup/internal/assess/finding"
	"fitup/internal/project"
)

// restOn carries what is shaky through the needs: a job that has to be proved
// again holds every open job that rests on it and puts the done ones in doubt,
// at any distance. A job that is not done holds those that need it; a finish
// weld is held by it through done jobs as well. What somebody accepted with a
// reason stays accepted for that job and what rests on it, but not a proof that
// broke.
func (res *Result) restOn() {
	w := &resting{jobs: res.Jobs, byID: map[string]int{}, roots: make([][]int, len(res.Jobs)), seen: make([]bool, len(res.Jobs))}
	for i, j := range res.Jobs {
		w.byID[j.ID] = i
	}
	for i := range res.Jobs {
		w.visit(i)
	}
	for i := range res.Jobs {
		j := &res.Jobs[i]
		for _, r := range w.roots[i] {
			root := &res.Jobs[r]
			direct := slices.Contains(j.Needs, root.ID)
			if root.State != ProveAgain && !direct && !j.Finish {
				continue
			}
			h := needHold(root, direct)
			j.Holds = append(j.Holds, h)
			if j.State == Done && (root.State == ProveAgain || j.Finish) && !j.accepts(h) {
				j.Doubts = append(j.Doubts, h.Text)
			}
		}
		if j.State == Done && len(j.Doubts) > 0 {
			j.State = InDoubt
		}
	}
}

// resting finds for each job what is shaky below it.
type resting struct {
	jobs  []Job
	byID  map[string]int
	roots [][]int
	seen  []bool
}

func (w *resting) visit(i int) []int {
	if w.seen[i] {
		return w.roots[i]
	}
	w.seen[i] = true // needs go in no circle; the file is refused otherwise
	var out []int
	add := func(n int) {
		if !slices.Contains(out, n) {
			out = append(out, n)
		}
	}
	for _, id := range w.jobs[i].Needs {
		n, ok := w.byID[id]
		if !ok {
			continue
		}
		need := &w.jobs[n]
		if need.State == ProveAgain || !need.Done {
			add(n)
		}
		for _, r := range w.visit(n) {
			root := &w.jobs[r]
			if root.State == ProveAgain || need.Done && !need.accepts(needHold(root, false)) {
				add(r)
			}
		}
	}
	w.roots[i] = out
	return out
}

// needHold is the hold that another job puts on one that rests on it.
func needHold(n *Job, direct bool) Hold {
	text := fmt.Sprintf("comes first: %s", n.Title)
	switch {
	case n.State == ProveAgain && direct:
		text = fmt.Sprintf("prove again first: %s", n.Title)
	case n.State == ProveAgain:
		text = fmt.Sprintf("rests on what has to be proved again: %s", n.Title)
	case !direct:
		text = fmt.Sprintf("rests on what is not done: %s", n.Title)
	}
	return Hold{ID: needPrefix + n.ID, Title: n.Title, Status: finding.NotKnown, Text: text, Why: finding.Say("Do that first, or override it with a reason.")}
}

// accepts reports whether the job was ticked with a reason although this held
// it.
func (j *Job) accepts(h Hold) bool {
	return j.Overridden && (len(j.Relied) == 0 || slices.ContainsFunc(j.Relied, func(r project.Relied) bool {
		return r.Finding == h.ID && accepted(r.Status, h)
	}))
}

// lost finds the findings and facts that the built-in step waits for and the
// job, by the file's own hold, does not.
func (res *Result) lost(j *Job) {
	var have map[string]bool // by what it waits for, once that is asked
	for _, pattern := range j.StepHold {
		if slices.Contains(j.Hold, pattern) {
			continue
		}
		if have == nil {
			have = make(map[string]bool, len(j.Holds))
			for i := range j.Holds {
				have[j.Holds[i].ID] = true
			}
		}
		for _, h := range res.grounds.lookUp(pattern, j.Finish) {
			if !have[h.ID] && !slices.Contains(j.Lost, h.Title) {
				j.Lost = append(j.Lost, h.Title)
			}
		}
	}
}

// Changed says what the file's own needs and hold of a built-in step leave
// out, a sentence each.
func (res *Result) Changed(j Job) []string {
	var out []string
	if j.NoFinish {
		out = append(out, "its title says weld, and the file says finish = false: it waits for no proof")
	}
	for _, id := range j.Loosened {
		for _, n := range res.Jobs {
			if n.ID == id {
				out = append(out, "the built-in step waits for this job first, and the file's needs do not: "+n.Title)
			}
		}
	}
	for _, title := range j.Lost {
		out = append(out, "the built-in step waits for this, and the file's hold does not: "+title)
	}
	return out
}

// WaitsForItself reports whether a held job is the doing of what holds it, such
// as taking readings: nothing else is in its way.
func (j Job) WaitsForItself() bool {
	yields := j.yields()
	own := false
	for _, h := range j.Holds {
		switch {
		case !h.Holds():
		case h.Status == finding.NotKnown && slices.ContainsFunc(yields, func(p string) bool { return finding.Matches(p, h.ID) }):
			own = true
		default:
			return false
		}
	}
	return own
}

// yields are the findings and facts that doing the job brings about. A job that
// waits for readings alone is the taking of them.
func (j Job) yields() []string {
	out := slices.Clone(j.Yields)
	var reads []string
	for _, h := range j.Hold {
		h, _ = strings.CutSuffix(h, "?")
		h, _ = strings.CutSuffix(h, "@proved")
		if !strings.HasSuffix(h, ".read") {
			return out
		}
		reads = append(reads, h)
	}
	return append(out, reads...)
}
