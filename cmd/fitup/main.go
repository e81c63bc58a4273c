// Command fitup helps to fit a different engine and gearbox into a vehicle: a
// bench screen over one build file, and one-shot commands for the same numbers.
package main

import (
	"os"
	"time"
)

func main() {
	os.Exit(run(os.Args[1:], Env{
		Stdin: os.Stdin, Stdout: os.Stdout, Stderr: os.Stderr,
		Getenv: os.Getenv, Now: time.Now,
	}))
}
