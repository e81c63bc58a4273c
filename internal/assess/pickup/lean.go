package pickup

import (
	"math"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/geom/pickup"
	"fitup/internal/geom/travel"
	"fitup/internal/project"
)

// alone are the places of the two wheels, left first, at which they do not rise alike:
// full roll either way, and one wheel at an end of its travel with the other at ride height.
func (a *Axle) alone() (out [][2]float64) {
	bump, droop := a.in.Bump.V(), -a.in.Droop.V()
	for _, c := range [][2]float64{{bump, droop}, {droop, bump}, {bump, 0}, {0, bump}, {droop, 0}, {0, droop}} {
		known := c[0] == c[1]
		for _, o := range out {
			known = known || o == c
		}
		if !known {
			out = append(out, c)
		}
	}
	return out
}

// lean takes an axle through those places. Wheels that are carried each by itself do
// nothing to each other but through the bar.
func (a *Axle) lean(guide travel.Suspension) (why string) {
	l := pickup.Leaning{Left: a.in.Left.Wheel.At, Right: a.in.Right.Wheel.At, Rods: a.held, Pivots: a.pivots}
	for _, c := range a.alone() {
		near := geom.Identity()
		near.At.Z = (c[0] + c[1]) / 2
		if guide != nil {
			p, err := guide.At(near.At.Z)
			if err != nil {
				return "the axle cannot be followed with one wheel up: " + err.Error()
			}
			near = p.Motion
		}
		s, err := l.At(near, c[0], c[1])
		if err != nil {
			return "the axle cannot be followed with one wheel up: " + err.Error()
		}
		a.tilted = append(a.tilted, s)
	}
	return ""
}

// twists are how far the bar's arms are turned against each other in full roll and with
// one wheel at full bump, the other at ride height.
func (b *Bar) twists(a *Axle) {
	b.Roll, b.One = finding.Exact(0), finding.Exact(0)
	for i, c := range a.alone() {
		var turn [2]float64
		for k, s := range a.Sides {
			at, err := a.stateOf(s, i, c[k])
			if err == nil {
				var p pickup.BarAt
				if p, err = b.Halves[k].bar.At(&at); err == nil {
					turn[k] = p.Turn.Rad()
				}
			}
			if err != nil {
				missing(err.Error(), &b.Roll, &b.One, &b.Shear)
				return
			}
		}
		by := math.Abs(turn[0] - turn[1])
		b.Roll.V = max(b.Roll.V, by)
		if c[0] == 0 && c[1] > 0 || c[1] == 0 && c[0] > 0 {
			b.One.V = max(b.One.V, by)
		}
	}
	long := b.Between
	if b.Radius == 0 {
		b.Shear = finding.Missing("pickup." + a.Name + ".bar.diameter is not in the file yet")
		return
	}
	// A round bar: the shear at its surface is G·r·θ/L.
	b.Shear = finding.Exact(shearModulus * b.Radius * b.Roll.V / long.V)
}

// shearModulus of steel, MPa (EN 1993-1-1, 3.2.6).
const shearModulus = 81000

// stateOf is a wheel's state in one of the places where both do not rise alike.
func (a *Axle) stateOf(s *Side, i int, rise float64) (pickup.State, error) {
	if len(a.tilted) > 0 {
		return a.tilted[i], nil
	}
	return s.path.At(rise)
}

// followed is what the axle's motion takes for granted when it leans.
func (a *Axle) followed() string {
	if len(a.held)+len(a.pivots) > 0 {
		return "with one wheel up the axle leans so that its bushes give as little as they can, all of them alike"
	}
	return "with one wheel up the axle leans about the middle between its wheel centres: what holds it there is not in the file"
}

// heldByLine takes what holds the axle of its line. A leaf spring lets it lean about its
// middle.
func (a *Axle) heldByLine() {
	for _, l := range a.build.Lines {
		if l.Name != a.in.Line {
			continue
		}
		switch l.Suspension.Kind {
		case project.LinkAxle:
			for _, k := range l.Suspension.Link {
				a.held = append(a.held, pickup.Span{Chassis: k.Chassis.At, End: k.Axle.At})
			}
		case project.TrailingArms:
			for _, k := range l.Suspension.Pivot {
				a.pivots = append(a.pivots, k.At.At)
			}
		}
	}
}
