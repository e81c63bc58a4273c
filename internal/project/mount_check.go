package project

import (
	"fmt"
	"slices"
	"strings"

	"fitup/internal/geom/seat"
	"fitup/internal/project/quantity"
	"fitup/internal/project/tomltext"

	"gonum.org/v1/gonum/spatial/r3"
)

// checkShapes finds pieces of the powertrain and of the vehicle that cannot be.
func (b *binder) checkShapes(build *Build, root *tomltext.Node) {
	for i, p := range build.Powertrain.Parts {
		path := fmt.Sprintf("powertrain.part[%d]", i)
		b.checkShape(entry(root.Child("powertrain").Child("part"), i), path, p.Name, p.From, p.To, p.At, p.Radius)
	}
	seen := map[string]int{}
	for i, c := range build.Chassis {
		path := fmt.Sprintf("chassis[%d]", i)
		n := entry(root.Child("chassis"), i)
		b.checkShape(n, path, c.Name, c.From, c.To, c.At, c.Radius)
		b.checkSurface(n, path, c)
		if e := entryOf(root.Child("chassis"), i); e != nil {
			b.checkOpening(e, c)
		}
		switch first, dup := seen[c.Name]; {
		case c.Name == "":
			b.fault(n, path, "the chassis part has no name; want name = what it is, such as \"steering shaft\"")
		case dup:
			b.fault(n, path, "the name %q stands at line %d already; each chassis part needs its own", Printable(c.Name), first)
		default:
			seen[c.Name] = n.Line
		}
		for _, name := range c.Carries {
			if !slices.ContainsFunc(build.Lines, func(l Line) bool { return l.Name == name }) {
				b.fault(n, path+".carries", "it carries the line %q, which is not in this file; want the name of a line, such as rear%s", Printable(name), meant(name, lineNames(build)))
			}
		}
	}
	for _, l := range build.Lines {
		list := root.Child("line").Child(l.Name).Child("suspension").Child("part")
		for i, p := range l.Suspension.Part {
			path := fmt.Sprintf("line.%s.suspension.part[%d]", l.Name, i)
			b.checkShape(entry(list, i), path, p.Name, p.From, p.To, p.At, p.Radius)
		}
	}
}

func (b *binder) checkShape(pos tomltext.Position, path, name string, from, to, at Point, radius quantity.LengthQ) {
	who := called(name)
	switch {
	case at.Known && (from.Known || to.Known):
		b.fault(pos, path, "%s has both at and from or to; give at for a point or a ball, from and to for a box or a rod", who)
	case from.Known && to.Known && radius.Known() && from.At == to.At:
		b.fault(pos, path, "%s begins where it ends; a ball is given by at and radius", who)
	}
}

func (b *binder) checkSurface(pos tomltext.Position, path string, c ChassisPart) {
	who := called(c.Name)
	surface := c.On.Known || c.Facing != "" || c.Normal.Known
	switch {
	case surface && (c.From.Known || c.To.Known || c.At.Known || c.Radius.Known()):
		b.fault(pos, path, "%s is a flat surface by on and facing, and something else by from, to, at or radius; give one of the two", who)
	case c.Facing != "" && c.Normal.Known:
		b.fault(pos, path, "%s has both facing and normal; give one of the two", who)
	case c.Normal.Known && r3.Norm(c.Normal.At) < 1e-6:
		b.fault(pos, path, "%s has a normal without a direction; want three numbers that are not all 0", who)
	}
}

// entry is where entry i of a list begins.
func entry(list *tomltext.Node, i int) tomltext.Position {
	if i < len(list.Children) {
		return list.Children[i].Pos
	}
	return list.Pos
}

func called(name string) string {
	if name == "" {
		return "this part"
	}
	return "the part \"" + Printable(name) + "\""
}

// checkMounts finds mounts that stand nowhere or contradict themselves.
func (b *binder) checkMounts(build *Build, root *tomltext.Node) {
	for i := range build.Mounts {
		m := &build.Mounts[i]
		path := "mount." + m.Name
		pos, who := at(root, path), "the "+strings.ReplaceAll(m.Name, "_", " ")+" mount"
		pad := slices.Contains(PadNames(), m.Name)
		if m.Support() {
			b.checkSupport(build, m, root)
			continue
		}
		if m.Corner != "" {
			b.checkCorner(build, m, root)
			continue
		}
		switch {
		case pad && m.At.Known:
			b.fault(at(root, path+".at"), path+".at", "%s stands at powertrain.pads.%s; give its place there", who, m.Name)
		case !pad && !m.At.Known:
			b.fault(pos, path, "%s has no place; want at = [station, offset, height] in the powertrain's own frame, or one of the names %s", who, strings.Join(PadNames(), ", "))
		case m.Diameter.Known() && (m.Length.Known() || m.Width.Known()):
			b.fault(pos, path, "%s has both a diameter and a length or width; round rubber has a diameter, square-cut rubber a length and a width", who)
		case m.Holds == SolidMount && (m.Hardness.Known() || m.Thickness.Known() || m.Diameter.Known() || m.Length.Known() || m.Width.Known()):
			b.fault(pos, path, "%s is bolted solid, so it has no rubber; its rates are those of its bracket", who)
		}
		b.checkAxes(m, root, path)
		b.checkVibrates(path, who, m.Dynamic, m.Loss, root)
		for _, q := range []struct {
			key string
			q   quantity.Gettable
		}{
			{"rate_up", &m.RateUp}, {"rate_across", &m.RateAcross}, {"rate_along", &m.RateAlong},
			{"hardness", &m.Hardness}, {"thickness", &m.Thickness},
		} {
			if v, ok := q.q.Get(); ok && v == 0 {
				b.fault(at(root, path+"."+q.key), path+"."+q.key, "%s of %s has to be more than 0", q.key, who)
			}
		}
	}
}

