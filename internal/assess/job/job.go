// Package job works out how far each job is: what holds it, what it was ticked on
// and whether that still stands, and what is open behind the powertrain.
package job

import (
	"slices"
	"strings"

	"fitup/internal/assess/finding"
	"fitup/internal/project"
)

// State is how far a job is. It follows from the file and the findings;
// nothing of it is kept anywhere.
type State uint8

// The states.
const (
	Open       State = iota // can be done now
	Held                    // something has to come first
	Done                    // done, and what it relied on still holds
	ProveAgain              // was done, and what it relied on holds no more
	InDoubt                 // done, and it rests on a job that has to be proved again
)

func (s State) String() string {
	return [...]string{"open", "held", "done", "prove again", "in doubt"}[min(s, InDoubt)]
}

// Job is one job with its state, what holds it and what has broken since.
type Job struct {
	project.Job
	Index      int
	State      State
	Holds      []Hold
	Held       bool // some hold is over or not known, or a need is open
	Broken     []string
	Doubts     []string // what it rests on that has to be proved again
	Lost       []string // findings that its built-in step waits for and the file's own hold does not
	Overridden bool     // it was ticked although something held it
}

// Hold is a finding, a fact or another job that a job waits for.
type Hold struct {
	ID     string
	Title  string
	Status finding.Status
	Why    finding.Text
	Text   string // what holds, in a few words: "joint 2, largest angle is over"
	Firm   bool   // the job cannot be undone, so tight holds it as well
}

// Holds reports whether the hold keeps its job from being ticked.
func (h Hold) Holds() bool {
	return h.Status == finding.Over || h.Status == finding.NotKnown || h.Firm && h.Status == finding.Tight
}

// Because is what to do about the hold, "" where there is nothing to say.
func (h Hold) Because() string {
	if h.Why == nil {
		return ""
	}
	return h.Why()
}

const (
	standingID = "powertrain.standing" // a hold: the powertrain is in the way
	needPrefix = "job."                // a hold: another job comes first
)

// Input is what the state of the jobs follows from.
type Input struct {
	Build    *project.Build
	Findings []finding.Finding
	At       map[string]int    // where each of them is, by its id; nil where that is still to be found
	Plans    []finding.Finding // by the plan beside findings by readings
	Facts    []finding.Fact
}

// Result is the job list with the state of every job.
type Result struct {
	Jobs      []Job
	EngineOut []OutItem    // what is open and can only be reached with the powertrain out
	Fact      finding.Fact // that nothing on that list is open

	build   *project.Build
	grounds grounds
}

// Proof is what keeps any finish weld from being made, by the findings and facts
// there are before the weld map is drawn up.
func Proof(in Input) []Hold { return proofHolds(in.Build, in.grounds()) }

// Judge works out the state of every job. The engine-out list depends on the
// jobs, and the job that puts the powertrain back on that list; so holds are
// looked at twice.
func Judge(in Input) Result {
	res := Result{build: in.Build, grounds: in.grounds().remembering(), Jobs: make([]Job, len(in.Build.Jobs))}
	for i, j := range in.Build.Jobs {
		res.Jobs[i] = Job{Job: j, Index: i, Overridden: strings.TrimSpace(j.Override) != ""}
	}
	own := make([][]Hold, len(res.Jobs))
	res.settle(own, func(*Job) bool { return true })
	res.engineOut()
	res.grounds.facts = append(res.grounds.facts, res.Fact)
	res.grounds.forget(finding.EngineOut) // the list is a fact that jobs wait for
	res.settle(own, func(j *Job) bool {
		return slices.ContainsFunc(j.Hold, func(pattern string) bool { return names(pattern, finding.EngineOut) })
	})
	for i := range res.Jobs {
		res.lost(&res.Jobs[i])
	}
	res.grounds.looked = nil // from here on it is read by many
	return res
}

// settle finds what holds each job, which done ones still stand, and how
// far what has to be proved again reaches. own are the findings and facts that each
// waits for, looked up where anew says so and otherwise as they were.
func (res *Result) settle(own [][]Hold, anew func(*Job) bool) {
	for i := range res.Jobs {
		j := &res.Jobs[i]
		looks := anew(j)
		if looks {
			own[i] = slices.Clip(res.grounds.holds(j))
		}
		j.Holds, j.Doubts = own[i], nil
		j.State = Open
		if j.Done {
			j.State = Done
			if looks {
				j.Broken = res.broken(j)
			}
			if len(j.Broken) > 0 {
				j.State = ProveAgain
			}
		}
	}
	res.restOn()
	for i := range res.Jobs {
		j := &res.Jobs[i]
		if j.Out && res.build.Powertrain.Standing == project.StandsIn {
			j.Holds = append(j.Holds, Hold{ID: standingID, Title: "the powertrain is in", Status: finding.NotKnown,
				Text: "the powertrain is in, and this can only be reached with it out", Why: finding.Say("It waits on the engine-out list.")})
		}
		j.Held = slices.ContainsFunc(j.Holds, Hold.Holds)
		if j.State == Open && j.Held {
			j.State = Held
		}
	}
}

// holds looks up what the job waits for, each finding once: as the pattern has
// it that holds.
func (g *grounds) holds(j *Job) []Hold {
	var found [][]Hold
	most := 0
	for _, pattern := range j.Hold {
		some := g.lookUp(pattern, j.Finish)
		found, most = append(found, some), most+len(some)
	}
	if most == 0 {
		return nil
	}
	out, at := make([]Hold, 0, most), make(map[string]int, most)
	for _, some := range found {
		for i := range some {
			h := &some[i]
			n, had := at[h.ID]
			switch {
			case h.Status == finding.Elsewhere && slices.ContainsFunc(out, func(o Hold) bool { return o.Text == h.Text }):
			case !had:
				at[h.ID] = len(out)
				out = append(out, *h)
			case h.Holds() && !out[n].Holds():
				out[n] = *h
			}
		}
	}
	return out
}

// Progress returns how many jobs are done, of how many. One that has to be
// proved again is not done, nor is one that rests on it.
func (res *Result) Progress() (done, total int) {
	for _, j := range res.Jobs {
		if j.State == Done {
			done++
		}
	}
	return done, len(res.Jobs)
}

// Stage is one part of the build with its progress.
type Stage struct {
	Name        string
	Done, Total int
	ProveAgain  int
	InDoubt     int
}

// Stages returns the stages in the order of the list. Jobs of one stage that
// stand apart count together.
func (res *Result) Stages() []Stage {
	var out []Stage
	at := map[string]int{}
	for _, j := range res.Jobs {
		i, ok := at[j.Stage]
		if !ok {
			i = len(out)
			at[j.Stage] = i
			out = append(out, Stage{Name: j.Stage})
		}
		out[i].Total++
		switch j.State {
		case Done:
			out[i].Done++
		case ProveAgain:
			out[i].ProveAgain++
		case InDoubt:
			out[i].InDoubt++
		}
	}
	return out
}

// In returns the jobs that are in a state, in order of the list.
func (res *Result) In(s State) []Job {
	var out []Job
	for _, j := range res.Jobs {
		if j.State == s {
			out = append(out, j)
		}
	}
	return out
}
