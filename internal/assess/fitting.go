package assess

import (
	"context"

	"fitup/internal/assess/frame"
	"fitup/internal/assess/reading"
	"fitup/internal/project"
)

// A large survey takes longer to adjust than a key should wait. Where somebody looks on,
// the build is assessed without it, everything that rests on it is not known, and the
// adjustment is done beside; the build is then assessed anew.

// Fitting is the adjustment of a large survey that is to be done beside.
type Fitting struct {
	Points, Lines int
	Stopped       bool // somebody did not want to wait for it

	of    surveyKey
	build *project.Build
}

// Progress is how far an adjustment is.
type Progress = frame.Progress

// RunBeside is Run, but for a large survey that was not adjusted yet: that is left to
// Fitting. Again goes on in the same way.
func RunBeside(b *project.Build) *Assessment {
	p := prepare(b, true, &Prepared{})
	return p.run(p.Build)
}

// Fitting is the adjustment that the assessment waits for; nil for none.
func (a *Assessment) Fitting() *Fitting { return a.ready.waits }

// After assesses the build as it is after moves, as far as which asks, and says what
// Prepared.At would.
func (a *Assessment) After(moves []project.Move, which Which) (*Assessment, error) {
	b, err := a.Build.With(moves...)
	if err != nil {
		return nil, err
	}
	return a.ready.with(b, moves).at(b, which.whole()), nil
}

// Given is the build as its file has it, of an assessment that waits for its survey.
func (a *Assessment) Given() *project.Build { return a.ready.given }

// Same reports whether both are of one survey.
func (f *Fitting) Same(g *Fitting) bool {
	return f == g || f != nil && g != nil && f.of == g.of
}

// Do adjusts the survey, so that the next assessment of a build with it has it. tell is
// told how far it is, from where the work is done. It fails only where ctx ends it.
func (f *Fitting) Do(ctx context.Context, tell func(Progress)) error {
	is, err := adjust(frame.Watch{Context: ctx, Tell: tell}, f.build)
	if err == nil {
		surveys.keep(f.of, is)
	}
	return err
}

// Stop leaves the survey as it is: nothing is known of it until Begin.
func (f *Fitting) Stop() { surveys.put(f, true) }

// Begin takes Stop back.
func (f *Fitting) Begin() { surveys.put(f, false) }

// put says anew of a survey that is not adjusted whether it is going to be.
func (r *remembered) put(f *Fitting, stopped bool) {
	if is, ok := r.recall(f.of); ok && is.waits == nil {
		return // it was adjusted after all
	}
	r.keep(f.of, waiting(f.build, f.of, stopped))
}

// unadjusted is what is said of a large survey until it is adjusted; false of one that
// is not.
func unadjusted(b *project.Build, k surveyKey) (adjusted, bool) {
	lines := 0
	for i := range b.Measurements {
		if b.Measurements[i].Surveys() {
			lines++
		}
	}
	if !frame.Large(len(b.Points), lines) {
		return adjusted{}, false
	}
	return waiting(b, k, false), true
}

func waiting(b *project.Build, k surveyKey, stopped bool) adjusted {
	a := adjusted{measured: reading.Measure(b)}
	lines, plain := a.lines(b)
	why := frame.BeingWorkedOut
	if stopped {
		why = frame.Stopped
	}
	a.frame = frame.Unadjusted(b, lines, why)
	a.frame.Taped(plain)
	a.waits = &Fitting{Points: len(b.Points), Lines: len(lines), Stopped: stopped, of: k, build: b}
	return a
}
