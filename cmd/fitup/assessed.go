package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"time"

	"fitup/internal/assess"
	"fitup/internal/project"
)

// assessed is a build with everything that follows from it. A large survey takes long:
// then a terminal is told how far it is, and an interrupt stops it.
func (a *app) assessed(b *project.Build) (*assess.Assessment, error) {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	var to io.Writer
	if isTerminal(a.env.Stderr) {
		to = a.env.Stderr
	}
	return assessedIn(ctx, b, to, a.env.Now)
}

// assessedIn is assessed until ctx ends; how far it is goes to a terminal, nil for none.
func assessedIn(ctx context.Context, b *project.Build, to io.Writer, now func() time.Time) (*assess.Assessment, error) {
	x := assess.RunBeside(b)
	f := x.Fitting()
	if f == nil {
		return x, nil
	}
	p := progress{to: to, now: now, last: now()}
	err := f.Do(ctx, p.tell)
	p.end()
	if err != nil {
		return nil, fail(exitStopped, errors.New("stopped before the survey was worked out: nothing was printed and nothing changed"))
	}
	return assess.Again(x, b), nil
}

// progress is a line of a terminal that says how far something is, and goes when it is
// done.
type progress struct {
	to    io.Writer // nil for nowhere
	now   func() time.Time
	last  time.Time
	shown bool
}

// glance is how long it takes for something to be worth a word, and how often it is said.
const glance = 300 * time.Millisecond

const wipe = "\r\x1b[K" // the line, by ECMA-48

func (p *progress) tell(at assess.Progress) {
	if t := p.now(); p.to != nil && t.Sub(p.last) >= glance {
		p.last, p.shown = t, true
		fmt.Fprintf(p.to, wipe+"the survey: %s; ctrl+c stops", at)
	}
}

func (p *progress) end() {
	if p.shown {
		fmt.Fprint(p.to, wipe)
	}
}
