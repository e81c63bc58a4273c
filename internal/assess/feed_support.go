package assess

import (
	"errors"
	"fmt"
	"slices"

	"fitup/internal/assess/bracket"
	"fitup/internal/assess/support"
	"fitup/internal/project"

	"gonum.org/v1/gonum/spatial/r3"
)

// To the support trade: joints with their couples from the lines, the transfer case and the
// torque into it from the file. From it: what brackets of supports carry.

// placeSupports puts the pad of a mount that holds a carrier bearing under that, where the
// file does not say where it is.
func (p *Prepared) placeSupports() {
	if len(p.Build.SupportNames()) == 0 {
		return
	}
	b := *p.Build
	b.Mounts = slices.Clone(b.Mounts)
	for i := range b.Mounts {
		m := &b.Mounts[i]
		if !m.Support() {
			continue
		}
		stand := m.Stand()
		if stand.Pad.Known || stand.Pad.Ref != "" {
			continue
		}
		m.NoPlace = "mount." + m.Name + ".bracket.pad"
		name, joint, _ := m.Bearing()
		if k := slices.IndexFunc(b.Lines, func(l project.Line) bool { return l.Name == name }); k >= 0 {
			if at := b.Lines[k].Joint(joint).At; at.Known {
				stand.Pad, m.NoPlace = at, ""
				stand.Pad.Half, stand.Pad.Ref = r3.Vec{}, ""
				stand.Pad.At.Z -= stand.Standing.Or(0)
			}
		}
	}
	p.Build = &b
}

// supportLoad is what a mount that holds a transfer case or a carrier bearing puts on its
// bracket.
func (a *Assessment) supportLoad(m *project.Mount) bracket.MountLoad {
	out := bracket.MountLoad{Mount: m.Name, Own: true, Fixed: true}
	var loads []support.Load
	var err error
	if _, _, ok := m.Bearing(); ok {
		out.Assumes = support.BearingRests
		out.At, loads, err = a.bearingLoads(m)
	} else {
		out.Assumes = support.CaseRests
		if !a.Build.Powertrain.Reverse.Known() {
			out.Assumes = append(out.Assumes[:len(out.Assumes):len(out.Assumes)], "reverse geared no lower than first gear: powertrain.reverse is not in the file")
		}
		out.At, loads, err = a.caseLoads(m)
	}
	if err != nil {
		out.Why = err.Error()
		return out
	}
	for _, l := range loads {
		out.Cases = append(out.Cases, bracket.Case{Name: l.Name, Force: l.Force})
	}
	return out
}

// bearingLoads are those of a carrier bearing, and where they act.
func (a *Assessment) bearingLoads(m *project.Mount) (r3.Vec, []support.Load, error) {
	name, joint, _ := m.Bearing()
	for i := range a.Build.Lines {
		if a.Build.Lines[i].Name != name {
			continue
		}
		chain, err := a.ready.lines[i].Chain(a.Pose)
		if err != nil {
			return r3.Vec{}, nil, err
		}
		at, err := a.ready.lines[i].AtBearing(chain, joint)
		if err != nil {
			return r3.Vec{}, nil, err
		}
		in := support.Bearing{Axis: at.Axis}
		if pad := m.Stand().Pad; pad.Known { // the bearing is over its pad, on the shaft ahead of the joint
			in.Ahead = r3.Dot(at.Axis, r3.Sub(at.At, pad.At))
			at.At = r3.Sub(at.At, r3.Scale(in.Ahead, at.Axis))
		}
		for k, s := range at.Spans {
			in.Spans[k] = support.Span{Tube: s.Tube, Length: s.Length, Couple: s.Couple}
		}
		loads, err := in.Loads(a.Build)
		return at.At, loads, err
	}
	return r3.Vec{}, nil, fmt.Errorf("line.%s is not in the file yet", name)
}

// caseLoads are those of the transfer case on one of its mounts, and where they act.
func (a *Assessment) caseLoads(m *project.Mount) (r3.Vec, []support.Load, error) {
	t := &a.Build.TransferCase
	switch {
	case !t.Mass.Known():
		return r3.Vec{}, nil, errors.New("transfer_case.mass is not in the file yet")
	case !t.CentreOfMass.Known:
		return r3.Vec{}, nil, errors.New("transfer_case.centre_of_mass is not in the file yet")
	}
	in := support.Case{Mass: t.Mass.V(), Centre: t.CentreOfMass.At}
	mine := -1
	for i := range a.Build.Mounts {
		o := &a.Build.Mounts[i]
		if o.Carries != project.CarriesCase {
			continue
		}
		at, ok := holdsAt(o)
		if !ok {
			return r3.Vec{}, nil, fmt.Errorf("mount.%s.bracket.pad is not in the file yet", o.Name)
		}
		if o.Name == m.Name {
			mine = len(in.Held)
		}
		in.Held = append(in.Held, at)
	}
	if err := a.turnsCase(&in); err != nil {
		return r3.Vec{}, nil, err
	}
	loads, err := in.Loads(a.Build)
	if err != nil {
		return r3.Vec{}, nil, err
	}
	return in.Held[mine], loads[mine], nil
}

// holdsAt is where a mount holds what it carries: as far above its bracket's pad as that
// stands below.
func holdsAt(m *project.Mount) (r3.Vec, bool) {
	s := m.Stand()
	return r3.Add(s.Pad.At, r3.Vec{Z: s.Standing.Or(0)}), s.Pad.Known
}

// turnsCase finds what turns the transfer case: the torque that its range multiplies, and
// the couples of the lines that begin at it.
func (a *Assessment) turnsCase(in *support.Case) error {
	t := &a.Build.Powertrain
	gears, err := t.GearRatios()
	switch {
	case t.Layout == project.Transaxle:
		return errors.New("what turns a transfer case behind a transaxle is not worked out; have it judged by somebody else")
	case !t.Torque.Known():
		return errors.New("powertrain.torque is not in the file yet")
	case err != nil:
		return err
	}
	most, own := 1.0, false
	for i := range a.Build.Lines {
		l := &a.Build.Lines[i]
		if l.ReductionIn != project.InOwnCase {
			continue
		}
		own = true
		if !l.Reduction.Known() {
			return fmt.Errorf("line.%s.reduction is not in the file yet: 1 where its case has no low range", l.Name)
		}
		most = max(most, l.Reduction.V())
		chain, err := a.ready.lines[i].Chain(a.Pose)
		if err != nil {
			return err
		}
		couple, err := a.ready.lines[i].FirstCouple(chain)
		if err != nil {
			return err
		}
		in.Couple += couple
	}
	if !own {
		return fmt.Errorf("no line begins at a case of its own: line.%s.reduction_in is not in the file yet; want \"own case\"", a.anyLine())
	}
	sense := 1.0
	if t.Turns == project.OppositeTurns {
		sense = -1
	}
	in.Forward = sense * support.Turned(t.PeakTorque()*gears[0], most)
	back := t.Reverse.Or(gears[0])
	in.Back = -sense * support.Turned(t.PeakTorque()*back, most)
	return nil
}

// anyLine is a line that could begin at a case of its own.
func (a *Assessment) anyLine() string {
	if len(a.Build.Lines) > 0 {
		return a.Build.Lines[0].Name
	}
	return "front"
}
