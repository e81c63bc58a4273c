package assess

import (
	"fitup/internal/abreast"
	"fitup/internal/assess/bracket"
	"fitup/internal/assess/clear"
	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	shape "fitup/internal/geom/clear"
	"fitup/internal/project"

	"gonum.org/v1/gonum/spatial/r3"
)

// To the room trade: the pose and the places where the powertrain can stand, from
// the mounts, and the lines with their travel. Nothing rests on what it finds.

// The room round the powertrain goes by the same names here.
type (
	// Clearance is the room between a piece of the vehicle and the powertrain.
	Clearance = clear.Clearance
	// Rocked is the least room over the places where the powertrain can stand.
	Rocked = clear.Rocked
	// Moving is the least room to what moves with the axles and wheels.
	Moving = clear.Moving
	// Exhaust is the room round a pipe of the exhaust.
	Exhaust = clear.Exhaust
)

// findRoom finds the room round the powertrain, and what moves in it.
func (a *Assessment) findRoom() {
	is, st := &a.Isolators, a.mounts.Standings()
	in := clear.Input{Pose: a.Pose, Stands: st.All, StandsAssume: st.Assumes}
	in.Rock = clear.Rock{Asked: is.Begun, Why: is.Why, NoReverse: a.mounts.NoReverse()}
	if in.Rock.Why == "" {
		in.Rock.Why = a.Statics.TorqueWhy
	}
	if in.Rock.Why == "" {
		in.Rock.Ends = is.AtEnds()
	}
	if a.abreast {
		in.Do = abreast.Do
	}
	if a.asks(OfMoving) {
		in.Lines = a.movingLines()
	}
	in.Keep = len(a.ready.open) > 0
	if a.ready.room.LooksAtMounts() {
		in.Mounts = a.mountBodies()
	}
	if a.as.end {
		in.Keep = false
		if a.as.to.roomAlone() {
			in.Followed = a.as.of.followed
		}
		in.Only, in.Part, in.Piece, in.Middle = a.as.to.line, a.as.to.part, a.as.to.piece, a.as.of.movingRoom
	}
	if a.aim.piece != "" {
		in.Piece = a.aim.piece
	}
	got := a.ready.room.At(in)
	a.Clearances, a.Moving, a.Exhaust, a.followed, a.others = got.Clearances, got.Moving, got.Exhaust, got.Followed, got.Others
	a.take(finding.ClearTrade, got.Findings)
}

// fixedBodies are the towers, springs, dampers, rods and anti-roll bars, for the room round
// them, and the adapter plates, which go with the powertrain.
func (p *Prepared) fixedBodies() []clear.Fixed {
	out := p.adapterBodies()
	for _, b := range p.pickups.Bodies() {
		f := clear.Fixed{ID: b.ID, Name: b.Name, Why: b.Why, Group: finding.RoomTowers, Held: b.Fixed, Assumes: b.Assumes}
		if b.Guides {
			f.Group = finding.RoomSuspension
		}
		if b.Line != "" {
			f.Carries = []string{b.Line}
		}
		for _, r := range b.Rods {
			f.Shapes = append(f.Shapes, shape.Segment{A: r[0], B: r[1], R: b.Radius})
		}
		for _, w := range b.With {
			f.With = append(f.With, clear.With(w))
		}
		out = append(out, f)
	}
	return append(out, p.cornerBodies()...)
}

// adapterBodies are the adapter plates with their bolts, the powertrain's own frame.
func (p *Prepared) adapterBodies() (out []clear.Fixed) {
	for _, x := range p.legs.Adapters() {
		m := p.Build.Mount(x.Name)
		f := clear.Fixed{Own: true, ID: finding.Adapter(x.Name), Name: x.Label + " adapter", Why: x.Why,
			Under: clear.Under{Mount: x.Name, Touches: m.Holds == project.SolidMount}}
		if m.Stand().Standing.V() == 0 {
			f.Under.Why = m.StandPath() + ".standing is not in the file yet, without which the plate lies on its bracket"
		}
		if x.Why == "" {
			bodies, without := x.Bodies()
			f.Shapes = shapesOf(bodies)
			if f.Assumes = []string{"heads and spacers of an adapter plate's bolts as blocks twice as wide as the bolt"}; without != "" {
				f.Assumes = []string{without}
			}
		}
		out = append(out, f)
	}
	return out
}

// cornerBodies are the brackets at the corners of subframes: the powertrain stands on none
// of them, and stays clear of all.
func (p *Prepared) cornerBodies() (out []clear.Fixed) {
	if len(p.corners) == 0 {
		return nil
	}
	for _, b := range p.legs.Standing(finding.Maybe[geom.Pose]{}) {
		if _, ok := p.corners[b.Name]; ok {
			f := clear.Fixed{ID: b.Name + "_bracket", Name: b.Label + " bracket", Group: finding.RoomSubframe, Why: b.Why, Shapes: shapesOf(b.Bodies())}
			if says := p.cornerSays[b.Name]; says != "" {
				f.Assumes = []string{says}
			}
			if f.Why == "" && len(f.Shapes) == 0 {
				f.Why = "the " + f.Name + " is not known yet"
			}
			out = append(out, f)
		}
	}
	return out
}

