package project

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"fitup/internal/geom"
	"fitup/internal/project/tomltext"
)

func (b *binder) checkReadings(build *Build, root *tomltext.Node) {
	b.checkExact(root.Child("gauge"), "accuracy", build.Gauge.Accuracy.Get)
	b.checkExact(root.Child("gauge"), "repeat", build.Gauge.Repeat.Get)
	list := root.Child("reading")
	if list == nil {
		return
	}
	targets := build.Targets()
	for i, n := range list.Children {
		if i >= len(build.Readings) {
			return
		}
		r := &build.Readings[i]
		of := n.Child("of")
		if of == nil {
			b.fault(n.Pos, n.Path, "the reading does not say what it was taken of; want of = one of: %s", strings.Join(targets, ", "))
			continue
		}
		if !slices.Contains(targets, r.Of) {
			b.fault(of.Pos, of.Path, "read %s; want one of: %s", describe(of), strings.Join(targets, ", "))
		}
		if !r.Shown.Known() && n.Child("shown") == nil && n.Child("aside") == nil {
			b.fault(n.Pos, n.Path, "the reading has no value; want shown = what the gauge showed, such as \"85.6 deg\"")
		}
		if s, ok := r.Shown.Get(); ok && geom.Angle(s) > 180*geom.Deg {
			b.fault(n.Child("shown").Pos, n.Child("shown").Path, "read %s; an angle gauge shows at most 180 degrees", describe(n.Child("shown")))
		}
		b.checkExact(n, "plus_minus", r.PlusMinus.Get)
		b.checkAside(n, *r)
		b.checkWith(build, n, *r)
		b.statedReading(n, r)
	}
}

// checkWith looks at the tool of a reading, which only one by tape has.
func (b *binder) checkWith(build *Build, n *tomltext.Node, r Reading) {
	with := n.Child("with")
	switch {
	case with == nil:
	case !r.InPlan():
		b.fault(with.Pos, with.Path, "with is the tool of a reading by tape, with aside and over; what the gauge is good for stands under [gauge]")
	default:
		b.checkTool(build, with)
	}
}

// statedReading takes the ± that stands behind what was read for that of the
// reading.
func (b *binder) statedReading(n *tomltext.Node, r *Reading) {
	half, stated := r.Shown.HalfWidth()
	key := "shown"
	if r.InPlan() && r.Over.Known() {
		// what either length can turn the direction by, atan(aside/over)
		aside, _ := r.Aside.HalfWidth()
		over, _ := r.Over.HalfWidth()
		a, o := math.Abs(r.Aside.V()), r.Over.V()
		if stated = aside+over > 0; stated {
			half, key = (aside*o+over*a)/(o*o+a*a), "aside or over"
		}
	}
	pm := n.Child("plus_minus")
	switch {
	case !stated:
	case pm != nil:
		b.fault(pm.Pos, pm.Path, "%s has its ± already; leave one of the two out", key)
	default:
		r.PlusMinus.SetV(half)
	}
}

// checkExact refuses an instrument that is good for nothing less than all: with
// no uncertainty tight would be ok.
func (b *binder) checkExact(in *tomltext.Node, key string, get func() (float64, bool)) {
	if in == nil {
		return
	}
	if v, known := get(); known && v == 0 && in.Child(key) != nil {
		n := in.Child(key)
		b.fault(n.Pos, n.Path, "read %s; no instrument is exact: want what it is good for either way, or leave the line out", describe(n))
	}
}

// checkAside looks at a reading taken by tape, seen from above.
func (b *binder) checkAside(n *tomltext.Node, r Reading) {
	aside, over := n.Child("aside"), n.Child("over")
	switch {
	case aside == nil && over == nil:
	case aside == nil:
		b.fault(over.Pos, over.Path, "over stands with aside: how far the rear end stands aside of the front end over this length")
	case over == nil:
		b.fault(aside.Pos, aside.Path, "aside needs its length; want over = the length along the vehicle that it was measured over, such as \"1000 mm\"")
	case n.Child("shown") != nil:
		b.fault(aside.Pos, aside.Path, "one reading has shown or aside; make two of them")
	case r.Of == TargetFrame || r.Of == TargetFloor:
		b.fault(aside.Pos, aside.Path, "the %s is what aside is measured against; want the powertrain, a shaft or a pinion", r.Of)
	case r.Aside.Known() && r.Over.Known():
		if err := AsideFault(r.Aside.V(), r.Over.V()); err != nil {
			b.fault(aside.Pos, aside.Path, "%v", err)
		}
	}
}

// AsideFault says why so much aside over so much (mm) is no direction of a
// driveline axis.
func AsideFault(aside, over float64) error {
	switch {
	case over < geom.Tiny:
		return errors.New("the length that aside was measured over is zero; measure between two marks along the vehicle")
	case math.Abs(aside) > over:
		return fmt.Errorf("%g mm aside over %g mm is more than 45 degrees; aside comes first, the length along the vehicle after it", aside, over)
	}
	return nil
}

// markFirst notes on each line whether the axis it begins with was read.
func (b *Build) markFirst() {
	for i := range b.Lines {
		l := &b.Lines[i]
		first := l.FirstTarget()
		l.FirstRead = false
		for k := range b.Readings {
			l.FirstRead = l.FirstRead || b.Readings[k].Of == first
		}
	}
}
