// Package pickup judges what holds wheels to the frame, as far as it is needed to weld
// brackets in the right place: spring towers, dampers and bump stops over the travel,
// tension and radius rods, the anti-roll bar, wheel centres and caster. It knows the
// file, how the axle of a line moves, and no other trade.
package pickup

import (
	"errors"
	"reflect"
	"strings"

	"fitup/internal/assess/finding"
	"fitup/internal/geom/pickup"
	"fitup/internal/geom/travel"
	"fitup/internal/project"
	"fitup/internal/project/quantity"

	"gonum.org/v1/gonum/spatial/r3"
)

// Caution goes with whatever is said of pick-ups.
const Caution = "Suspension: designed, welded and checked by qualified people, under local rules; springs are under load."

// Result is what is known of all pick-ups of a build.
type Result struct {
	Axles    []*Axle
	Findings []finding.Finding
}

// Axle is what holds the two wheels of one axle.
type Axle struct {
	Name   string
	Sides  [2]*Side       // left first
	Wheels finding.Number // how far the wheel centres are from being each other's mirror image
	Caster finding.Number // left less right, a size
	Towers finding.Number // the same of the springs' upper ends
	Rods   []Pair         // of rods, by the left side's order, then what only the right has
	Bar    *Bar           // nil where the file has none

	build    *project.Build
	in       *project.Pickup
	how      string         // what is taken of how an axle moves
	strapped bool           // straps end its droop
	springs  bool           // some side has one
	held     []pickup.Span  // rods that hold an axle
	pivots   []r3.Vec       // joints about which it turns with the rods that are one with it
	tilted   []pickup.State // an axle where its wheels do not rise alike
}

// Side is what holds one wheel.
type Side struct {
	Name  string // left or right
	Why   string // why nothing moves; "" when it does
	Wheel finding.Maybe[r3.Vec]
	Axis  finding.Maybe[pickup.Axis]
	// Arms are what is drawn of its arms: runs from pivot to ball to pivot, and the axis
	// of its steering.
	Arms   [][]r3.Vec
	Spring *Spring // nil where the file has none
	Damper *Damper // nil where the file has none
	Tower  *Tower  // nil where the file has none
	Rods   []*Rod

	at    string // its path in the file
	right bool
	in    *project.PickupSide
	path  *pickup.Path
	sweep []pickup.State // from full droop to full bump
	all   []pickup.State // those, and of an axle those with one wheel up
	says  []string       // what its motion takes for granted
}

// Guide is how the axle of a line moves, by its name and suspension alone, and how far down
// its straps let it, false where they do not end its droop.
type Guide struct {
	Axle  func(project.Line) (travel.Suspension, error)
	Droop func(project.Line) (droop float64, held bool)
}

// Of works out the pick-ups of a build. before is what was worked out of another build, nil
// for none: an axle of which everything seen here is alike is taken over from it.
func Of(b *project.Build, before *Result, suspension Guide) *Result {
	r := &Result{}
	for i := range b.Pickups {
		seen, strapped := seenOf(b, &b.Pickups[i], suspension)
		a := before.alike(seen)
		if a == nil {
			a = &Axle{Name: b.Pickups[i].Name, build: seen, in: &seen.Pickups[0], strapped: strapped}
			a.work(suspension)
		}
		r.Axles = append(r.Axles, a)
		r.Findings = append(r.Findings, a.judge()...)
	}
	return r
}

// seenOf is all of a build that the pick-ups of one axle rest on: they are given no more.
// Their droop ends where the straps of its line do, where strapped says so.
func seenOf(b *project.Build, of *project.Pickup, guide Guide) (seen *project.Build, strapped bool) {
	seen = &project.Build{Units: b.Units, Limits: b.Limits, Pickups: []project.Pickup{*of}}
	seen.Vehicle.WheelDiameter = b.Vehicle.WheelDiameter
	for _, l := range b.Lines {
		if l.Name == of.Line {
			seen.Lines = append(seen.Lines, project.Line{Name: l.Name, Suspension: l.Suspension})
		}
	}
	if len(seen.Lines) == 0 || of.Carried != project.ByAxle {
		return seen, false
	}
	in := &seen.Pickups[0]
	if guide.Droop == nil {
		return seen, false
	}
	droop, held := guide.Droop(seen.Lines[0])
	if given, known := in.Droop.Get(); held && known && droop < given {
		in.Droop.SetV(droop)
		strapped = true
	}
	return seen, strapped
}