// shapesOf are pieces of a bracket.
func shapesOf(bodies []bracket.Body) (out []shape.Shape) {
	for _, x := range bodies {
		if x.Round {
			along := r3.Scale(x.Half.X, x.Pose.X)
			out = append(out, shape.Segment{A: r3.Sub(x.Pose.At, along), B: r3.Add(x.Pose.At, along), R: x.Half.Y})
		} else {
			out = append(out, shape.Box{Pose: x.Pose, Half: x.Half})
		}
	}
	return out
}

// mountBodies are the brackets as what else has to stay clear of.
func (a *Assessment) mountBodies() []clear.Mount {
	var out []clear.Mount
	for _, b := range a.ready.legs.Standing(a.Pose) {
		if _, ok := a.ready.corners[b.Name]; ok && !b.Crosses() {
			continue // it is among the pieces of the vehicle
		}
		m := clear.Mount{Bracket: b.Name, Name: b.Label + " bracket", Crosses: b.Crosses(), Bolted: b.ComesOut(), Why: b.Why}
		for _, x := range b.Bodies() {
			s := shapesOf([]bracket.Body{x})
			m.Pieces = append(m.Pieces, mountPiece(x, s[0]))
			if m.Shapes = append(m.Shapes, s...); x.Stays {
				m.Stays = append(m.Stays, s...)
			} else {
				m.Moves = append(m.Moves, s...)
			}
		}
		if at, up, reach, ok := b.Pad(); ok && !a.supports(b.Name) {
			m.Pad = &clear.MountPad{At: at, Up: up, Reach: reach}
		}
		out = append(out, m)
	}
	return out
}

// supports says that a mount carries something else than the powertrain.
func (a *Assessment) supports(name string) bool {
	m := a.Build.Mount(name)
	return m.Support()
}

// mountPiece is a piece of a bracket by its name; a round one ends flat.
func mountPiece(x bracket.Body, s shape.Shape) clear.MountPiece {
	out := clear.MountPiece{Name: x.Name, Shape: s}
	if x.Round {
		out.Flat = &shape.Box{Pose: x.Pose, Half: x.Half}
	}
	return out
}

// movingLines are the lines as far as they move.
func (a *Assessment) movingLines() []clear.Line {
	out := make([]clear.Line, len(a.Lines))
	for i := range a.Lines {
		l, spec := &a.Lines[i], a.Build.Lines[i]
		out[i] = clear.Line{Direct: l.Direct, Hung: a.Build.Hung(spec), Shafts: len(l.Shafts), Planned: l.HasPlan, PlanWhy: l.PlanWhy,
			Joints: func(pose geom.Pose) ([]r3.Vec, error) {
				chain, err := a.chain(spec, finding.Maybe[geom.Pose]{V: pose, Known: true})
				if err != nil {
					return nil, err
				}
				at := make([]r3.Vec, len(chain.Joints))
				for k, j := range chain.Joints {
					at[k] = j.At
				}
				return at, nil
			}}
		if l.Travel != nil {
			out[i].Travel = movingTravel(l.Travel)
		}
	}
	return out
}

func movingTravel(t *Travel) *clear.Travel {
	out := &clear.Travel{Why: t.Why, Cases: make([]clear.TravelCase, len(t.Cases)), HalfShafts: make([]clear.HalfShaft, len(t.HalfShafts))}
	for i, c := range t.Cases {
		out.Cases[i] = clear.TravelCase{Under: c.Under, Suspension: c.Suspension, Points: c.Points}
	}
	for i, h := range t.HalfShafts {
		to := clear.HalfShaft{Name: h.Name, Why: h.Why, Assumes: h.Assumes, Shaft: h.Shaft, Points: h.Points, Stands: make([]clear.ShaftStand, len(h.Stands))}
		for k, s := range h.Stands {
			to.Stands[k] = clear.ShaftStand{Inner: s.Inner, Axis: s.Axis, Soft: s.Soft}
		}
		out.HalfShafts[i] = to
	}
	return out
}

// movingRoom is the room to what moves of the finding with that id.
func (a *Assessment) movingRoom(id string) (Moving, bool) {
	if a.Moving != nil && id == finding.Moving(finding.Clearance("powertrain")) {
		return *a.Moving, true
	}
	for i := range a.Exhaust {
		if x := &a.Exhaust[i]; x.Moving != nil && id == finding.Moving(x.ID) {
			return *x.Moving, true
		}
	}
	for _, c := range a.Clearances {
		if c.Moving != nil && id == finding.Moving(c.ID) {
			return *c.Moving, true
		}
	}
	m, ok := a.others[id]
	return m, ok
}
