// Command fitup helps to fit a different engine and gearbox into a vehicle: a
// bench screen over one build file, and one-shot commands for the same numbers.
package main

import (
	"os"
	"runtime/debug"
	"time"
)

// What a command leaves behind before it ends is not worth collecting, and neither is
// what the bench does before its first frame; it sees to that itself afterwards.
const (
	seldom = 400       // percent of what is in use
	plenty = 256 << 20 // bytes, from where on it is collected more often all the same
)

func main() {
	if os.Getenv("GOGC") == "" {
		debug.SetGCPercent(seldom)
		debug.SetMemoryLimit(plenty)
	}
	os.Exit(run(os.Args[1:], Env{
		Stdin: os.Stdin, Stdout: os.Stdout, Stderr: os.Stderr,
		Getenv: os.Getenv, Now: time.Now,
	}))
}
