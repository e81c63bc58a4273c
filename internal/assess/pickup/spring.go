package pickup

import (
	"math"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/geom/pickup"
	"fitup/internal/project"

	"gonum.org/v1/gonum/spatial/r3"
)

// Spring is a coil spring at ride height and over the travel.
type Spring struct {
	Lower, Upper r3.Vec
	Placed       bool           // both ends are known
	Derived      bool           // Upper follows from length and lean
	Length       finding.Number // from end to end at ride height
	Coil         finding.Number // length of the coil there
	Ratio        finding.Number // how much it shortens for each mm of the wheel
	Lean         finding.Number // to the way its lower end moves
	Force        finding.Number // of the spring at ride height
	AtWheel      finding.Number // what it carries there
	WheelRate    finding.Number
	Ride         finding.Number // above 0 where the wheel settles above ride height wanted, so the vehicle lower
	Bind         finding.Number // what the coil has left at the shortest of the travel
	Seated       finding.Number // what it is pressed by at its longest
	Back, In     finding.Number // how it leans from the side and from the front

	span    pickup.Span
	coilWhy bool // coil was worked out from the load
}

// Damper is a damper over the travel.
type Damper struct {
	Lower, Upper r3.Vec
	Placed       bool
	Length       finding.Number // at ride height
	Bump, Droop  finding.Number // what is left at either end
	Touch        finding.Number // rise at which the stop touches
	Stop         finding.Number // from there to where something would be home

	span  pickup.Span
	loose bool // the stop does not touch within the bump travel
}

// Tower is the post of a spring.
type Tower struct {
	Foot, Top r3.Vec
	Placed    bool
	Length    finding.Number
	Height    finding.Number
	Mitre     finding.Number
	FromUp    finding.Number // from the plumb line
	Off       finding.Number // how far it stands from where it is to be
	Away      r3.Vec         // from where it is to be to where it stands
	AwayKnown bool
}

// missing sets numbers that cannot be known.
func missing(why string, to ...*finding.Number) {
	for _, n := range to {
		*n = finding.Missing(why)
	}
}

// spring works out the spring of a side.
func (a *Axle) spring(s *Side) *Spring {
	in := &s.in.Spring
	x := &Spring{}
	missing("", &x.Length, &x.Coil, &x.Ratio, &x.Lean, &x.Force, &x.AtWheel, &x.WheelRate, &x.Ride, &x.Bind, &x.Seated, &x.Back, &x.In)
	all := []*finding.Number{&x.Length, &x.Coil, &x.Ratio, &x.Lean, &x.Force, &x.AtWheel, &x.WheelRate, &x.Ride, &x.Bind, &x.Seated, &x.Back, &x.In}
	if why := x.place(s, in, a.body(in.On, true)); why != "" {
		missing(why, all...)
		return x
	}
	u := r3.Sub(x.Upper, x.Lower)
	side := -1.0
	if s.right {
		side = 1
	}
	x.Length = finding.Exact(r3.Norm(u))
	x.Back, x.In = finding.Exact(math.Atan2(u.X, u.Z)), finding.Exact(math.Atan2(-side*u.Y, u.Z))
	if s.Why != "" {
		missing(s.Why, all[1:10]...)
		return x
	}
	m, err := s.path.Motion(x.span, 0)
	if err != nil {
		missing(s.cannot(err), all[1:10]...)
		return x
	}
	x.Ratio, x.Lean = finding.Exact(m.Ratio), finding.Exact(m.Lean.Rad())
	if m.Ratio < 0.02 {
		missing("the spring does not shorten as the wheel rises: check "+s.at+".spring.lower and upper, and what it is on", all[1:10]...)
		return x
	}
	x.coiled(a, s)
	x.carried(a, s)
	return x
}

// place finds its two ends.
func (x *Spring) place(s *Side, in *project.PickupSpring, on pickup.Body) (why string) {
	var l lacks
	if in.Kind == "" {
		l = append(l, s.at+".spring.kind")
	}
	x.Lower = l.point(in.Lower, s.at+".spring.lower")
	switch {
	case in.Upper.Known:
		x.Upper = in.Upper.At
	case in.Upper.Ref != "":
		l = append(l, s.at+".spring.upper")
	default:
		long, known := in.Length.Get()
		if !known {
			l = append(l, s.at+".spring.upper", s.at+".spring.length")
		}
		if len(l) > 0 {
			break
		}
		t, err := pickup.TowerOver(x.Lower, long, geom.Angle(in.LeanBack.Or(0)), geom.Angle(in.LeanIn.Or(0)), s.right)
		if err != nil {
			return "the place of the spring's upper end: " + err.Error()
		}
		x.Upper, x.Derived = t.Upper, true
	}
	if why = l.why(); why != "" {
		return why
	}
	x.span = pickup.Span{Chassis: x.Upper, End: x.Lower, On: on}
	if err := x.span.Check(); err != nil {
		return "the spring: " + err.Error()
	}
	x.Placed = true
	return ""
}

