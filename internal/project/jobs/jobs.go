// Package jobs says what the jobs of a file come to with the built-in list
// behind them: short entries in, whole jobs out. It knows no build.
package jobs

import (
	"cmp"
	"regexp"
	"slices"
	"strings"
	"sync"

	"fitup/internal/project/joblist"
)

// Given is what a file says of one job. Needs and Hold are nil where it leaves
// them out.
type Given struct {
	ID, From                   string
	Stage, Title, Means, Tools string
	Done, Out, Finish          bool
	FinishSaid                 bool // the file has a line on it
	Needs, Hold, Cautions      []string
	Hard                       joblist.Hard
}

// Job is what it comes to.
type Job struct {
	Given
	// StepHold is what its built-in step waits for, and Yields those of them
	// that doing the step brings about.
	StepHold, Yields []string
	// Loosened are the jobs that its built-in step waits for and this one, by
	// the file's own needs, does not.
	Loosened []string
	// NoFinish is set where the title says that something is welded and the
	// file says by finish = false that proof is not waited for.
	NoFinish bool
}

// list is the jobs of one file, in its order.
type list []Job

// Fill gives jobs that came from the built-in list what the file leaves out. A
// need that names no job of the file has been dropped by the builder: what that
// step waits for is waited for in its stead, so that proof reaches through it.
// The lists of given are not changed.
func Fill(given []Given, facts joblist.Facts) []Job {
	b := make(list, len(given))
	for i, g := range given {
		b[i].Given = g
	}
	b.markWelds()
	ids := b.stepJobs()
	var inherit []int
	told := joblist.Told{}
	proof := joblist.Proof(facts)
	for i := range b {
		j := &b[i]
		s, ok := joblist.Find(j.From)
		if ok && j.From != "" {
			fillWords(j, s)
			j.Hard = cmp.Or(j.Hard, s.Hard)
			j.StepHold = s.Holds(facts)
			cautions := s.Cautions()
			if !j.Done { // what was read at a step long done is not fresh any more
				cautions = told.Cautions(j.Stage, s)
			}
			j.Cautions = append(cautions, j.Cautions...)
			if j.Needs == nil {
				inherit = append(inherit, i)
			}
			if j.Hold == nil {
				j.Hold = s.Holds(facts)
			}
		}
		if j.From == "" {
			own, _ := joblist.Find(j.ID)
			j.Hard = cmp.Or(j.Hard, own.Hard, hardOf(j.Title))
		}
		if j.Finish {
			j.Hard = joblist.Welds
		}
		if ownWeld(*j) {
			weld, _ := joblist.Find("weld-in")
			j.Cautions = append(told.Cautions(j.Stage, weld), j.Cautions...)
			if j.Needs == nil {
				inherit = append(inherit, i)
			}
		}
		if j.Finish { // can be overridden with a reason, and not be taken out
			for _, h := range proof {
				if !slices.Contains(j.Hold, h) {
					j.Hold = append(slices.Clip(j.Hold), h)
				}
			}
		}
	}
	waits, o := b.inheritances(ids), b.order()
	b.inherit(inherit, waits, o)
	b.markLoosened(waits, o)
	return b
}

// inherit gives the jobs of those numbers what they wait for.
func (b list) inherit(who []int, waits [][]string, o *order) {
	for _, i := range who {
		j := &b[i]
		for _, need := range waits[i] {
			if need == j.ID || o.reaches(need, j.ID) { // by the file's own order that one comes later
				continue
			}
			j.Needs = append(j.Needs, need)
			o.wait(j.ID, need)
		}
	}
	for _, i := range who { // those that another of them waits for go without saying
		j := &b[i]
		needs := j.Needs
		j.Needs = slices.DeleteFunc(slices.Clone(needs), func(id string) bool {
			return slices.ContainsFunc(needs, func(other string) bool { return other != id && o.reaches(other, id) })
		})
	}
}

// sayingWeld finds a title that has something welded: weld as what is to be done,
// not as what it is done before, and not a tack.
var sayingWeld = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`(?i)^(finish[- ])?weld(ing)?\b|[,;:/] *(finish[- ])?weld\b|\b(and|or|then|to) (finish[- ])?weld\b|^finish\b.*\bwelds?\b|^(have|get)\b.*\bwelded\b`)
})

// saysWeld reports whether a title has something welded.
func saysWeld(title string) bool {
	for i := range len(title) - len("weld") + 1 { // the expression takes its time, and few titles have the word
		if strings.EqualFold(title[i:i+len("weld")], "weld") {
			return sayingWeld().MatchString(title)
		}
	}
	return false
}

