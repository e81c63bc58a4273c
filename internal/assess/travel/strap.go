package travel

import (
	"errors"
	"fmt"
	"math"
	"strconv"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	suspension "fitup/internal/geom/travel"
	"fitup/internal/project"
	"fitup/internal/project/quantity"

	"gonum.org/v1/gonum/spatial/r3"
)

// StrapCaution goes with whatever is said of limiting straps.
const StrapCaution = "A strap only ends the droop: nothing is lifted or lashed by it, and it takes the blow of the dropping axle with its brackets. Their strength is not judged, since how hard that is depends on what drops it: go by what its maker rates it for. " +
	"Brake hoses, breather and wires have to be longer than it lets the axle drop. Try it with the vehicle on stands, never on a jack alone."

// Strap is a limiting strap of a line. Lengths in mm.
type Strap struct {
	Name string // as the file has it
	ID   string // part of its findings' ids
	// Ride is how far its eyes are apart at ride height.
	Ride finding.Number
	// Taut is how far the axle has dropped where it holds; not known where it does not
	// within the droop.
	Taut finding.Number
	// Longest is the longest one, pulled straight by hand, with which every joint of the
	// shaft keeps its angle and its slip joint its room down to where it holds; Droop how
	// far the axle has dropped there. Free says that the shaft holds down to full droop: then
	// that is how far its eyes get apart.
	Longest, Droop finding.Number
	Free           bool
	By             string // what would give out first below, "" where it is free
}

// straps are the limiting straps of a line as far as they are the same wherever the
// powertrain stands, and the dampers that can end its droop as well.
type straps struct {
	build   *project.Build
	line    project.Line
	of      []strap
	dampers [2][]suspension.Strap // of either side
	falls   []descent             // of each case of the axle; none without a strap
	held    string
	droop   float64 // that the file gives
	left    float64 // of that, with the straps
	level   error   // why the straps do not hold the axle level, so that its droop is as the file has it
}

// strap is one of them.
type strap struct {
	file          project.Strap
	name, id, key string
	lacks         error // what the file lacks of where it is
	is            suspension.Strap
	ride          float64
	taut          float64 // how far down it holds, at rest
	holds         bool
	length, slack limit
	unknown       error // why it does not hold
}

// descent is one case of the axle on its way down.
type descent struct {
	under string
	*suspension.Descent
}

// besideMiddle is how far off the middle of the axle, mm, a strap holds but one side of it.
const besideMiddle = 50

// strapsOf makes the straps of a line ready.
func strapsOf(b *project.Build, l project.Line) straps {
	s := straps{build: b, line: l}
	taken := map[string]bool{}
	for i, file := range l.Suspension.Strap {
		n := needs{prefix: "line." + l.Name + ".suspension.strap." + strconv.Itoa(i+1) + "."}
		x := strap{file: file, name: finding.NameOr(file.Name, "strap", i), id: finding.IDOf(file.Name, i, taken), key: n.prefix}
		spoken := x.name + " strap"
		x.is = suspension.Strap{Name: "the " + spoken, Chassis: n.point(file.Chassis, "chassis"), Axle: n.point(file.Axle, "axle"),
			Length: file.Length.V() + file.Stretch.Or(0)}
		x.lacks = n.err()
		x.ride = r3.Norm(r3.Sub(x.is.Axle, x.is.Chassis))
		title := l.Name + " " + spoken
		x.length = limit{finding.Finding{ID: finding.StrapLength(l.Name, x.id), Title: title + ", between its eyes at droop"},
			project.Rule{Kind: quantity.Length, Source: "the longest with which the shaft's joints keep their angles and its slip joint its room"}}
		x.slack = limit{finding.Finding{ID: finding.StrapSlack(l.Name, x.id), Title: title + ", slack at ride height"}, b.Limit("strap_slack")}
		s.of = append(s.of, x)
	}
	if len(s.of) > 0 {
		s.findDampers()
	}
	return s
}