// alike is the axle that rests on the same; nil for none.
func (r *Result) alike(seen *project.Build) *Axle {
	if r == nil {
		return nil
	}
	for _, a := range r.Axles {
		if reflect.DeepEqual(a.build, seen) {
			return a
		}
	}
	return nil
}

// work fills in all numbers.
func (a *Axle) work(suspension Guide) {
	for i, in := range a.in.Sides() {
		s := &Side{Name: project.SideName(i), at: a.in.Path(i), right: i == 1, in: in}
		s.Wheel = finding.Maybe[r3.Vec]{V: in.Wheel.At, Known: in.Wheel.Known, Why: s.at + ".wheel is not in the file yet"}
		a.Sides[i] = s
		a.springs = a.springs || in.Spring.Given()
	}
	guide, err := a.guide(suspension)
	moved := true
	for _, s := range a.Sides {
		if why := a.move(s, guide, err); why != "" {
			s.Why, s.path, s.sweep, moved = why, nil, nil, false
		}
	}
	leans := ""
	if a.in.Carried == project.ByAxle && moved {
		leans = a.lean(guide)
	}
	for i, s := range a.Sides {
		other := a.in.Sides()[1-i] // what one side has and the other lacks is not known there
		switch {
		case s.Why == "" && leans != "":
			s.Why, s.path, s.sweep = leans, nil, nil
		case s.Why == "":
			s.all = append(s.sweep[:len(s.sweep):len(s.sweep)], a.tilted...)
			if len(a.tilted) > 0 {
				s.says = append(s.says, a.followed())
			}
		}
		s.axis(a)
		s.drawn(a.in)
		if s.in.Spring.Given() || other.Spring.Given() {
			s.Spring = a.spring(s)
		}
		if s.in.Damper.Given() || other.Damper.Given() {
			s.Damper = a.damper(s)
		}
		if s.in.Tower.Given() || other.Tower.Given() {
			s.Tower = s.tower()
		}
		for k := range s.in.Rods {
			s.Rods = append(s.Rods, a.rod(s, k))
		}
	}
	a.compare()
	if a.in.Bar.Given() {
		a.Bar = a.bar()
	}
}

// lacks says which of several values the file has not.
type lacks []string

func (l *lacks) point(p project.Point, path string) r3.Vec {
	if !p.Known {
		*l = append(*l, path)
	}
	return p.At
}

func (l *lacks) value(v quantity.Gettable, path string) float64 {
	x, known := v.Get()
	if !known {
		*l = append(*l, path)
	}
	return x
}

// why is a sentence, "" where nothing is lacking.
func (l lacks) why() string {
	switch len(l) {
	case 0:
		return ""
	case 1:
		return l[0] + " is not in the file yet"
	}
	return "not in the file yet: " + strings.Join(l, ", ")
}

// samples is how many places of the travel are looked at.
const samples = 17

