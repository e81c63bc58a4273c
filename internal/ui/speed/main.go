//go:build linux

// Speed measures the program from outside, as a person has it: on a terminal, from
// a key to the frame that answers it. `.ci/speed` builds it and runs it. It asserts
// nothing; the figures are a machine's, and are for comparing one state of the
// program with another.
package main

import (
	"errors"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"fitup/internal/project/grown"
	"fitup/internal/project/starter"
)

func main() {
	if len(os.Args) == 2 && os.Args[1] == emptyName {
		exit(empty())
	}
	keys := flag.Int("keys", 300, "how many keys are timed")
	only := flag.String("only", "", "measure only the bench of that name, such as demo, and no commands")
	hold := flag.Int("hold", 20_000, "how many keys are pressed before the memory is read again; 0 for none")
	flag.Usage = func() {
		_, _ = fmt.Fprintln(flag.CommandLine.Output(), "usage: speed [-keys N] [-hold N] [-only NAME] PROGRAM")
		flag.PrintDefaults()
	}
	flag.Parse()
	if flag.NArg() != 1 {
		flag.Usage()
		os.Exit(2)
	}
	exit(measure(flag.Arg(0), *only, *keys, *hold))
}

func exit(err error) {
	if err != nil {
		_, _ = fmt.Fprintln(os.Stderr, "speed:", err)
		os.Exit(1)
	}
	os.Exit(0)
}

// longSearch lets things move, and holds what no place can and no bound shows, so that
// every place is worked out.
const longSearch = `
[find]
hold = ["mounts.**", "bracket.**", "clearance.**"]
[[find.move]]
of = "placement.rear"
range = ["-314 mm", "-264 mm"]
step = "1 mm"
[[find.move]]
of = "placement.left_front"
range = ["-131 mm", "-81 mm"]
step = "1 mm"
[[find.move]]
of = "placement.right_front"
range = ["-131 mm", "-81 mm"]
step = "1 mm"
`

// measure prints the table, or one bench of it.
func measure(program, only string, keys, hold int) error {
	dir, err := os.MkdirTemp("", "speed")
	if err != nil {
		return err
	}
	defer func() { _ = os.RemoveAll(dir) }()
	file := func(name, text string) string {
		path := filepath.Join(dir, name)
		if err == nil {
			err = os.WriteFile(path, []byte(text), 0o644)
		}
		return path
	}
	long := file("search.toml", strings.Replace(string(starter.Demo()), "\n[limits]\n", "\n[limits]\nrock = \"0.001 deg\"\n", 1)+longSearch)
	demo, large, parts := file("demo.toml", string(starter.Demo())), file("large.toml", grown.Large()), file("parts.toml", grown.Parts(400))
	self, serr := os.Executable()
	if err := errors.Join(err, serr); err != nil {
		return fmt.Errorf("nothing to measure: %w", err)
	}
	for _, b := range []bench{
		{name: "an empty program of the screen library", args: []string{self, emptyName}, edit: [2]string{"a", "b"}, move: [2]string{"c", "d"}},
		{name: "demo", args: []string{program, demo}, ready: "Mounts", before: down + down, hold: hold, marked: true,
			edit: [2]string{right, left}, move: [2]string{down, up}},
		{name: "large build", args: []string{program, large}, ready: "Mounts", before: down + down, marked: true,
			edit: [2]string{right, left}, move: [2]string{down, up}},
		{name: "demo with things to move", args: []string{program, long}, ready: "Mounts", before: down + down, marked: true,
			edit: [2]string{right, left}, move: [2]string{down, up}, search: "Lg\x1b"},
	} {
		if only != "" && b.name != only {
			continue
		}
		if err := b.run(keys); err != nil {
			return fmt.Errorf("%s: %w", b.name, err)
		}
	}
	if only != "" {
		return nil
	}
	for _, c := range []struct {
		name string
		args []string
	}{
		{"check of the demo", []string{"check", demo}},
		{"check of the large build", []string{"check", large}},
		{"load of the large build (get of its name)", []string{"get", large, "name"}},
		{"get of every value of 400 parts", []string{"get", parts}},
	} {
		took, err := command(program, c.args)
		if err != nil {
			return fmt.Errorf("%s: %w", c.name, err)
		}
		row(c.name, ms(took))
	}
	return nil
}

// command is how long a command takes from its start to its end, the middle one
// of eleven runs. That a check finds something is no error.
func command(program string, args []string) (time.Duration, error) {
	var took []time.Duration
	for range 11 {
		cmd := exec.Command(program, args...)
		begin := time.Now()
		if err := cmd.Run(); err != nil && cmd.ProcessState.ExitCode() != 1 {
			return 0, err
		}
		took = append(took, time.Since(begin))
	}
	return share(took, 0.5), nil
}

// share is the value that this part of all does not exceed.
func share(all []time.Duration, part float64) time.Duration {
	all = slices.Sorted(slices.Values(all))
	return all[min(int(part*float64(len(all))), len(all)-1)]
}

func ms(d time.Duration) string { return fmt.Sprintf("%.1f ms", float64(d.Microseconds())/1000) }

func row(what, value string) { fmt.Printf("%-62s %s\n", what, value) }