// findDampers finds those whose ends and whose longest are in the file.
func (s *straps) findDampers() {
	for i := range s.build.Pickups {
		p := &s.build.Pickups[i]
		if p.Line != s.line.Name || p.Carried != project.ByAxle {
			continue
		}
		for side, in := range p.Sides() {
			low, up := in.Damper.Lower, in.Damper.Upper
			if !low.Known && !up.Known && in.Spring.Kind == project.CoilOver {
				low, up = in.Spring.Lower, in.Spring.Upper
			}
			if low.Known && up.Known && in.Damper.Open.Known() {
				s.dampers[side] = append(s.dampers[side], suspension.Strap{Name: "the " + project.SideName(side) + " damper", Chassis: up.At, Axle: low.At, Length: in.Damper.Open.V()})
			}
		}
	}
}

// hold takes the axle down and ends its droop where straps or dampers do.
func (s *straps) hold(m *axleModel) error {
	s.droop, s.left = m.droop, m.droop
	if len(s.of) == 0 || m.droop < geom.Tiny {
		return nil
	}
	for _, c := range m.cases {
		d, err := suspension.DescentOf(c.suspension, m.droop)
		if err != nil {
			return err
		}
		s.falls = append(s.falls, descent{c.under, d})
	}
	var of []suspension.Strap
	for i := range s.of {
		x := &s.of[i]
		switch {
		case x.lacks != nil:
			x.unknown = x.lacks
		case !x.file.Length.Known():
			x.unknown = errors.New(x.key + "length is not in the file yet")
		default:
			p, holds, err := s.falls[0].Taut(x.is)
			if err != nil {
				return fmt.Errorf("%slength: %w", x.key, err)
			}
			x.holds, x.taut = holds, -p.Rise
		}
		if x.unknown == nil {
			of = append(of, x.is)
		}
	}
	if s.level = s.sides(); s.level != nil {
		return nil
	}
	both := len(s.dampers[0]) > 0 && len(s.dampers[1]) > 0
	for i := range s.falls {
		d := &s.falls[i]
		down := d.ends(of, m.droop)
		if both { // an axle hangs level on two of them
			if by := d.ends(append(s.dampers[0][:len(s.dampers[0]):len(s.dampers[0])], s.dampers[1]...), m.droop); by < down {
				down = by
				if i == 0 {
					s.held = "the dampers, drawn out to their ends before a strap is taut"
				}
			}
		}
		if i == 0 && s.held == "" && down < m.droop {
			s.held = "its straps"
			if len(of) == 1 {
				s.held = of[0].Name
			}
		}
		m.cases[i].droop = down
	}
	m.droop = m.cases[0].droop
	s.left = m.droop
	return nil
}

// DroopOf is how far down the straps of a line let its axle, mm; false where they do not
// end its droop before the file does.
func DroopOf(l project.Line) (float64, bool) {
	m, err := atMiddle(l)
	if err != nil || len(l.Suspension.Strap) == 0 {
		return 0, false
	}
	s := strapsOf(&project.Build{}, l)
	if s.hold(&m) != nil {
		return 0, false
	}
	return s.left, s.left < s.droop
}

// ends is how far down the last of them comes taut, mm; droop where one does not.
func (d *descent) ends(of []suspension.Strap, droop float64) float64 {
	down := 0.0
	for _, x := range of {
		p, taut, err := d.Taut(x)
		switch {
		case err != nil: // wound up it is taut already
		case !taut:
			return droop
		default:
			down = max(down, -p.Rise)
		}
	}
	return down
}

// sides says why the straps leave the axle to drop on one side, nil where they do not: one
// is at its middle, or one on either side of it.
func (s *straps) sides() error {
	middle := s.line.Suspension.Axle.At.Y
	left, right := false, false
	var unknown error
	for i := range s.of {
		x := &s.of[i]
		if x.unknown != nil {
			if unknown == nil {
				unknown = x.unknown
			}
			continue
		}
		off := x.is.Axle.Y - middle
		left, right = left || off <= besideMiddle, right || off >= -besideMiddle
	}
	switch {
	case unknown != nil:
		return unknown
	case !left || !right:
		return fmt.Errorf("all straps of line.%s are on one side of the axle's middle, and the other side drops on: begin line.%s.suspension.strap.%d there", s.line.Name, s.line.Name, len(s.of)+1)
	}
	return nil
}