// move makes the path of a wheel and takes it through its travel.
func (a *Axle) move(s *Side, guide travel.Suspension, guided error) (why string) {
	var l lacks
	at := "pickup." + a.Name
	if a.in.Carried == "" {
		l = append(l, at+".carried")
	}
	bump, droop := l.value(a.in.Bump, at+".bump"), l.value(a.in.Droop, at+".droop")
	wheel := l.point(s.in.Wheel, s.at+".wheel")
	arm := func() (pa, pb r3.Vec) {
		return l.point(s.in.PivotA, s.at+".pivot_a"), l.point(s.in.PivotB, s.at+".pivot_b")
	}
	var path func() (*pickup.Path, error)
	switch a.in.Carried {
	case project.ByArms:
		d := pickup.Arms{Wheel: wheel, Tie: s.tie(&l)}
		d.PivotA, d.PivotB = arm()
		d.Ball = l.point(s.in.Ball, s.at+".ball")
		d.UpperPivotA, d.UpperPivotB = l.point(s.in.UpperPivotA, s.at+".upper_pivot_a"), l.point(s.in.UpperPivotB, s.at+".upper_pivot_b")
		d.UpperBall = l.point(s.in.UpperBall, s.at+".upper_ball")
		path = func() (*pickup.Path, error) { return pickup.NewArms(d) }
	case project.ByStrut:
		d := pickup.Strut{Wheel: wheel, Tie: s.tie(&l)}
		d.PivotA, d.PivotB = arm()
		d.Ball, d.Top = l.point(s.in.Ball, s.at+".ball"), l.point(s.in.UpperBall, s.at+".upper_ball")
		path = func() (*pickup.Path, error) { return pickup.NewStrut(d) }
	case project.ByTrailingArm:
		d := pickup.TrailingArm{Wheel: wheel}
		d.PivotA, d.PivotB = arm()
		path = func() (*pickup.Path, error) { return pickup.NewTrailingArm(d) }
	case project.ByAxle:
		path = func() (*pickup.Path, error) {
			if guided != nil {
				return nil, guided
			}
			return pickup.NewAxle(guide, wheel)
		}
		s.says = append(s.says, a.how)
		if a.strapped {
			s.says = append(s.says, "its droop ends where the straps of line."+a.in.Line+" hold")
		}
	}
	if why = l.why(); why != "" {
		return why
	}
	if bump+droop == 0 {
		return at + ".bump and " + at + ".droop are both 0, so there is no travel to go through"
	}
	if s.exchanged(a) {
		return "the left wheel does not stand left of the right one, by " + a.Sides[0].at + ".wheel and " + a.Sides[1].at + ".wheel"
	}
	var err error
	if s.path, err = path(); err != nil {
		return s.cannot(err)
	}
	if s.sweep, err = s.path.Sweep(droop, bump, samples); err != nil {
		return s.cannot(err)
	}
	return ""
}

// exchanged reports whether the sides are, which points of the survey may be.
func (s *Side) exchanged(a *Axle) bool {
	l, r := a.in.Left.Wheel, a.in.Right.Wheel
	return l.Known && r.Known && l.At.Y >= r.At.Y
}

// cannot says that the wheel cannot move so.
func (s *Side) cannot(err error) string {
	return "the " + s.Name + " wheel cannot go through its travel: " + err.Error()
}

// tie is the tie rod where the file has both its ends.
func (s *Side) tie(l *lacks) *pickup.Tie {
	in, out := s.in.TieInner, s.in.TieOuter
	switch {
	case in.Known && out.Known:
		return &pickup.Tie{Inner: in.At, Outer: out.At}
	case in.Known || in.Ref != "":
		l.point(out, s.at+".tie_outer")
	case out.Known || out.Ref != "":
		l.point(in, s.at+".tie_inner")
	default:
		s.says = append(s.says, "the hub does not turn about its steering axis over the travel: "+s.at+".tie_inner and tie_outer are not in the file yet")
		return nil
	}
	return nil
}

