package assess

import (
	"fitup/internal/assess/finding"
	"fitup/internal/assess/rail"
)

// To the rail trade: what the powertrain's mounts carry at rest where it stands, and those
// of a transfer case and of carrier bearings.

// What is known about the rails goes by the same names here.
type (
	// Rails are the frame rails under what rests on them.
	Rails = rail.Result
	// BentRail is one of them.
	BentRail = rail.Bent
	// RailPiece is a piece of a rail with one section.
	RailPiece = rail.Piece
)

// rails bends the rails.
func (a *Assessment) rails() {
	a.Rails = a.ready.rails.At(a.railLoads())
	a.take(finding.RailTrade, a.Rails.Findings())
}

// railLoads are what each mount of the powertrain presses on the frame with at rest,
// or why that is not known.
func (a *Assessment) railLoads() (in rail.Input) {
	s := &a.Statics
	if s.Why != "" {
		in.Why = s.Why
		return in
	}
	for _, m := range s.Mounts {
		if len(m.Force) == 0 || !m.At.Known {
			in.Why = "what the powertrain's mounts carry at rest is not known yet: powertrain.mass, powertrain.centre_of_mass and its place"
			return in
		}
		in.Mounts = append(in.Mounts, rail.Weighing{Mount: m.Spec.Name, At: m.At.V, Down: m.Force[0].Z})
	}
	if len(in.Mounts) == 0 {
		in.Why = "what the powertrain's mounts carry at rest is not known yet: powertrain.pads"
	}
	for i := range a.Build.Mounts { // a transfer case and carrier bearings hang on the rails too
		m := &a.Build.Mounts[i]
		if !m.Support() {
			continue
		}
		load := a.supportLoad(m)
		if load.Why != "" || len(load.Cases) == 0 {
			in.Why = "what the " + finding.Spoken(m.Name) + " mount carries at rest is not known yet: " + load.Why
			return in
		}
		in.Mounts = append(in.Mounts, rail.Weighing{Mount: m.Name, At: load.At, Down: -load.Cases[0].Force.Z})
	}
	return in
}
