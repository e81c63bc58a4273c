package frame

import (
	"context"
	"fmt"

	"fitup/internal/project"
)

// Watch follows the adjustment of a survey that takes long. The zero Watch follows
// nothing, and nothing ends it.
type Watch struct {
	Context context.Context
	Tell    func(Progress) // called from where the work is done; nil for not
}

// Progress is how far an adjustment is.
type Progress struct {
	At       string // what it is at, as a sentence has it
	Done, Of int    // of how many; 0 of 0 where nobody knows how many it takes
}

func (p Progress) String() string {
	switch {
	case p.Of > 0:
		return fmt.Sprintf("%s, %d of %d", p.At, p.Done, p.Of)
	case p.Done > 0:
		return fmt.Sprintf("%s, step %d", p.At, p.Done)
	}
	return p.At
}

func (w Watch) context() context.Context {
	if w.Context == nil {
		return context.Background()
	}
	return w.Context
}

func (w Watch) ended() bool { return w.Context != nil && w.Context.Err() != nil }

func (w Watch) tell(at string, done, of int) {
	if w.Tell != nil {
		w.Tell(Progress{at, done, of})
	}
}

// ahead works out what is otherwise worked out when it is asked for.
func (s *Survey) ahead() {
	if s.net == nil {
		return
	}
	s.Points()
	s.net.tell("looking for the measurement that would help most", 0, 0)
	s.Next()
	s.plan()
}

// Large reports whether a survey of so many points and measurements takes longer to
// adjust than a person should wait for a key.
func Large(points, lines int) bool { return points > 60 || lines > 300 }

// BeingWorkedOut is why nothing is known of a survey that is not adjusted yet.
const BeingWorkedOut = "the survey is being worked out"

// Stopped is why nothing is known of a survey whose adjustment was stopped.
const Stopped = "working out the survey was stopped"

// Unadjusted is a result of which nothing is known yet but that it is to be: why says
// for what reason. All its findings are there, and none of them is known.
func Unadjusted(b *project.Build, lines []Line, why string) *Result {
	r := &Result{build: b}
	for _, step := range occasions(lines) {
		s := &Survey{After: step, Why: why}
		if r.Now == nil {
			r.Now = s
		} else if r.Before == nil {
			r.Before = s
		}
	}
	if r.Now == nil {
		r.Now = &Survey{Why: why}
	}
	r.Frame, r.Then = unknown(b, why), unknown(b, why)
	return r
}

// occasions are the steps after which anything was measured, the last first.
func occasions(lines []Line) []project.After {
	has := map[project.After]bool{}
	for _, l := range lines {
		has[l.After] = true
	}
	var out []project.After
	for _, step := range []project.After{project.Welded, project.Tacked, project.Hung, ""} {
		if has[step] {
			out = append(out, step)
		}
	}
	return out
}