// guide is how an axle moves: as the suspension of its line, as its rods hold it, or
// straight up.
func (a *Axle) guide(suspension Guide) (travel.Suspension, error) {
	l, r := a.in.Left.Wheel, a.in.Right.Wheel
	if a.in.Carried != project.ByAxle || !l.Known || !r.Known {
		return nil, nil
	}
	if a.in.Line != "" {
		a.how = "the axle moves as the suspension of line." + a.in.Line
		a.heldByLine()
		if len(a.build.Lines) == 0 {
			return nil, errors.New("line." + a.in.Line + " is not in the file yet")
		}
		return suspension.Axle(a.build.Lines[0])
	}
	middle := r3.Scale(0.5, r3.Add(l.At, r.At))
	axle := travel.Axle{Centre: middle, Pinion: r3.Add(middle, r3.Vec{X: -100}), PinionAxis: r3.Vec{X: 1}}
	var pivots []travel.ArmPivot
	var links []travel.Link
	var lack lacks
	for i, s := range a.in.Sides() {
		for k := range s.Rods {
			x := &s.Rods[k]
			path := dotted(a.in, i, k)
			chassis, end := lack.point(x.Chassis, path+".chassis"), lack.point(x.End, path+".end")
			if x.Rigid {
				pivots = append(pivots, travel.ArmPivot{Name: called(x, i), At: chassis})
			} else {
				links = append(links, travel.Link{Name: called(x, i), Chassis: chassis, Axle: end})
			}
		}
	}
	if why := lack.why(); why != "" {
		return nil, errors.New(why)
	}
	hold := func(rigid bool) {
		for _, s := range a.in.Sides() {
			for _, x := range s.Rods {
				switch {
				case !x.Rigid:
					a.held = append(a.held, pickup.Span{Chassis: x.Chassis.At, End: x.End.At})
				case rigid:
					a.pivots = append(a.pivots, x.Chassis.At)
				}
			}
		}
	}
	switch {
	case len(pivots) > 0:
		hold(true)
		a.how = "the axle turns about the joints of the rods that are rigid with it"
		return travel.NewTrailingArms(axle, pivots...)
	case len(links) == 4 || len(links) == 5:
		hold(false)
		a.how = "the axle moves as its rods hold it; with both wheels alike its bushes give as little as they can"
		return travel.NewLinkage(travel.Links{Axle: axle, Links: links, Give: mostGive})
	}
	a.how = "the axle goes straight up and down with both wheels alike: pickup." + a.Name + ".line and rods that hold it are not in the file yet"
	return nil, nil
}

// mostGive is how far rods that hold an axle too well may give for it to move, mm: how
// much each has to is judged by itself.
const mostGive = 50

// called is a rod in a sentence.
func called(x *project.PickupRod, side int) string {
	name := x.Name
	if name == "" {
		name = "rod"
	}
	if x.Alone {
		return name
	}
	return project.SideName(side) + " " + name
}

// axis is how the steering axis stands.
func (s *Side) axis(a *Axle) {
	var l lacks
	ball, upper, wheel := l.point(s.in.Ball, s.at+".ball"), l.point(s.in.UpperBall, s.at+".upper_ball"), l.point(s.in.Wheel, s.at+".wheel")
	if s.Axis.Why = l.why(); s.Axis.Why != "" {
		return
	}
	x, err := pickup.AxisOf(ball, upper, wheel, a.build.Vehicle.WheelDiameter.Or(0)/2, s.right)
	if err != nil {
		s.Axis.Why = err.Error()
		return
	}
	s.Axis.V, s.Axis.Known = x, true
}

// drawn are the arms as lines.
func (s *Side) drawn(p *project.Pickup) {
	run := func(points ...project.Point) {
		var out []r3.Vec
		for _, x := range points {
			if !x.Known {
				return
			}
			out = append(out, x.At)
		}
		s.Arms = append(s.Arms, out)
	}
	switch p.Carried {
	case project.ByTrailingArm:
		run(s.in.PivotA, s.in.Wheel, s.in.PivotB)
	case project.ByArms, project.ByStrut:
		run(s.in.PivotA, s.in.Ball, s.in.PivotB)
		run(s.in.UpperPivotA, s.in.UpperBall, s.in.UpperPivotB)
	}
	run(s.in.Ball, s.in.UpperBall)
	run(s.in.TieInner, s.in.TieOuter)
}

// body is what something is on: as the file says, or what it usually is.
func (a *Axle) body(on project.Moves, spring bool) pickup.Body {
	switch {
	case on == project.OnUpperArm:
		return pickup.Upper
	case on == project.OnHub, on == project.OnAxle, a.in.Carried == project.ByAxle, on == "" && spring && a.in.Carried == project.ByStrut:
		return pickup.Hub
	}
	return pickup.Lower
}

// mirrored is a point on the other side of the centre line.
func mirrored(v r3.Vec) r3.Vec { return r3.Vec{X: v.X, Y: -v.Y, Z: v.Z} }
