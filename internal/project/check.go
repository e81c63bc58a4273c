package project

import (
	"errors"
	"fmt"
	"strings"

	"fitup/internal/geom"
	"fitup/internal/geom/wheel"
	"fitup/internal/project/quantity"
	"fitup/internal/project/tomltext"

	"gonum.org/v1/gonum/spatial/r3"
)

// check finds what each value alone cannot show: names that refer to nothing,
// the same name twice, points that cannot be.
func (b *binder) check(build *Build, root *tomltext.Node) {
	build.markFirst()
	b.checkPads(build, root)
	b.checkTools(build, root)
	b.checkReadings(build, root)
	b.checkAcross(build, root)
	b.checkJobs(build, root)
	b.checkTyre(build, root)
	b.checkLines(build, root)
	b.checkStraps(build, root)
	b.checkCase(build, root)
	b.checkShapes(build, root)
	b.checkMounts(build, root)
	b.checkInertia(build, root)
	b.checkLegs(build, root)
	b.checkMembers(build, root)
	b.checkAdapters(build, root)
	b.checkMaps(build, root)
	b.checkSurvey(build, root)
	b.checkSubframes(build, root)
	b.checkMarks(build, root)
	b.checkSteering(build, root)
	b.checkPickups(build, root)
	b.checkExhaust(build, root)
	b.checkPacking(build, root)
	b.checkHeld(build, root)
	b.checkElsewhere(build, root)
	b.checkFind(build, root)
	b.checkRails(build, root)
	for side, r := range map[string]Rail{"left": build.Rails.Left, "right": build.Rails.Right} {
		b.checkRail(build, side, r, root)
	}
}

func at(root *tomltext.Node, path string) tomltext.Position {
	n := root
	for _, key := range strings.Split(path, ".") {
		c := n.Child(key)
		if c == nil {
			return n.Pos
		}
		n = c
	}
	return n.Pos
}

func (b *binder) checkPads(build *Build, root *tomltext.Node) {
	p := build.Powertrain.Pads
	if !p.LeftFront.Known || !p.RightFront.Known || !p.Rear.Known {
		return
	}
	across := r3.Sub(p.RightFront.At, p.LeftFront.At)
	back := r3.Sub(p.Rear.At, p.LeftFront.At)
	path := "powertrain.pads"
	if r3.Norm(r3.Cross(across, back)) < 1e-3*(1+r3.Norm(across)*r3.Norm(back)) {
		b.fault(at(root, path), path, "the three pads lie in one line, so they cannot hold the powertrain; check the points")
		return
	}
	if across.Y <= geom.Tiny {
		b.fault(at(root, path), path, "the left front pad is not left of the right front pad; offsets (the second number) are positive to the driver's right")
	}
}

func (b *binder) checkRail(build *Build, side string, r Rail, root *tomltext.Node) {
	path := "rails." + side + ".points"
	if len(r.Points) == 1 {
		b.fault(at(root, path), path, "a rail needs at least two points, front to rear")
	}
	for i := 1; i < len(r.Points); i++ {
		if r.Points[i].Known && r.Points[i-1].Known && r.Points[i].At.X <= r.Points[i-1].At.X {
			b.fault(at(root, path), path, "points run front to rear, but station %s follows %s",
				quantity.Format(quantity.Length, r.Points[i].At.X, build.Units, quantity.UsualDigits),
				quantity.Format(quantity.Length, r.Points[i-1].At.X, build.Units, quantity.UsualDigits))
			return
		}
	}
}

// checkTyre refuses a text that is no tyre. An old or flotation size is one, but
// its diameter has to be measured.
func (b *binder) checkTyre(build *Build, root *tomltext.Node) {
	text := build.Vehicle.Tyre
	if text == "" {
		return
	}
	if _, err := wheel.Parse(text); err != nil && !errors.Is(err, wheel.ErrOldSize) {
		b.fault(at(root, "vehicle.tyre"), "vehicle.tyre", "%v", err)
	}
}

// checkYokes refuses a shaft whose two words on its yokes contradict each other.
func (b *binder) checkYokes(path string, s LineShaft, root *tomltext.Node) {
	v, ok := s.YokeOffset.Get()
	if ok && (s.Phase == Crossed || s.Phase == InPhase && v != 0) {
		b.fault(at(root, path), path, "phase is %q and yoke_offset gives the yokes as well: leave one of them out", s.Phase)
	}
}

func (b *binder) checkHalfShafts(path string, l Line, root *tomltext.Node) {
	for i, h := range l.Suspension.HalfShaft {
		if h.Closed.Known() && h.Open.Known() && h.Open.V() <= h.Closed.V() {
			b.fault(at(root, path), fmt.Sprintf("%s.suspension.half_shaft[%d]", path, i), "plunge_open has to be longer than plunge_closed")
		}
		if v, ok := h.Lock.Get(); ok && geom.Angle(v) >= 80*geom.Deg {
			b.fault(at(root, path), fmt.Sprintf("%s.suspension.half_shaft[%d].lock", path, i), "no wheel steers by 80 degrees or more")
		}
	}
}

func (b *binder) checkLines(build *Build, root *tomltext.Node) {
	for i, g := range build.Powertrain.Gears {
		if v, ok := g.Get(); ok && v <= 0 {
			b.fault(at(root, "powertrain.gears"), fmt.Sprintf("powertrain.gears[%d]", i), "a gear ratio is above 0; read %g", v)
		}
	}
	for _, l := range build.Lines {
		path := "line." + l.Name
		if n := len(l.Joints); n == 1 {
			b.fault(at(root, path), path, "a line has at least two joints; one [[%s.joint]] was read", path)
		}
		if n := len(l.Shafts); len(l.Joints) > 0 && n >= len(l.Joints) {
			b.fault(at(root, path), path, "a line of %d joints has %d shafts; %d [[%s.shaft]] were read", len(l.Joints), len(l.Joints)-1, n, path)
		}
		b.checkHalfShafts(path, l, root)
		if v, ok := l.Share.Get(); ok && (v == 0 || v > 1) {
			b.fault(at(root, path+".share"), path+".share", "share is the part of the torque that can go this way: above 0 and at most 1 is wanted; read %g", v)
		}
		for i, s := range l.Shafts {
			b.checkYokes(fmt.Sprintf("%s.shaft[%d]", path, i), s, root)
			if o, w := s.Outside.V(), s.Wall.V(); s.Outside.Known() && s.Wall.Known() && w > o/2 {
				b.fault(at(root, path), fmt.Sprintf("%s.shaft[%d]", path, i), "the wall (%s) is more than half the outside diameter (%s)",
					quantity.Format(quantity.Length, w, build.Units, quantity.UsualDigits), quantity.Format(quantity.Length, o, build.Units, quantity.UsualDigits))
			}
			if s.SlipClosed.Known() && s.SlipOpen.Known() && s.SlipOpen.V() <= s.SlipClosed.V() {
				b.fault(at(root, path), fmt.Sprintf("%s.shaft[%d]", path, i), "slip_open has to be longer than slip_closed")
			}
		}
	}
}
