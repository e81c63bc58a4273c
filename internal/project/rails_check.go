package project

import (
	"fmt"
	"math"

	"fitup/internal/project/quantity"
	"fitup/internal/project/tomltext"
)

// railCheck looks at one rail of the file.
type railCheck struct {
	b     *binder
	build *Build
	side  Side
	rail  Rail
	node  *tomltext.Node // of the rail
	path  string
}

// checkRails finds what the rails say of themselves that cannot be: lengths out of
// order, sections that are none, what does not stand on its rail.
func (b *binder) checkRails(build *Build, root *tomltext.Node) {
	for _, side := range []Side{LeftSide, RightSide} {
		path := "rails." + string(side)
		c := railCheck{b: b, build: build, side: side, rail: build.Rails.Left, path: path, node: root.Child("rails").Child(string(side))}
		if side == RightSide {
			c.rail = build.Rails.Right
		}
		if c.node == nil || !c.rail.Described() {
			continue
		}
		c.like()
		c.lengths()
		c.splices()
		c.holes()
		c.supports()
	}
	b.checkRailLoads(build, root)
}

func (c *railCheck) fault(key string, i int, format string, args ...any) {
	pos, path := c.node.Pos, c.path
	if n := c.node.Child(key); n != nil {
		pos, path = n.Pos, n.Path
		if i >= 0 {
			pos, path = entry(n, i), fmt.Sprintf("%s.%s[%d]", c.path, key, i)
		}
	}
	c.b.fault(pos, path, "the %s rail "+format, append([]any{c.side}, args...)...)
}

func (c *railCheck) text(v float64) string {
	return quantity.Format(quantity.Length, v, c.build.Units, quantity.UsualDigits)
}

func (c *railCheck) like() {
	r := c.rail
	switch {
	case r.Like == "":
	case r.Like == c.side:
		c.fault("like", -1, "is said to be like itself; want the other side")
	case len(r.Lengths)+len(r.Splices)+len(r.Holes)+len(r.Supports) > 0:
		c.fault("like", -1, "is said to be like the other one and has lengths, splices, holes or supports of its own; want one or the other")
	case !c.build.Rails.Rail(r.Like).Described() || c.build.Rails.Rail(r.Like).Like != "":
		c.fault("like", -1, "is said to be like the %s one, of which nothing is said; give [[rails.%s.length]]", r.Like, r.Like)
	}
}

func (c *railCheck) lengths() {
	from, end, spans := c.rail.Span()
	last := from
	for i, l := range c.rail.Lengths {
		what := func(format string, args ...any) {
			c.fault("length", i, "%s", fmt.Sprintf("has a length %d that "+format, append([]any{i + 1}, args...)...))
		}
		to, known := l.To.Get()
		switch {
		case !known && i < len(c.rail.Lengths)-1:
			what("does not say where it ends; want to = its station")
		case known && spans && to > end+0.5:
			what("ends at station %s, behind the rail's last point at %s; look at to and at points", c.text(to), c.text(end))
		case known && (i > 0 || spans) && to <= last:
			what("ends at station %s, which is not behind %s, where it begins; lengths run from front to rear", c.text(to), c.text(last))
		}
		if known {
			last = to
		}
		c.section(i, l, what)
		if r := l.Stretched; known && i > 0 && r.Known() {
			if begin, ok := c.rail.Lengths[i-1].To.Get(); ok && r.V() > to-begin+0.5 {
				what("is %s long, and %s of it is said to have been put in", c.text(to-begin), c.text(r.V()))
			}
		}
	}
}

// section looks at what a length is made of.
func (c *railCheck) section(i int, l RailLength, what func(string, ...any)) {
	part := fmt.Sprintf("%s rail, length %d", c.side, i+1)
	plates := l.Plated != ""
	switch {
	case l.Folded():
		if len(l.Across) != len(l.Up) {
			what("has %d numbers across and %d up; want one of each for every corner of its middle line", len(l.Across), len(l.Up))
			return
		}
		if !l.Wall.Known() {
			what("is folded along across and up and has no wall; want wall = its thickness")
			return
		}
		if plates || l.ToSection != "" {
			what("is folded along across and up, where no plates and no taper are counted; draw the plates into the line, or give a channel or a box")
			return
		}
	case l.Section == "":
		return // said by the finding: it is not described yet
	case plates && !l.Plate.Known():
		what("is plated %s and does not say how thick; want plate = its thickness", l.Plated)
		return
	case !plates && (l.Plate.Known() || l.PlateWide.Known()):
		what("has a plate and does not say where it lies; want plated = outside, inside, both sides, boxed, top, bottom, or top and bottom")
		return
	}
	ends := []float64{0, 1}
	if l.ToSection == "" { // it is the same at both
		ends = ends[:1]
	}
	for _, way := range ends {
		if err := l.check(part, way, c.build.Units); err != nil {
			what("cannot be used: %v", err)
			return
		}
	}
	if l.Was != "" {
		if _, err := RailShape(part+", before", l.Was, l.Bend.Or(-1), c.build.Units); err != nil {
			what("was something that cannot be used: %v", err)
		}
	}
}