// coiled finds how long its coil is at ride height.
func (x *Spring) coiled(a *Axle, s *Side) {
	in := &s.in.Spring
	if in.Kind == project.Coil {
		x.Coil = x.Length
		return
	}
	if v, ok := in.Coil.Get(); ok {
		x.Coil = finding.Exact(v)
		return
	}
	var l lacks
	free, rate, load := l.value(in.Free, s.at+".spring.free"), l.value(in.Rate, s.at+".spring.rate"), l.value(s.in.Load, s.at+".load")
	if len(l) > 0 {
		x.Coil = finding.Missing(append(lacks{s.at + ".spring.coil"}, l...).why())
		return
	}
	v, err := s.path.CoilFor(x.span, free, rate, load*geom.Gravity)
	if err != nil {
		x.Coil = finding.Missing("the spring at ride height: " + err.Error())
		return
	}
	x.Coil, x.coilWhy = finding.Exact(v), true
}

// carried finds what it carries, where it settles, and what is left of it at the ends of
// the travel.
func (x *Spring) carried(a *Axle, s *Side) {
	in := &s.in.Spring
	if !x.Coil.Known {
		missing(x.Coil.Why, &x.Force, &x.AtWheel, &x.WheelRate, &x.Ride, &x.Bind, &x.Seated)
		return
	}
	longest, shortest := math.Inf(-1), math.Inf(1)
	for i := range s.all {
		coil := x.Coil.V + x.span.At(&s.all[i]) - x.Length.V
		longest, shortest = max(longest, coil), min(shortest, coil)
	}
	var free, rate, solid lacks
	long, stiff, short := free.value(in.Free, s.at+".spring.free"), rate.value(in.Rate, s.at+".spring.rate"), solid.value(in.Solid, s.at+".spring.solid")
	x.Bind, x.Seated = finding.Exact(shortest-short), finding.Exact(long-longest)
	if len(solid) > 0 {
		missing(solid.why(), &x.Bind)
	}
	if len(free) > 0 {
		missing(free.why(), &x.Seated)
	}
	if l := append(free, rate...); len(l) > 0 {
		missing(l.why(), &x.Force, &x.AtWheel, &x.WheelRate, &x.Ride)
		return
	}
	sp := pickup.Spring{Span: x.span, Coil: x.Coil.V, Free: long, Rate: stiff}
	at, err := s.path.AtWheel(sp, 0)
	if err == nil {
		x.Force, x.AtWheel = finding.Exact(sp.Force(sp.Coil)), finding.Exact(at)
		var k float64
		k, err = s.path.WheelRate(sp, 0)
		x.WheelRate = finding.Exact(k)
	}
	if err != nil {
		missing("the spring at ride height: "+err.Error(), &x.Force, &x.AtWheel, &x.WheelRate)
	}
	var l lacks
	load := l.value(s.in.Load, s.at+".load")
	if len(l) > 0 {
		x.Ride = finding.Missing(l.why())
		return
	}
	if x.coilWhy {
		// with a coil that is as long as its load makes it, it settles at ride height whatever it is
		x.Ride = finding.Missing(s.at + ".spring.coil is not in the file yet, the coil's own length at ride height, from perch to perch")
		return
	}
	rise, err := s.path.Settle(sp, load*geom.Gravity, a.in.Droop.V(), a.in.Bump.V())
	if err != nil {
		x.Ride = finding.Missing(err.Error() + ": check " + s.at + ".load, " + s.at + ".spring.rate and " + s.at + ".spring.free")
		return
	}
	x.Ride = finding.Exact(rise)
}

