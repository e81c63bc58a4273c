package project

import (
	"slices"

	"fitup/internal/geom"
	"fitup/internal/project/quantity"
	"fitup/internal/project/tomltext"

	"gonum.org/v1/gonum/spatial/r3"
)

// checkPickups finds pick-ups that cannot be: two ends at one place, a side on the
// other side, springs and dampers past what they can be. What only the survey places
// is looked at where it is worked out.
func (b *binder) checkPickups(build *Build, root *tomltext.Node) {
	list := root.Child("pickup")
	if list == nil {
		return
	}
	for i := range build.Pickups {
		p := &build.Pickups[i]
		n := list.Child(p.Name)
		if n == nil {
			continue
		}
		b.checkPickupSides(p, n)
		if p.Line != "" {
			b.checkPickupLine(build, p, n)
		}
		for side, s := range p.Sides() {
			if c := n.Child(SideName(side)); c != nil {
				b.checkPickupSide(p, s, c)
			}
		}
		b.checkPickupBar(p, n.Child("bar"))
	}
}

func (b *binder) checkPickupLine(build *Build, p *Pickup, n *tomltext.Node) {
	c := n.Child("line")
	switch names := lineNames(build); {
	case !slices.Contains(names, p.Line):
		b.fault(c.Pos, c.Path, "the line %q is not in this file; want the name of a line, such as rear%s", Printable(p.Line), meant(p.Line, names))
	case p.Carried != "" && p.Carried != ByAxle:
		b.fault(c.Pos, c.Path, "the suspension of a line moves an axle, and these wheels are carried by %s; leave line out, or want carried = \"axle\"", p.Carried)
	}
}

// checkPickupSides refuses wheels that stand on each other's side.
func (b *binder) checkPickupSides(p *Pickup, n *tomltext.Node) {
	l, r := p.Left.Wheel, p.Right.Wheel
	switch {
	case l.Known && r.Known && l.At.Y >= r.At.Y:
		c := n.Child("left").Child("wheel")
		b.fault(c.Pos, c.Path, "the left wheel does not stand left of the right one; offsets (the second number) are positive to the driver's right")
	case l.Known && !r.Known && l.At.Y > 0, r.Known && !l.Known && r.At.Y < 0:
		side := "left"
		if r.Known {
			side = "right"
		}
		c := n.Child(side).Child("wheel")
		b.fault(c.Pos, c.Path, "the %s wheel stands on the other side of the centre line; offsets (the second number) are positive to the driver's right", side)
	}
}

// leastPart is how near two ends of a part are one place, mm.
const leastPart = 1

// twoEnds refuses two ends at one place.
func (b *binder) twoEnds(n *tomltext.Node, x, y Point, keyX, keyY, what string) bool {
	if !x.Known || !y.Known || r3.Norm(r3.Sub(x.At, y.At)) >= leastPart {
		return true
	}
	c := n.Child(keyY)
	if c == nil {
		c = n
	}
	b.fault(c.Pos, c.Path, "%s stands where %s does, so %s has no length; check the two places", keyY, keyX, what)
	return false
}

