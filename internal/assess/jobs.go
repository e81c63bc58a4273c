package assess

import (
	"slices"
	"strings"

	"fitup/internal/project"
)

// JobState is how far a job is. It follows from the file and the findings;
// nothing of it is kept anywhere.
type JobState uint8

// The states.
const (
	Open       JobState = iota // can be done now
	Held                       // something has to come first
	Done                       // done, and what it relied on still holds
	ProveAgain                 // was done, and what it relied on holds no more
	InDoubt                    // done, and it rests on a job that has to be proved again
)

func (s JobState) String() string {
	return [...]string{"open", "held", "done", "prove again", "in doubt"}[min(s, InDoubt)]
}

// Job is one job with its state, what holds it and what has broken since.
type Job struct {
	project.Job
	Index      int
	State      JobState
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
	Status Status
	Why    string
	Text   string // what holds, in a few words: "joint 2, largest angle is over"
	Firm   bool   // the job cannot be undone, so tight holds it as well
}

// Holds reports whether the hold keeps its job from being ticked.
func (h Hold) Holds() bool {
	return h.Status == Over || h.Status == NotKnown || h.Firm && h.Status == Tight
}

const (
	engineOutID = "engine_out.open"     // the fact that nothing on the engine-out list is open
	standingID  = "powertrain.standing" // a hold: the powertrain is in the way
	needPrefix  = "job."                // a hold: another job comes first
)

// workshop works out what was measured, how far welding pulled it, and the maps
// of welds and fasteners: findings and facts that jobs wait for.
func (a *Assessment) workshop() {
	a.measured()
	a.bracketFacts()
	a.readingFacts()
	a.fasteners()
}

// jobs works out the state of every job. The weld map depends on what holds a
// finish weld, the engine-out list on the jobs, and the job that puts the
// powertrain back on that list; so holds are looked at twice.
func (a *Assessment) jobs() {
	a.welds()
	a.looked = map[lookKey][]Hold{}
	a.Jobs = make([]Job, len(a.Build.Jobs))
	for i, j := range a.Build.Jobs {
		a.Jobs[i] = Job{Job: j, Index: i, Overridden: strings.TrimSpace(j.Override) != ""}
	}
	a.settleJobs()
	a.engineOut()
	a.looked = map[lookKey][]Hold{} // the list is a fact that jobs wait for
	a.settleJobs()
	for i := range a.Jobs {
		a.lost(&a.Jobs[i])
	}
}

// settleJobs finds what holds each job, which done ones still stand, and how
// far what has to be proved again reaches.
func (a *Assessment) settleJobs() {
	for i := range a.Jobs {
		j := &a.Jobs[i]
		a.holds(j)
		j.Broken, j.Doubts = nil, nil
		j.State = Open
		if j.Done {
			j.State = Done
			if j.Broken = a.broken(j); len(j.Broken) > 0 {
				j.State = ProveAgain
			}
		}
	}
	a.restOn()
	for i := range a.Jobs {
		j := &a.Jobs[i]
		if j.Out && a.Build.Powertrain.Standing == project.StandsIn {
			j.Holds = append(j.Holds, Hold{ID: standingID, Title: "the powertrain is in", Status: NotKnown,
				Text: "the powertrain is in, and this can only be reached with it out", Why: "It waits on the engine-out list."})
		}
		j.Held = slices.ContainsFunc(j.Holds, Hold.Holds)
		if j.State == Open && j.Held {
			j.State = Held
		}
	}
}

// holds looks up what the job waits for, each finding once: as the pattern has
// it that holds.
func (a *Assessment) holds(j *Job) {
	j.Holds = nil
	at := map[string]int{}
	for _, pattern := range j.Hold {
		for _, h := range a.lookUp(pattern, j.Finish) {
			n, had := at[h.ID]
			switch {
			case h.Status == Elsewhere && slices.ContainsFunc(j.Holds, func(o Hold) bool { return o.Text == h.Text }):
			case !had:
				at[h.ID] = len(j.Holds)
				j.Holds = append(j.Holds, h)
			case h.Holds() && !j.Holds[n].Holds():
				j.Holds[n] = h
			}
		}
	}
}

// Progress returns how many jobs are done, of how many. One that has to be
// proved again is not done, nor is one that rests on it.
func (a *Assessment) Progress() (done, total int) {
	for _, j := range a.Jobs {
		if j.State == Done {
			done++
		}
	}
	return done, len(a.Jobs)
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
func (a *Assessment) Stages() []Stage {
	var out []Stage
	at := map[string]int{}
	for _, j := range a.Jobs {
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

// JobsIn returns the jobs that are in a state, in order of the list.
func (a *Assessment) JobsIn(s JobState) []Job {
	var out []Job
	for _, j := range a.Jobs {
		if j.State == s {
			out = append(out, j)
		}
	}
	return out
}
