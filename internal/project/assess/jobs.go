package assess

import "fitup/internal/project"

// Job is one job with what holds it.
type Job struct {
	project.Job
	Index int
	Holds []Hold
	Held  bool // some hold is over or not known
}

// Hold is a finding that a job waits for.
type Hold struct {
	ID     string
	Title  string
	Status Status
	Why    string
}

func (a *Assessment) jobs() {
	for i, j := range a.Build.Jobs {
		job := Job{Job: j, Index: i}
		for _, id := range j.Hold {
			h := Hold{ID: id, Title: id, Status: NotKnown, Why: "this build has no such finding"}
			if f, ok := a.Finding(id); ok {
				h = Hold{ID: id, Title: f.Title, Status: f.Status, Why: f.Advice}
			}
			job.Held = job.Held || h.Status == Over || h.Status == NotKnown
			job.Holds = append(job.Holds, h)
		}
		a.Jobs = append(a.Jobs, job)
	}
}

// Progress returns how many jobs are done, of how many.
func (a *Assessment) Progress() (done, total int) {
	for _, j := range a.Jobs {
		if j.Done {
			done++
		}
	}
	return done, len(a.Jobs)
}