// bidding finds what a title bids: tack, weld, drill or cut where it begins or goes on.
var bidding = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`(?i)(?:^|[,;:] *|\b(?:and|or|then) )(tack|weld|drill|bolt|cut)\b`)
})

// when begins what a title says of when something is done.
var when = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`(?i)\b(before|after|when|until|once)\b.*`) })

// hardOf is what a job of the builder's own bids by its title that is hard to undo, for
// files that do not say it by their key: where it bids several, the one that is named
// first here.
func hardOf(title string) joblist.Hard {
	words := map[string]joblist.Hard{"tack": joblist.Tacks, "weld": joblist.Welds, "drill": joblist.Drills, "bolt": joblist.Drills, "cut": joblist.Cuts}
	found := map[joblist.Hard]bool{}
	for _, m := range bidding().FindAllStringSubmatch(when().ReplaceAllString(title, ""), -1) {
		found[words[strings.ToLower(m[1])]] = true
	}
	for _, h := range []joblist.Hard{joblist.Tacks, joblist.Welds, joblist.Drills, joblist.Cuts} {
		if found[h] {
			return h
		}
	}
	return ""
}

// markWelds takes a job of the builder's own for a finish weld where its title
// says so, whatever step it came from once: a weld without proof is not free
// because a line was taken out of the file. finish = false says otherwise, and
// shows.
func (b list) markWelds() {
	for i := range b {
		j := &b[i]
		if j.Finish || !saysWeld(j.Title) {
			continue
		}
		s, _ := joblist.Find(j.From)
		j.NoFinish = j.FinishSaid && !s.Finish
		j.Finish = !j.FinishSaid
	}
}

// ownWeld reports whether a job from no step of the list has something welded.
func ownWeld(j Job) bool { return j.From == "" && saysWeld(j.Title) }

// markLoosened notes what built-in steps no longer wait for because the builder
// took it out; waits is from inheritances.
func (b list) markLoosened(waits [][]string, o *order) {
	for i := range b {
		j := &b[i]
		for _, need := range waits[i] {
			if need != j.ID && !slices.Contains(j.Needs, need) && !o.reaches(j.ID, need) {
				j.Loosened = append(j.Loosened, need)
			}
		}
	}
}

func fillWords(j *Job, s joblist.Job) {
	for _, p := range []struct {
		to   *string
		text string
	}{{&j.Stage, s.Stage}, {&j.Title, s.Title}, {&j.Means, s.Done}, {&j.Tools, s.Tools}} {
		if *p.to == "" {
			*p.to = p.text
		}
	}
	j.Out = j.Out || s.Out
	j.Finish = j.Finish || s.Finish
	j.Yields = s.Yields
}

// stepJobs is the job that stands for each built-in step: the one that came
// from it, or one of the builder's own by its id.
func (b list) stepJobs() map[string]string {
	ids := map[string]string{}
	for _, j := range b {
		if j.From != "" {
			ids[j.From] = j.ID
		}
	}
	for _, j := range b {
		if _, taken := ids[j.ID]; j.From == "" && !taken {
			ids[j.ID] = j.ID
		}
	}
	return ids
}

// inheritances are, for each job that came from the built-in list, the jobs of the
// file that its step waits for. A weld of the builder's own waits at least for
// fuel and battery made safe.
func (b list) inheritances(ids map[string]string) [][]string {
	out := make([][]string, len(b))
	seen := map[string]bool{}
	for i, j := range b {
		if s, ok := joblist.Find(j.From); ok && j.From != "" {
			clear(seen)
			out[i] = inherited(s, ids, seen)
		} else if safe, in := ids["make-safe"]; in && ownWeld(j) {
			out[i] = []string{safe}
		}
	}
	return out
}

// inherited are the jobs of the file that a built-in step waits for, through
// the steps that are not in the file. The steps it came by are in seen.
func inherited(s joblist.Job, ids map[string]string, seen map[string]bool) []string {
	var out []string
	var visit func(s joblist.Job)
	visit = func(s joblist.Job) {
		for _, need := range s.Needs {
			if seen[need] {
				continue
			}
			seen[need] = true
			if id, in := ids[need]; in {
				if !slices.Contains(out, id) {
					out = append(out, id)
				}
				continue
			}
			if n, ok := joblist.Find(need); ok {
				visit(n)
			}
		}
	}
	visit(s)
	return out
}
