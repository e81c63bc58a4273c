package ui

import (
	"fmt"
	"path/filepath"
	"runtime/debug"
	"strings"

	"fitup/internal/abreast"
)

// Failure is a panic that was caught: a fault of the program itself.
type Failure struct {
	What  string
	Stack string // as debug.Stack gave it where the panic was recovered
}

func (f *Failure) Error() string { return f.What }

// FailureOf is what was recovered, with the trace of where it came from: asked where it is.
func FailureOf(r any) *Failure {
	if p, ok := r.(*abreast.Panic); ok { // in a piece of work beside others
		return &Failure{fmt.Sprint(p.Value), p.Stack}
	}
	return &Failure{fmt.Sprint(r), string(debug.Stack())}
}

// Place is the function and the line that panicked: the first of ours, as that is where to
// look even when a library gave the alarm.
func (f *Failure) Place() string {
	lines := strings.Split(f.Stack, "\n")
	panicked := false
	for i := 0; i+1 < len(lines); i++ {
		function := lines[i]
		switch {
		case strings.HasPrefix(function, "panic("):
			panicked = true
		case !panicked:
		case strings.HasPrefix(function, "fitup/"), strings.HasPrefix(function, "main."):
			place, _, _ := strings.Cut(strings.TrimSpace(lines[i+1]), " ")
			if end := strings.LastIndexByte(function, '('); end > 0 {
				function = function[:end]
			}
			return function + " (" + filepath.Base(place) + ")"
		}
	}
	return "a place unknown"
}
