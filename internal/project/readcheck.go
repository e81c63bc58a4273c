package project

import (
	"fmt"
	"math"
	"strings"
)

// Nose says in the trade's words how a pinion looks that slopes so (rad, down to
// the rear positive), "" for what is no pinion or level. The nose of a rear axle
// looks to the front and that of a front axle to the rear, so the same slope
// has it up on one and down on the other.
func (b *Build) Nose(target string, slope float64) string {
	for _, l := range b.Lines {
		if target != l.PinionTarget() || math.Abs(slope) < 1e-9 {
			continue
		}
		if (slope > 0) != (l.Toward == TowardFront) {
			return "pinion nose up"
		}
		return "pinion nose down"
	}
	return ""
}

// Target returns the target of a reading that word means: the target itself, or
// its end where only one target ends so, as in pinion or rear.shaft.1.
func (b *Build) Target(word string) (string, error) {
	targets := b.Targets()
	var found []string
	for _, t := range targets {
		if t == word {
			return t, nil
		}
		for _, end := range []string{word, word + ".1"} {
			if word != "" && strings.HasSuffix(t, "."+end) {
				found = append(found, t)
			}
		}
	}
	if len(found) == 1 {
		return found[0], nil
	}
	if len(found) > 1 {
		targets = found
	}
	return "", fmt.Errorf("read %q; want one of: %s", Printable(word), strings.Join(targets, ", "))
}
