package ui

import (
	"flag"
	"os"
	"runtime/debug"
	"testing"
)

var whole = flag.Bool("whole", false, "try every state at every size, and type the whole annotated example in tmux, where a run without it tries samples")

// sampled reports whether the case with that number is one of every so many that are tried
// by default.
func sampled(i, every int) bool { return *whole || i%every == 0 }

// TestMain collects garbage seldom: the tests assess thousands of builds and
// keep little of them.
func TestMain(m *testing.M) {
	debug.SetGCPercent(400)
	code := m.Run()
	if programDir != "" {
		_ = os.RemoveAll(programDir)
	}
	os.Exit(code)
}
