package scene

import (
	"fmt"

	"fitup/internal/assess"
	"fitup/internal/geom/clear"

	"gonum.org/v1/gonum/spatial/r3"
)

// Sizes of what the file has no size of, mm: of the drawing only.
const (
	coilRadius   = 50
	damperRadius = 22
	postRadius   = 30
	rodRadius    = 12
	barRadius    = 10
	linkRadius   = 6
)

// pickups draws what holds wheels to the frame: arms as lines; springs, dampers, towers,
// rods and anti-roll bars as rods.
func (s *Scene) pickups(a *assess.Assessment) {
	for _, x := range a.Pickups.Axles {
		for _, side := range x.Sides {
			s.pickupSide("pickup."+x.Name+"."+side.Name, side)
		}
		s.antiRollBar("pickup."+x.Name+".bar", x)
	}
}

func (s *Scene) pickupSide(id string, x *assess.PickupSide) {
	for i, run := range x.Arms {
		p := Part{ID: id + ".arms", Role: RoleChassis, Line: run}
		if i == 0 {
			p.Name = "arm"
		}
		s.add(p)
	}
	rod := func(key, name string, from, to r3.Vec, radius float64, role Role) {
		s.shape(Part{ID: id + "." + key, Name: name, Role: role}, clear.Segment{A: from, B: to, R: radius})
	}
	if k := x.Spring; k != nil && k.Placed {
		rod("spring", "spring", k.Lower, k.Upper, coilRadius, RoleChassis)
	}
	if d := x.Damper; d != nil && d.Placed && (x.Spring == nil || d.Upper != x.Spring.Upper) {
		rod("damper", "damper", d.Lower, d.Upper, damperRadius, RoleChassis)
	}
	if t := x.Tower; t != nil && t.Placed {
		rod("tower", "tower", t.Foot, t.Top, postRadius, RoleLeg)
	}
	for i, r := range x.Rods {
		if r.Placed {
			rod(fmt.Sprintf("rod.%d", i+1), r.Name, r.Chassis, r.End, rodRadius, RoleChassis)
		}
	}
}

// antiRollBar is its straight part, its two arms and its drop links.
func (s *Scene) antiRollBar(id string, x *assess.PickupAxle) {
	b := x.Bar
	if b == nil || !b.Placed {
		return
	}
	radius := b.Radius
	if radius == 0 {
		radius = barRadius
	}
	name := "anti-roll bar"
	piece := func(from, to r3.Vec, r float64) {
		s.shape(Part{ID: id, Name: name, Role: RoleChassis}, clear.Segment{A: from, B: to, R: r})
		name = ""
	}
	l, r := b.Halves[0], b.Halves[1]
	piece(l.Bush, r.Bush, radius)
	for _, h := range b.Halves {
		piece(h.Bush, h.Arm, radius)
		piece(h.Arm, h.Link, linkRadius)
	}
}