// on reports whether a station lies on the rail as far as the file says where that is,
// and says so where it does not.
func (c *railCheck) on(key string, i int, x float64, what string) bool {
	from, to, ok := c.rail.Span()
	if !ok || x >= from-0.5 && x <= to+0.5 {
		return true
	}
	c.fault(key, i, "has %s at station %s, off the rail, which runs from %s to %s", what, c.text(x), c.text(from), c.text(to))
	return false
}

func (c *railCheck) splices() {
	for i, s := range c.rail.Splices {
		x, known := s.At.Get()
		switch {
		case !known:
			c.fault("splice", i, "has a splice %d without a place; want at = its station", i+1)
			continue
		case s.Kind == "":
			c.fault("splice", i, "has a splice %d of no kind; want kind = butt, butt with plates, fish plate or sleeve", i+1)
			continue
		case !c.on("splice", i, x, fmt.Sprintf("splice %d", i+1)):
			continue
		}
		from, to, spans := c.rail.Span()
		half := s.Length.Or(0) / 2
		switch {
		case s.Kind == ButtSplice && (s.Plate.Known() || s.Length.Known()):
			c.fault("splice", i, "has a butt splice %d with a plate; want kind = butt with plates or fish plate, or no plate", i+1)
		case s.Length.Known() && half == 0:
			c.fault("splice", i, "has a splice %d whose plates are %s long", i+1, c.text(0))
		case spans && s.Length.Known() && 2*half > to-from:
			c.fault("splice", i, "has a splice %d whose plates are %s long; the whole rail is %s", i+1, c.text(2*half), c.text(to-from))
		case spans && (x-half < from-0.5 || x+half > to+0.5):
			c.fault("splice", i, "has a splice %d whose plates reach from station %s to %s, off the rail, which runs from %s to %s",
				i+1, c.text(x-half), c.text(x+half), c.text(from), c.text(to))
		}
	}
}

func (c *railCheck) holes() {
	for i, h := range c.rail.Holes {
		x, known := h.At.Get()
		switch {
		case !known:
			c.fault("hole", i, "has a hole %d without a place; want at = its station", i+1)
			continue
		case !c.on("hole", i, x, fmt.Sprintf("hole %d", i+1)):
			continue
		}
		if tall, ok := c.rail.Height.Get(); ok && h.In == InWeb {
			if up := h.Up.Or(tall / 2); up+h.Diameter.Or(0)/2 > tall || up-h.Diameter.Or(0)/2 < 0 {
				c.fault("hole", i, "has a hole %d of %s at %s over its bottom, which does not lie in a web %s high", i+1, c.text(h.Diameter.Or(0)), c.text(up), c.text(tall))
			}
		}
	}
}

func (c *railCheck) supports() {
	first := map[string]int{}
	places := []float64{}
	for i, s := range c.rail.Supports {
		x, known := s.At.Get()
		switch before, again := first[s.Name]; {
		case s.Name == "":
			c.fault("support", i, "has a support %d without a name; want name = what carries it, such as \"rear hanger of the front spring\"", i+1)
		case again:
			c.fault("support", i, "has two supports called %q, %d and %d; each needs its own name", Printable(s.Name), before+1, i+1)
		}
		first[s.Name] = i
		if !known {
			c.fault("support", i, "has a support %d without a place; want at = its station", i+1)
			continue
		}
		if c.on("support", i, x, "a support") {
			places = append(places, x)
		}
	}
	apart := false
	for _, x := range places {
		apart = apart || math.Abs(x-places[0]) > 1
	}
	// A single one is on its way to be more: the finding asks for the others.
	if len(places) == len(c.rail.Supports) && len(places) > 1 && !apart {
		c.fault("support", 0, "stands on one place; want two supports apart, such as a hanger of the front spring and one of the rear")
	}
}

func (b *binder) checkRailLoads(build *Build, root *tomltext.Node) {
	list := root.Child("rails").Child("load")
	if list == nil {
		return
	}
	text := func(v float64) string {
		return quantity.Format(quantity.Length, v, build.Units, quantity.UsualDigits)
	}
	for i, l := range build.Rails.Loads {
		pos, path := entry(list, i), fmt.Sprintf("rails.load[%d]", i)
		who := "the load " + quoted(l.Name) + " on the rails"
		at, to := l.At.V(), l.To.Or(l.At.V())
		switch {
		case l.Name == "":
			b.fault(pos, path, "a load on the rails has no name; want name = what it is, such as \"cab\"")
		case !l.Mass.Known() || l.Mass.V() == 0:
			b.fault(pos, path, "%s has no mass; want mass = what it weighs", who)
		case !l.At.Known():
			b.fault(pos, path, "%s has no place; want at = its station", who)
		case to < at:
			b.fault(pos, path, "%s ends at station %s, in front of %s, where it begins", who, text(to), text(at))
		default:
			for _, side := range []Side{LeftSide, RightSide} {
				from, end, ok := build.Rails.Rail(side).Span()
				if ok && (l.On == "" || l.On == side) && (at < from-0.5 || to > end+0.5) {
					b.fault(pos, path, "%s lies at station %s to %s, off the %s rail, which runs from %s to %s", who, text(at), text(to), side, text(from), text(end))
					break
				}
			}
		}
	}
}

func quoted(s string) string { return "\"" + Printable(s) + "\"" }
