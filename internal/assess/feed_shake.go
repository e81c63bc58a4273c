package assess

import (
	"fitup/internal/assess/finding"
	"fitup/internal/assess/shake"
	"fitup/internal/geom/wheel"
)

// To the vibration trade, when somebody asks: speeds and ratios of the lines, and
// the findings that make one of them suspect, and how the powertrain swings on its mounts.

// What the trade of vibrations makes goes by these names here.
type (
	// Shake is what is known of a vibration.
	Shake = shake.Felt
	// Range is the range of a transfer case with a reduction.
	Range = shake.Range
	// Suspect is one thing a shake may come from, or none of them.
	Suspect = shake.Suspect
	// Shaking is the answer of the vibration finder.
	Shaking = shake.Shaking
)

// The ranges; the empty one is not known.
const (
	HighRange = shake.HighRange
	LowRange  = shake.LowRange
)

// FindShake ranks what a shake can come from by this build's own numbers. It
// refuses speeds that contradict each other.
func (a *Assessment) FindShake(s Shake) (Shaking, error) { return a.shakeInput().Find(s) }

func (a *Assessment) shakeInput() *shake.Input {
	in := &shake.Input{Build: a.Build}
	if final, err := a.Build.Powertrain.FinalRatio(); err != nil {
		in.Final = finding.Missing(err.Error())
	} else {
		in.Final = finding.Exact(final)
	}
	if t, _, err := a.Build.Vehicle.Wheel(); err != nil {
		in.Tyre.Why = err.Error()
	} else {
		in.Tyre = finding.Maybe[wheel.Tyre]{V: t, Known: true}
	}
	if a.Shaking != nil {
		for i := range a.Shaking.Modes {
			m := &a.Shaking.Modes[i]
			in.Swings = append(in.Swings, shake.Swing{Said: m.Said(a.Build.Units), Hz: m.Frequency.V})
		}
	}
	for _, l := range a.Lines {
		out := shake.Line{Name: l.Name}
		add := func(to *[]Finding, id string) {
			if f, ok := a.Finding(id); ok {
				*to = append(*to, f)
			}
		}
		add(&out.Uneven, finding.Residual(l.Name))
		for _, s := range l.Shafts {
			add(&out.Angles, finding.ShaftMismatch(l.Name, s.Number))
			if s.Tube.Given {
				out.Whirl = append(out.Whirl, s.Tube.Whirl)
			}
		}
		for _, j := range l.Joints {
			out.Joints = append(out.Joints, j.Kind)
			add(&out.Angles, finding.JointMax(l.Name, j.Number))
		}
		in.Lines = append(in.Lines, out)
	}
	return in
}
