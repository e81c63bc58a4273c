package assess

import (
	"sync"

	"fitup/internal/assess/finding"
	"fitup/internal/assess/reading"
	"fitup/internal/project"
)

// To the reading trade: what its targets are called, and whether they have moved
// since. From it: slopes and headings with their ±, which lines take in Prepare.

// Measurement is what was measured with its repeats taken together.
type Measurement = reading.Measurement

// measured works out what was measured, and how far welding pulled it.
func (a *Assessment) measured() {
	ms, facts := a.ready.readings.Measurements()
	a.Measurements = ms
	a.note(finding.ReadingTrade, facts...)
	a.take(finding.ReadingTrade, a.ready.readings.Drift(a.targetLabels()))
	a.Hung = a.ready.hangs
	a.take(finding.HungTrade, a.Hung.Findings())
	plan := sync.OnceValue(a.planAlone) // the same for each that was measured elsewhere than planned
	a.take(finding.HungTrade, a.hungAsPlanned(plan))
	a.take(finding.HungTrade, a.axlesAsPlanned(plan))
}

// targetLabels are what the targets of readings are called, by target.
func (a *Assessment) targetLabels() map[string]string {
	out := map[string]string{}
	for _, l := range a.Lines {
		for _, x := range l.Axes {
			switch _, taken := out[x.Target]; {
			case taken:
			case len(a.Lines) > 1 && x.Target != project.TargetPowertrain:
				out[x.Target] = l.Name + " " + x.Label
			default:
				out[x.Target] = x.Label
			}
		}
	}
	return out
}

// readingFacts say whether the powertrain, and what it drives, was read after
// tacking and after welding, where it stands now.
func (a *Assessment) readingFacts() {
	labels := a.targetLabels()
	var ends []reading.End
	looked := false
	for _, l := range a.Lines {
		for i, x := range l.Axes {
			if i == 0 || i == len(l.Axes)-1 {
				looked = looked || x.Target == project.TargetPowertrain
				ends = append(ends, reading.End{Target: x.Target, Label: labels[x.Target], Moved: x.Moved})
			}
		}
	}
	if !looked {
		ends = append(ends, reading.End{Target: project.TargetPowertrain, Label: "powertrain", Moved: a.readElsewhere()})
	}
	a.note(finding.ReadingTrade, a.ready.readings.Facts(ends)...)
}

// readElsewhere reports whether the powertrain stands elsewhere than where it
// was read, or nobody can tell.
func (a *Assessment) readElsewhere() bool {
	set := a.ready.readings.Gauge(project.TargetPowertrain).Set
	if len(set) == 0 {
		return false
	}
	moved, _, _, err := a.Build.MovedSince(a.Build.Readings[set[0]])
	return moved || err != nil
}