func (b *binder) checkPickupSide(p *Pickup, s *PickupSide, n *tomltext.Node) {
	if b.twoEnds(n, s.PivotA, s.PivotB, "pivot_a", "pivot_b", "the line that the arm turns about") {
		b.offLine(n, s.PivotA, s.PivotB, s.Ball, "ball")
		if p.Carried == ByTrailingArm {
			b.offLine(n, s.PivotA, s.PivotB, s.Wheel, "wheel")
		}
	}
	if b.twoEnds(n, s.UpperPivotA, s.UpperPivotB, "upper_pivot_a", "upper_pivot_b", "the line that the upper arm turns about") {
		b.offLine(n, s.UpperPivotA, s.UpperPivotB, s.UpperBall, "upper_ball")
	}
	b.twoEnds(n, s.TieInner, s.TieOuter, "tie_inner", "tie_outer", "the tie rod")
	if s.Ball.Known && s.UpperBall.Known && s.UpperBall.At.Z < s.Ball.At.Z+leastPart {
		c := n.Child("upper_ball")
		b.fault(c.Pos, c.Path, "the upper end of the steering axis does not lie above the lower one; are ball and upper_ball exchanged?")
	}
	if c := n.Child("spring"); c != nil {
		b.checkMoves(p, c, s.Spring.On)
		b.checkPickupSpring(&s.Spring, c)
	}
	if c := n.Child("damper"); c != nil {
		b.checkMoves(p, c, s.Damper.On)
		b.checkDamper(&s.Damper, c)
	}
	list := n.Child("rod")
	seen := map[string]bool{}
	for i := range s.Rods {
		c := entryOf(list, i)
		if c == nil {
			continue
		}
		r := &s.Rods[i]
		b.checkMoves(p, c, r.On)
		b.twoEnds(c, r.Chassis, r.End, "chassis", "end", "the rod")
		if r.Rigid && p.Carried != ByAxle && p.Carried != "" {
			b.fault(c.Pos, c.Path, "a rod that is rigid turns an axle, and these wheels are carried by %s; leave rigid out", p.Carried)
		}
		if r.Name != "" && seen[r.Name] {
			b.fault(c.Pos, c.Path, "the name %q is taken by another rod of this side; each rod needs its own, the same on either side", Printable(r.Name))
		}
		seen[r.Name] = true
	}
}

// offLine refuses what lies on the line that it is to turn about.
func (b *binder) offLine(n *tomltext.Node, a, z, p Point, key string) {
	if !a.Known || !z.Known || !p.Known {
		return
	}
	u := r3.Unit(r3.Sub(z.At, a.At))
	if r3.Norm(r3.Cross(u, r3.Sub(p.At, a.At))) < leastPart {
		if c := n.Child(key); c != nil {
			b.fault(c.Pos, c.Path, "%s lies on the line through the arm's two pivots, so the arm does not move it; check the three places", key)
		}
	}
}

// checkMoves refuses a body that these wheels do not have.
func (b *binder) checkMoves(p *Pickup, n *tomltext.Node, on Moves) {
	if c := n.Child("on"); c != nil && p.Carried != "" && on != "" && !p.Carried.Allows(on) {
		b.fault(c.Pos, c.Path, "wheels that are carried by %s have no %s to be on; want %s", p.Carried, on, allowed(p.Carried))
	}
}

func allowed(c Carried) string {
	out := ""
	for _, w := range (Moves("")).Words() {
		if c.Allows(Moves(w)) {
			if out != "" {
				out += ", "
			}
			out += w
		}
	}
	return out
}

func (b *binder) checkPickupSpring(s *PickupSpring, n *tomltext.Node) {
	if b.twoEnds(n, s.Lower, s.Upper, "lower", "upper", "the spring") && s.Lower.Known && s.Upper.Known && s.Upper.At.Z <= s.Lower.At.Z {
		c := n.Child("upper")
		b.fault(c.Pos, c.Path, "the spring's upper end does not lie above its lower one; are lower and upper exchanged? Lower is the end that moves with the wheel")
	}
	if s.Upper.given() {
		for _, key := range []string{"length", "lean_back", "lean_in"} {
			if c := n.Child(key); c != nil {
				b.fault(c.Pos, c.Path, "upper gives where the spring's upper end is, and %s would too: leave one of them out", key)
			}
		}
	}
	for i, lean := range []quantity.AngleQ{s.LeanBack, s.LeanIn} {
		if v, ok := lean.Get(); ok && geom.Angle(v).Abs() > 60*geom.Deg {
			c := n.Child([]string{"lean_back", "lean_in"}[i])
			b.fault(c.Pos, c.Path, "read %s; a spring leans by at most 60 degrees, 0 is upright", describe(c))
		}
	}
	coil, key := s.Coil, "coil"
	if s.Kind == Coil {
		if s.Coil.Known() {
			c := n.Child("coil")
			b.fault(c.Pos, c.Path, "the coil of a spring between two seats is as long as from lower to upper: leave coil out, or want kind = \"coil-over\"")
		}
		coil, key = s.Length, "length"
		if s.Lower.Known && s.Upper.Known {
			coil, key = quantity.MM(r3.Norm(r3.Sub(s.Upper.At, s.Lower.At))), "upper"
		}
	}
	b.inRange(n, coil, s.Free, key, "free", "the coil would be longer at ride height than unloaded, so it would hang loose")
	b.inRange(n, s.Solid, coil, "solid", key, "the coil would be shorter at ride height than with its turns touching")
	b.inRange(n, s.Solid, s.Free, "solid", "free", "the turns would touch with nothing on the spring")
	b.aboveNothing(n, s.Free, "free")
	b.aboveNothing(n, s.Solid, "solid")
	b.aboveNothing(n, s.Length, "length")
	b.aboveNothing(n, s.Coil, "coil")
	if v, ok := s.Rate.Get(); ok && v == 0 {
		c := n.Child("rate")
		b.fault(c.Pos, c.Path, "the rate of a spring is above 0")
	}
}