// checkCorner finds a mount that holds a corner of a subframe which there is not, or says
// of itself what only a mount of the powertrain has.
func (b *binder) checkCorner(build *Build, m *Mount, root *tomltext.Node) {
	path := "mount." + m.Name
	key, who := path+".corner", "the "+strings.ReplaceAll(m.Name, "_", " ")+" mount"
	_, hangs := build.Hangs(m.Corner)
	switch {
	case slices.Contains(PadNames(), m.Name):
		b.fault(at(root, key), key, "%s is one of the powertrain's three pads; give the mount of a subframe's corner another name", who)
	case !hangs:
		b.fault(at(root, key), key, "%s is no point of a subframe; want one that stands in its [[subframe.NAME.point]], such as point.sub_lf", Printable(m.Corner))
	case m.At.given():
		b.fault(at(root, path+".at"), path+".at", "%s holds a corner of a subframe, and its pad is there; leave at out", who)
	case m.FitUpOnly:
		b.fault(at(root, path+".fit_up_only"), path+".fit_up_only", "%s holds a corner of a subframe, on which no powertrain stands; leave fit_up_only out", who)
	case m.Begun() || m.Dynamic.Known() || m.Loss.Known() || m.RateAxis.Known || m.AlongAxis.Known:
		b.fault(at(root, path), path, "%s holds a corner of a subframe: of its rubber nothing is worked out; leave its rates, its rubber and holds out", who)
	}
	for i := range build.Mounts {
		if o := &build.Mounts[i]; o.Corner == m.Corner && o.Name < m.Name {
			b.fault(at(root, key), key, "%s is held by mount.%s already; each corner has one mount", Printable(m.Corner), Printable(o.Name))
		}
	}
}

// checkVibrates refuses rubber that is no rubber in vibration.
func (b *binder) checkVibrates(path, who string, dynamic, loss quantity.NumberQ, root *tomltext.Node) {
	if v, ok := dynamic.Get(); ok && (v < 1 || v > 5) {
		b.fault(at(root, path+".dynamic"), path+".dynamic", "the rubber of %s would be %g times as stiff in vibration as under a steady load; 1 for steel, %g to %g for rubber, and never over 5", who, v, seat.DynamicLow, seat.DynamicHigh)
	}
	if v, ok := loss.Get(); ok && v > 1 {
		b.fault(at(root, path+".loss"), path+".loss", "a loss factor of %g for %s is more than anything has; rubber has 0.05 to 0.3, and a damping ratio counts twice", v, who)
	}
}

// checkInertia refuses moments of inertia that no body has.
func (b *binder) checkInertia(build *Build, root *tomltext.Node) {
	j := build.Powertrain.Inertia
	path := "powertrain.inertia"
	for _, x := range []struct {
		key string
		q   quantity.InertiaQ
	}{{"roll", j.Roll}, {"pitch", j.Pitch}, {"yaw", j.Yaw}} {
		if v, ok := x.q.Get(); ok && v == 0 {
			b.fault(at(root, path+"."+x.key), path+"."+x.key, "a moment of inertia has to be more than 0; leave all three out to have them estimated")
			return
		}
	}
	if !j.Known() {
		return
	}
	r, p, y := j.Roll.V(), j.Pitch.V(), j.Yaw.V()
	if most := max(r, p, y); 2*most > (r+p+y)*(1+1e-9) {
		b.fault(at(root, path), path, "one of the three moments of inertia is larger than the two others together, which no body has; look for a slip of ten or of unit")
	}
}

func (b *binder) checkAxes(m *Mount, root *tomltext.Node, path string) {
	if !m.RateAxis.Known && !m.AlongAxis.Known {
		return
	}
	key := path + ".rate_axis"
	if !m.RateAxis.Known {
		key = path + ".along_axis"
	}
	if _, err := m.Isolator(strings.ReplaceAll(m.Name, "_", " "), r3.Vec{}, seat.Rates{}); err != nil {
		b.fault(at(root, key), key, "%v", err)
	}
}

func lineNames(b *Build) []string {
	out := make([]string, len(b.Lines))
	for i := range b.Lines {
		out[i] = b.Lines[i].Name
	}
	return out
}
