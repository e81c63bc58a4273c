// Package inturn picks which of many cases a test tries when it is not asked for all of
// them. Which ones is another choice each time: a test that fails names its turn, and
// with -turn the same are tried again. Only tests import it.
package inturn

import (
	"flag"
	"math/rand/v2"
	"os"
	"slices"
	"strconv"
	"sync"
	"testing"
)

var (
	whole = flag.Bool("whole", false, "try all cases, of which a run without it tries samples; WHOLE=1 in the environment does the same for all packages")
	turn  = flag.Int("turn", 0, "which samples are tried: the number that a failed test names; 0 is another each time")
)

// Whole reports whether every case is to be tried. The environment is looked at each time:
// only what a test asks of it while it runs is known to go when it keeps results.
func Whole() bool { return *whole || os.Getenv("WHOLE") != "" }

// Count is how many cases are tried: few of them, or all.
func Count(few, all int) int {
	if Whole() {
		return all
	}
	return few
}

// Draws has properties drawn that many times, unless the command line says how often
// (-rapid.checks) or everything is to be tried. It belongs into TestMain.
func Draws(n int) {
	flag.Parse()
	asked := Whole()
	flag.Visit(func(f *flag.Flag) { asked = asked || f.Name == drawsFlag })
	if f := flag.Lookup(drawsFlag); f != nil && !asked {
		if err := f.Value.Set(strconv.Itoa(n)); err != nil {
			panic(err)
		}
	}
}

const drawsFlag = "rapid.checks"

// Try reports whether the case with that number, counted from anywhere, is one of every so
// many that are tried.
func Try(t testing.TB, i, every int) bool {
	t.Helper()
	return Whole() || (i+chosen(t))%every == 0
}

// Kinds are the cases that are tried, in the order given: of those of each kind one in
// every so many, and at least one.
func Kinds[T any](t testing.TB, cases []T, every int, kind func(T) string) []T {
	t.Helper()
	if Whole() {
		return cases
	}
	return kinds(cases, every, chosen(t), kind)
}

func kinds[T any](cases []T, every, turn int, kind func(T) string) []T {
	of := map[string][]int{}
	for i, c := range cases {
		of[kind(c)] = append(of[kind(c)], i)
	}
	var picked []int
	for _, all := range of {
		step := min(every, len(all))
		for i := turn % step; i < len(all); i += step {
			picked = append(picked, all[i])
		}
	}
	slices.Sort(picked)
	out := make([]T, len(picked))
	for i, at := range picked {
		out[i] = cases[at]
	}
	return out
}

// drawn is the turn of a run that was not given one.
var drawn = 1 + rand.IntN(1_000_000)

var told sync.Map // the tests that say their turn when they fail

// chosen is the turn of this run. A test that asks for it says it when it fails.
func chosen(t testing.TB) int {
	n := drawn
	if *turn > 0 {
		n = *turn
	}
	if _, twice := told.LoadOrStore(t, true); !twice {
		t.Cleanup(func() {
			if t.Failed() {
				t.Logf("these were samples; -turn %d tries the same again, and -whole all of them", n)
			}
			told.Delete(t)
		})
	}
	return n
}