// damper works out the damper of a side and its bump stop.
func (a *Axle) damper(s *Side) *Damper {
	in := &s.in.Damper
	d := &Damper{}
	all := []*finding.Number{&d.Length, &d.Bump, &d.Droop, &d.Touch, &d.Stop}
	lower, upper := in.Lower, in.Upper
	own := lower.Known || lower.Ref != "" || upper.Known || upper.Ref != ""
	if x := s.Spring; !own && s.in.Spring.Kind == project.CoilOver && x != nil {
		if !x.Placed {
			missing(x.Length.Why, all...)
			return d
		}
		d.span = x.span
	} else {
		var l lacks
		d.span = pickup.Span{End: l.point(lower, s.at+".damper.lower"), Chassis: l.point(upper, s.at+".damper.upper"), On: a.body(in.On, true)}
		if why := l.why(); why != "" {
			missing(why, all...)
			return d
		}
	}
	d.Lower, d.Upper, d.Placed = d.span.End, d.span.Chassis, true
	if err := d.span.Check(); err != nil {
		missing("the damper: "+err.Error(), all...)
		d.Placed = false
		return d
	}
	d.Length = finding.Exact(d.span.At(nil))
	if s.Why != "" {
		missing(s.Why, all[1:]...)
		return d
	}
	longest, shortest := math.Inf(-1), math.Inf(1)
	for i := range s.all {
		v := d.span.At(&s.all[i])
		longest, shortest = max(longest, v), min(shortest, v)
	}
	var closed, open lacks
	c, o := closed.value(in.Closed, s.at+".damper.closed"), open.value(in.Open, s.at+".damper.open")
	d.Bump, d.Droop = finding.Exact(shortest-c), finding.Exact(o-longest)
	if len(closed) > 0 {
		d.Bump = finding.Missing(closed.why())
	}
	if len(open) > 0 {
		d.Droop = finding.Missing(open.why())
	}
	a.stop(s, d, shortest)
	return d
}

// stop finds where the bump stop touches and how far it is from there to where the
// coil's turns touch, the damper is home, or the travel ends.
func (a *Axle) stop(s *Side, d *Damper, shortest float64) {
	in := &s.in.Damper
	var l lacks
	stop, closed := l.value(in.Stop, s.at+".damper.stop"), l.value(in.Closed, s.at+".damper.closed")
	solid := 0.0
	if s.Spring != nil {
		solid = l.value(s.in.Spring.Solid, s.at+".spring.solid")
	}
	switch {
	case len(l) > 0:
		missing(l.why(), &d.Touch, &d.Stop)
		return
	case s.Spring != nil && !s.Spring.Bind.Known:
		missing(s.Spring.Bind.Why, &d.Touch, &d.Stop)
		return
	}
	bump, droop := a.in.Bump.V(), a.in.Droop.V()
	touch, reached, err := s.path.RiseAt(d.span, stop, droop, bump)
	if err != nil {
		missing(s.cannot(err), &d.Touch, &d.Stop)
		return
	}
	if !reached {
		d.loose = true
		d.Touch = finding.Missing("the bump stop does not touch within " + "pickup." + a.Name + ".bump")
		d.Stop = finding.Exact(stop - shortest)
		return
	}
	if touch <= -droop {
		why := "the bump stop touches from full droop on, by " + s.at + ".damper.stop and the damper's ends: check them"
		missing(why, &d.Touch, &d.Stop)
		return
	}
	home, _, err := s.path.RiseAt(d.span, closed, droop, bump)
	if err == nil && s.Spring != nil {
		var bound float64
		x := s.Spring
		bound, _, err = s.path.RiseAt(x.span, solid+x.Length.V-x.Coil.V, droop, bump)
		home = min(home, bound)
	}
	if err != nil {
		missing(s.cannot(err), &d.Touch, &d.Stop)
		return
	}
	d.Touch, d.Stop = finding.Exact(touch), finding.Exact(home-touch)
}

// tower works out the post of a spring.
func (s *Side) tower() *Tower {
	in := &s.in.Tower
	t := &Tower{}
	all := []*finding.Number{&t.Length, &t.Height, &t.Mitre, &t.FromUp, &t.Off}
	if s.Spring == nil {
		missing(s.at+".spring.lower is not in the file yet", all...)
		return t
	}
	if !s.Spring.Placed {
		missing(s.Spring.Length.Why, all...)
		return t
	}
	var l, foot lacks
	stack := l.value(in.Stack, s.at+".tower.stack")
	if why := l.why(); why != "" {
		missing(why, all...)
		return t
	}
	// Where its top is to be does not rest on its foot.
	u := r3.Unit(r3.Sub(s.Spring.Upper, s.Spring.Lower))
	t.Top = r3.Add(s.Spring.Upper, r3.Scale(stack, u))
	t.Off = finding.Missing(s.at + ".tower.stands is not in the file yet")
	if in.Stands.Known {
		t.Away, t.AwayKnown = r3.Sub(in.Stands.At, t.Top), true
		t.Off = finding.Exact(r3.Norm(t.Away))
	}
	at := foot.point(in.Foot, s.at+".tower.foot")
	if why := foot.why(); why != "" {
		missing(why, all[:4]...)
		return t
	}
	c, err := pickup.CutFor(s.Spring.span, stack, at)
	if err != nil {
		missing(err.Error(), all[:4]...)
		return t
	}
	t.Foot, t.Placed = at, true
	t.Length, t.Height = finding.Exact(c.Length), finding.Exact(c.Height)
	t.Mitre, t.FromUp = finding.Exact(c.Mitre.Rad()), finding.Exact(c.Foot.Rad())
	return t
}