// aboveNothing refuses a length of 0.
func (b *binder) aboveNothing(n *tomltext.Node, v quantity.LengthQ, key string) {
	if l, ok := v.Get(); ok && l == 0 {
		c := n.Child(key)
		b.fault(c.Pos, c.Path, "%s is a length above 0", key)
	}
}

// inRange refuses a length that is not less than another.
func (b *binder) inRange(n *tomltext.Node, less, more quantity.LengthQ, keyLess, keyMore, why string) {
	l, ok := less.Get()
	m, ok2 := more.Get()
	if !ok || !ok2 || l < m {
		return
	}
	c := n.Child(keyLess)
	if c == nil {
		c = n
	}
	b.fault(c.Pos, c.Path, "%s; check %s and %s", why, keyLess, keyMore)
}

func (b *binder) checkDamper(d *PickupDamper, n *tomltext.Node) {
	if b.twoEnds(n, d.Lower, d.Upper, "lower", "upper", "the damper") && d.Lower.Known && d.Upper.Known && d.Upper.At.Z <= d.Lower.At.Z {
		c := n.Child("upper")
		b.fault(c.Pos, c.Path, "the damper's upper end does not lie above its lower one; are lower and upper exchanged? Lower is the end that moves with the wheel")
	}
	b.inRange(n, d.Closed, d.Open, "closed", "open", "the damper would be as long pushed home as drawn out")
	b.inRange(n, d.Closed, d.Stop, "closed", "stop", "the bump stop would touch only with the damper pushed home")
	b.inRange(n, d.Stop, d.Open, "stop", "open", "the bump stop would touch with the damper drawn out")
}

func (b *binder) checkPickupBar(p *Pickup, n *tomltext.Node) {
	if n == nil {
		return
	}
	bar := &p.Bar
	b.checkMoves(p, n, bar.On)
	l, r := bar.Left, bar.Right
	bushes := true
	if l.Bush.Known && r.Bush.Known && r.Bush.At.Y-l.Bush.At.Y < leastPart {
		bushes = false
		c := n.Child("left").Child("bush")
		b.fault(c.Pos, c.Path, "the left bush of the bar does not stand left of the right one; offsets (the second number) are positive to the driver's right")
	}
	for i, s := range bar.Sides() {
		c := n.Child(SideName(i))
		if c == nil {
			continue
		}
		b.twoEnds(c, s.Arm, s.Link, "arm", "link", "the drop link")
		if bushes && l.Bush.Known && r.Bush.Known && s.Arm.Known && c.Child("arm") != nil {
			u := r3.Unit(r3.Sub(r.Bush.At, l.Bush.At))
			if r3.Norm(r3.Cross(u, r3.Sub(s.Arm.At, l.Bush.At))) < leastPart {
				a := c.Child("arm")
				b.fault(a.Pos, a.Path, "the end of the bar's arm lies on the line through its two bushes, so it is no arm; check the three places")
			}
		}
	}
}