// longest finds the longest straps that hold the shaft of a line together, which f follows.
func (s *straps) longest(t *Travel, f *follower, lim *limits) {
	t.Held = s.held
	for i := range s.of {
		x := &s.of[i]
		out := Strap{Name: x.name, ID: x.id, Ride: finding.Exact(x.ride), Taut: finding.Missing("it is not taut within the droop")}
		if x.unknown != nil {
			out.Taut = finding.Missing(x.unknown.Error())
		} else if x.holds {
			out.Taut = finding.Exact(x.taut)
		}
		if x.lacks != nil {
			out.Ride = finding.Missing(x.lacks.Error())
		}
		if err := s.longestOf(&out, x, f, lim); err != nil {
			out.Longest = finding.Missing(err.Error())
			out.Droop = out.Longest
		}
		t.Straps = append(t.Straps, out)
	}
}

func (s *straps) longestOf(out *Strap, x *strap, f *follower, lim *limits) error {
	switch {
	case x.lacks != nil:
		return x.lacks
	case !lim.slip.closed.Known():
		return errors.New(lim.slip.noClosed)
	case !lim.slip.open.Known():
		return errors.New(lim.slip.noOpened)
	case len(s.falls) == 0:
		return errors.New("there is no droop to be ended")
	}
	long, free := math.Inf(1), true
	for i := range s.falls {
		d := &s.falls[i]
		end, k := d.First(func(p suspension.Point) float64 { r, _, _ := f.least(p, lim); return r })
		_, by, is := f.least(end, lim)
		switch {
		case k < 0:
			continue
		case k == 0 && end.Rise == 0:
			return fmt.Errorf("%s %s already, which no strap mends", lim.says(by, is, s.build.Units), finding.AtRise(0, d.under, s.build.Units))
		}
		if free = false; d.Longest(x.is, end, k) < long {
			long = d.Longest(x.is, end, k)
			out.Droop = finding.Exact(-end.Rise)
			out.By = lim.says(by, is, s.build.Units)
			if d.under != "" {
				out.By += ", " + d.under
			}
		}
	}
	if out.Free = free; free {
		d := s.falls[0]
		last := len(d.Points) - 1
		long, out.Droop = d.Longest(x.is, d.Points[last], last), finding.Exact(d.Droop())
	}
	out.Longest = finding.Exact(long - x.file.Stretch.Or(0))
	return nil
}

// What of a shaft has least room, beside its joints by their numbers from 0.
const (
	slipBottoms = -1
	slipPulls   = -2
)

// least is the least room that the shaft has with the axle at p: below 0 where a joint is
// past its angle or the slip joint past its room; which of them that is of, and its number.
// Angles count by rad and lengths by 1/50 of a mm: only what is below 0 is meant.
func (f *follower) least(p suspension.Point, lim *limits) (room float64, which int, is float64) {
	const perLength = 1. / 50
	n := len(f.angles)
	room = math.Inf(1)
	keep := func(r float64, w int, v float64) {
		if r < room {
			room, which, is = r, w, v
		}
	}
	along := r3.Sub(p.PinionAt, f.from)
	axis, err := geom.Unit(along)
	if err != nil {
		return -1, slipBottoms, 0
	}
	last := [2]float64{geom.Between(f.axes[n-2], axis).Rad(), geom.Between(axis, r3.Scale(f.away, p.PinionAxis)).Rad()}
	for i := range n {
		angle := f.ride[i]
		if i >= n-2 {
			angle = last[i-n+2]
		}
		keep(lim.joints[i].rule.Value-angle, i, angle)
	}
	long := r3.Norm(along)
	if v, ok := lim.slip.closed.Get(); ok {
		keep((long-v-lim.bottom.rule.Value)*perLength, slipBottoms, long-v)
	}
	if v, ok := lim.slip.open.Get(); ok {
		keep((v-long-lim.pull.rule.Value)*perLength, slipPulls, v-long)
	}
	return room, which, is
}

// says is what of the shaft stands where.
func (m *limits) says(which int, is float64, u quantity.Units) string {
	length := func(v float64) string { return quantity.Format(quantity.Length, v, u, 1) }
	switch which {
	case slipBottoms:
		return "the slip joint is " + length(is) + " from home"
	case slipPulls:
		return "the slip joint is " + length(is) + " from pulling out"
	}
	return fmt.Sprintf("joint %d is at %s of %s", which+1, quantity.Format(quantity.Angle, is, u, 1), quantity.Format(quantity.Angle, m.joints[which].rule.Value, u, 1))
}
