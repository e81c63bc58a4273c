package assess

import (
	"slices"

	"fitup/internal/assess/finding"
	"fitup/internal/assess/job"
	"fitup/internal/project"
	"fitup/internal/project/edit"
)

// To the job trade: all findings and facts. It comes last, and hands edits to whoever
// ticks a job or finishes a weld.

// What the job list makes goes by these names here.
type (
	// JobState is how far a job is.
	JobState = job.State
	// Job is one job with its state, what holds it and what has broken since.
	Job = job.Job
	// Hold is a finding, a fact or another job that a job waits for.
	Hold = job.Hold
	// Stage is one part of the build with its progress.
	Stage = job.Stage
	// Headcount is how many jobs are done, and on what.
	Headcount = job.Headcount
	// OutKind is what an entry of the engine-out list is.
	OutKind = job.OutKind
	// OutItem is something open that can only be reached with the powertrain out.
	OutItem = job.OutItem
	// ErrHeld says what holds a job.
	ErrHeld = job.ErrHeld
)

// The states of a job, and what can be on the engine-out list.
const (
	Open       = job.Open
	Held       = job.Held
	Done       = job.Done
	ProveAgain = job.ProveAgain
	InDoubt    = job.InDoubt

	OutJob      = job.OutJob
	OutWeld     = job.OutWeld
	OutFastener = job.OutFastener
)

// workshop works out what was measured, how far welding pulled it, and the maps
// of welds and fasteners: findings and facts that jobs wait for.
func (a *Assessment) workshop() {
	a.measured()
	a.bracketFacts()
	a.readingFacts()
	a.fasteners()
}

// jobs works out the state of every job, by the findings and all other facts.
func (a *Assessment) jobs() {
	a.work = job.Judge(a.jobInput())
	a.Jobs, a.EngineOut = a.work.Jobs, a.work.EngineOut
	a.note(finding.JobTrade, a.work.Fact)
}

func (a *Assessment) jobInput() job.Input {
	return job.Input{Build: a.Build, Findings: a.Findings, At: a.byID, Plans: a.Plans, Facts: a.Facts}
}

// proved reports whether a finish weld could be made by what is known; what is
// merely tight is somebody's to accept.
func (a *Assessment) proved() bool {
	return !slices.ContainsFunc(job.Proof(a.jobInput()), func(h Hold) bool { return h.Status != Tight })
}

// NoSuch says that a hold names nothing that any build has, and what was
// probably meant; nothing when it is in order.
func (a *Assessment) NoSuch(pattern string) string { return a.work.NoSuch(pattern) }

// Tick returns what is to be recorded when job i is ticked: the findings it
// relies on as they are now. A held job is not ticked without a reason; the
// error then is *ErrHeld. A reason where nothing holds is not recorded.
func (a *Assessment) Tick(i int, override string) (edit.Tick, error) { return a.work.Tick(i, override) }

// WeldHolds is what keeps a side of weld i from going past tacked: proof that
// is missing, and what holds the jobs of finish welding.
func (a *Assessment) WeldHolds(i int, side string) []Hold { return a.work.WeldHolds(i, side) }

// WeldSide returns the edits that bring a side of weld i to a state. Past
// tacked it wants proof or a reason, which is recorded with it; the error then
// is *ErrHeld. An inspection wants a finished side and a name.
func (a *Assessment) WeldSide(i int, side string, to project.WeldState, reason, by string) ([]edit.Edit, error) {
	return a.work.WeldSide(i, side, to, reason, by)
}

// Progress returns how many jobs are done, of how many. One that has to be
// proved again is not done, nor is one that rests on it.
func (a *Assessment) Progress() (done, total int) { return a.work.Progress() }

// Stages returns the stages in the order of the list. Jobs of one stage that
// stand apart count together.
func (a *Assessment) Stages() []Stage { return a.work.Stages() }

// JobsIn returns the jobs that are in a state, in order of the list.
func (a *Assessment) JobsIn(s JobState) []Job { return a.work.In(s) }

// Headcount counts the jobs. One that has to be proved again is not done.
func (a *Assessment) Headcount() Headcount { return a.work.Headcount() }

// UpTo sorts the jobs that are not done up to job i, in order of the list:
// ticks are those that wait for no finding and whose needs are done or ticked
// with them; left are those that want proof or come behind one that does.
func (a *Assessment) UpTo(i int) (ticks, left []Job) { return a.work.UpTo(i) }

// Changed says what the file's own needs and hold of a built-in step leave
// out, a sentence each.
func (a *Assessment) Changed(j Job) []string { return a.work.Changed(j) }

// Out reports whether the file says that the powertrain is out.
func (a *Assessment) Out() bool { return a.work.Out() }

// meant ends a sentence with the name that comes nearest, if one is near: of
// what this build has, or else of what a build can have.
func (a *Assessment) meant(id string) string {
	var have []string
	for _, f := range a.Findings {
		have = append(have, f.ID)
	}
	for _, f := range a.Facts {
		have = append(have, f.ID)
	}
	return finding.Meant(id, have)
}
