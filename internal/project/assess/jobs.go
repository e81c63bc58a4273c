package assess

import (
	"fmt"
	"slices"

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
)

func (s JobState) String() string {
	return [...]string{"open", "held", "done", "prove again"}[min(s, ProveAgain)]
}

// Job is one job with its state, what holds it and what has broken since.
type Job struct {
	project.Job
	Index      int
	State      JobState
	Holds      []Hold
	Held       bool // some hold is over or not known, or a need is open
	Broken     []string
	Overridden bool // it was ticked although something held it
}

// Hold is a finding, a fact or another job that a job waits for.
type Hold struct {
	ID     string
	Title  string
	Status Status
	Why    string
	Text   string // what holds, in a few words: "joint 2, largest angle is over"
}

// Holds reports whether the hold keeps its job from being ticked.
func (h Hold) Holds() bool { return h.Status == Over || h.Status == NotKnown }

// Fact is something a job can wait for that is no number against a limit.
type Fact struct {
	ID     string
	Title  string
	Status Status
	Why    string
	Text   string
}

const (
	engineOutID = "engine_out.open"     // the fact that nothing on the engine-out list is open
	standingID  = "powertrain.standing" // a hold: the powertrain is in the way
	needPrefix  = "job."                // a hold: another job comes first
)

// workshop works out what was measured, how far welding pulled it, and the maps
// of welds and fasteners: findings and facts that jobs wait for.
func (a *Assessment) workshop() {
	a.measurements()
	a.drift()
	a.welds()
	a.fasteners()
}

// jobs works out the state of every job. The engine-out list depends on the
// jobs, and the job that puts the powertrain back on the list; so holds are
// looked at twice.
func (a *Assessment) jobs() {
	a.Jobs = make([]Job, len(a.Build.Jobs))
	for i, j := range a.Build.Jobs {
		a.Jobs[i] = Job{Job: j, Index: i, Overridden: j.Override != ""}
		a.holds(&a.Jobs[i])
	}
	a.settleJobs()
	a.engineOut()
	for i := range a.Jobs {
		if slices.Contains(a.Jobs[i].Hold, engineOutID) {
			a.holds(&a.Jobs[i])
		}
	}
	a.settleJobs()
	for i := range a.Jobs {
		a.needs(&a.Jobs[i])
	}
}

// holds looks up what the job waits for.
func (a *Assessment) holds(j *Job) {
	j.Holds, j.Held = nil, false
	for _, pattern := range j.Hold {
		j.Holds = append(j.Holds, a.lookUp(pattern)...)
	}
	for _, h := range j.Holds {
		j.Held = j.Held || h.Holds()
	}
}

// settleJobs finds which done jobs still stand.
func (a *Assessment) settleJobs() {
	for i := range a.Jobs {
		j := &a.Jobs[i]
		j.Broken = nil
		switch {
		case j.Done:
			j.State = Done
			if j.Broken = a.broken(j); len(j.Broken) > 0 {
				j.State = ProveAgain
			}
		case j.Held:
			j.State = Held
		default:
			j.State = Open
		}
	}
}

// needs adds the jobs that come first, and the powertrain where it is in the
// way.
func (a *Assessment) needs(j *Job) {
	for _, id := range j.Needs {
		for _, n := range a.Jobs {
			if n.ID != id || n.State == Done {
				continue
			}
			text := fmt.Sprintf("comes first: %s", n.Title)
			if n.State == ProveAgain {
				text = fmt.Sprintf("prove again first: %s", n.Title)
			}
			j.Holds = append(j.Holds, Hold{ID: needPrefix + id, Title: n.Title, Status: NotKnown, Text: text, Why: "Do that first, or override it with a reason."})
		}
	}
	if j.Out && a.Build.Powertrain.Standing == project.StandsIn {
		j.Holds = append(j.Holds, Hold{ID: standingID, Title: "the powertrain is in", Status: NotKnown,
			Text: "the powertrain is in, and this can only be reached with it out", Why: "It waits on the engine-out list."})
	}
	for _, h := range j.Holds {
		j.Held = j.Held || h.Holds()
	}
	if j.State == Open && j.Held {
		j.State = Held
	}
}

// Progress returns how many jobs are done, of how many. One that has to be
// proved again is not done.
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
