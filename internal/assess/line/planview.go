package line

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"fitup/internal/assess/finding"
	"fitup/internal/project/quantity"
)

// numberAt is a number that was read, worked out with other headings (rad) of
// the line's axes.
type numberAt func(headings []float64) finding.Number

// assume says what a finding that rests on readings of the axes first to last
// takes for granted: how the vehicle stood, and what nobody has measured of the
// plan view, with how far aside the verdict still holds, ± included. at is the
// finding's number with other headings.
func (a *judge) assume(f *finding.Finding, first, last int, at numberAt) {
	l := a.out
	if a.Light || !f.HasValue {
		return
	}
	var open []int
	planned, sure := false, true
	for i := first; i <= last; i++ {
		x := &l.Axes[i]
		switch {
		case x.Plan.Known:
		case x.Heading.Known:
			planned, sure = true, sure && x.Heading.Expanded() > 0
		default:
			open = append(open, i)
		}
	}
	var rests []string
	switch {
	case len(open) > 0:
		rests = append(rests, a.sideView(*f, open, len(open) == last-first+1, at))
	case planned:
		s := "directions in plan as the model has them"
		if !sure {
			s += ", their ± not stated"
		}
		rests = append(rests, s)
	}
	for i := first; i <= last; i++ {
		rests = append(rests, a.axisAssumes(&l.Axes[i])...)
	}
	if s := a.standsAssumed(l.Axes[first : last+1]); s != "" {
		rests = append(rests, s)
	}
	for _, s := range rests {
		if !slices.Contains(f.Assumes, s) {
			f.Assumes = append(f.Assumes, s)
		}
	}
}

// standsAssumed says that axes which were read with the vehicle standing in
// different ways are set against each other as if it had sloped alike in all of
// them; "" where it stood in one, or the frame or the floor was read in each.
func (a *judge) standsAssumed(axes []Axis) string {
	var ways []string
	level := true
	for _, x := range axes {
		if x.Reading < 0 {
			continue
		}
		s := a.Build.Readings[x.Reading].Stood.Or()
		level = level && a.Readings.Levelled[s]
		if !slices.Contains(ways, string(s)) {
			ways = append(ways, string(s))
		}
	}
	if len(ways) < 2 || level {
		return ""
	}
	return "the vehicle taken to slope alike as it stood (" + strings.Join(ways, ", ") + "): read the frame each way"
}

// sideView says that a result is seen from the side only, and while which axes
// run less than how far aside its verdict stays what it is. Where none of them is
// measured, one is what the others run aside of: the one nearest the gearbox,
// or for a joint the one that is no shaft.
func (a *judge) sideView(f finding.Finding, open []int, all bool, at numberAt) string {
	l := a.out
	against := ""
	if all {
		ref := 0
		if len(open) == 2 && l.shaftAxis(open[0]) {
			ref = 1
		}
		against = ", against " + l.Axes[open[ref]].the()
		open = slices.Delete(slices.Clone(open), ref, ref+1)
	}
	var names []string
	for _, i := range open {
		names = append(names, l.Axes[i].the())
	}
	who, verb := strings.Join(names, " and "), "runs"
	if len(names) > 2 {
		who = strings.Join(names[:len(names)-1], ", ") + " and " + names[len(names)-1]
	}
	if len(names) > 1 {
		verb = "each run"
	}
	ratio, ends := holdsTo(f, l, open, at)
	switch aside, per := a.asidePer(ratio); {
	case !ends:
		return fmt.Sprintf("side view only: holds however far %s %s aside%s", who, verb, against)
	case aside == "":
		return fmt.Sprintf("side view only: holds only while %s %s straight%s", who, verb, against)
	default:
		return fmt.Sprintf("side view only: holds while %s %s less than %s aside per %s%s", who, verb, aside, per, against)
	}
}

func (l *Line) shaftAxis(i int) bool { return i > 0 && i < len(l.Axes)-1 }

// asidePer spells how far aside an axis may run, rounded down, for the length a
// shop measures over; "" when that is less than it can measure.
func (a *judge) asidePer(ratio float64) (aside, per string) {
	u := a.Build.Units
	if quantity.UnitName(quantity.Length, u) == "mm" {
		if mm := math.Floor(ratio*1000 + 1e-6); mm >= 1 {
			return fmt.Sprintf("%.0f mm", mm), "metre"
		}
		return "", ""
	}
	const foot = 304.8
	in := math.Floor(ratio*foot/25.4*100+1e-6) / 100
	if in < 0.01 {
		return "", ""
	}
	return fmt.Sprintf("%.2f in", in), "foot"
}

// farAside is as far as a driveline axis runs aside, as a ratio; finest is how
// finely the ratio is found, and the first step a multiple of it.
const (
	farAside  = 0.5
	finest    = 0.001
	firstStep = 2 * finest
)

// holdsTo returns the largest ratio of aside to length within which the verdict
// of f stays the same, whichever way each of the axes runs; false when it
// stays the same as far as anything runs.
func holdsTo(f finding.Finding, l *Line, axes []int, at numberAt) (float64, bool) {
	good, bad := 0.0, firstStep
	for ; holdsAt(f, l, axes, at, bad); bad *= 2 {
		if good = bad; good >= farAside {
			return good, false
		}
	}
	for bad-good > finest*1.001 {
		if mid := (good + bad) / 2; holdsAt(f, l, axes, at, mid) {
			good = mid
		} else {
			bad = mid
		}
	}
	return good, true
}

// holdsAt reports whether the verdict stays the same with each axis straight or
// aside by ratio, either way.
func holdsAt(f finding.Finding, l *Line, axes []int, at numberAt, ratio float64) bool {
	h := make([]float64, len(l.Axes))
	ways := 1
	for range axes {
		ways *= 3
	}
	if !l.twisted && l.straight() {
		// What runs aside to the left is the mirror of what runs to the right:
		// codes above the middle one are mirrors of those below it.
		ways = (ways + 1) / 2
	}
	for way := range ways {
		for i := range l.Axes {
			h[i] = l.Axes[i].heading()
		}
		for k, i := 0, way; k < len(axes); k, i = k+1, i/3 {
			h[axes[k]] += math.Atan(ratio) * float64(i%3-1)
		}
		m := at(h)
		if !m.Known || f.VerdictOn(m) != f.Status {
			return false
		}
	}
	return true
}

// straight reports whether every axis is taken to run straight ahead.
func (l *Line) straight() bool {
	return !slices.ContainsFunc(l.Axes, func(x Axis) bool { return x.heading() != 0 })
}
