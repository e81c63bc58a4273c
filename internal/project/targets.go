package project

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Reading targets that belong to no line.
const (
	TargetPowertrain = "powertrain" // the crankshaft axis
	TargetFrame      = "frame"      // along the rails
	TargetFloor      = "floor"      // under the vehicle, along it
)

// Targets lists what a reading can be taken of in this build: the powertrain,
// for each line its own output, its shafts and its pinion, and what the vehicle
// stands on.
func (b *Build) Targets() []string {
	out := []string{TargetPowertrain}
	if b.Powertrain.Layout == Transaxle {
		out = append(out, TargetAcross)
	}
	for _, l := range b.Lines {
		if b.Direct(l) {
			continue // nothing of it can take a gauge
		}
		out = append(out, l.FirstTarget())
		for n := 1; n < l.JointCount(); n++ {
			out = append(out, l.ShaftTarget(n))
		}
		out = append(out, l.PinionTarget())
		if len(l.Pinion.Marks) > 0 {
			out = append(out, l.AxleTarget())
		}
	}
	return append(out, TargetFrame, TargetFloor)
}

// TargetWords names what readings are taken of as people do: the pinion, or the pinion of
// the rear line where there are several.
func (b *Build) TargetWords(targets ...string) string {
	named := map[string]string{TargetPowertrain: "the powertrain", TargetAcross: "the crankshaft, across", TargetFrame: "the frame, along its rails", TargetFloor: "the floor"}
	for i := range b.Lines {
		l, of := &b.Lines[i], ""
		if len(b.Lines) > 1 {
			of = " of the " + strings.ReplaceAll(l.Name, "_", " ") + " line"
		}
		named[l.FirstTarget()], named[l.PinionTarget()] = "the output"+of, "the pinion"+of
		for n := 1; n < l.JointCount(); n++ {
			if named[l.ShaftTarget(n)] = "the shaft" + of; l.JointCount() > 2 {
				named[l.ShaftTarget(n)] = "shaft " + strconv.Itoa(n) + of
			}
		}
	}
	out := make([]string, len(targets))
	for i, t := range targets {
		if out[i] = named[t]; out[i] == "" {
			out[i] = t
		}
	}
	return strings.Join(out, ", ")
}

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
