package project

import (
	"fmt"
	"slices"
	"strings"

	"fitup/internal/project/quantity"
	"fitup/internal/project/tomltext"

	"gonum.org/v1/gonum/spatial/r3"
)

// checkLegs finds legs, finished mounts and stock that contradict themselves.
func (b *binder) checkLegs(build *Build, root *tomltext.Node) {
	for i := range build.Mounts {
		m := &build.Mounts[i]
		path := "mount." + m.Name + ".leg"
		who := "the leg of the " + strings.ReplaceAll(m.Name, "_", " ") + " mount"
		fault := func(key, format string, args ...any) {
			b.fault(at(root, path+"."+key), path+"."+key, "%s "+format, append([]any{who}, args...)...)
		}
		b.checkLegDirections(&m.Leg, fault)
		b.checkMatch(build, m, fault)
		l := &m.Leg
		for _, w := range []struct {
			key    string
			wanted bool
			q      quantity.Gettable
		}{
			{"height", l.Kind != "", &l.Height}, {"header", true, &l.Header}, {"yield", true, &l.Yield}, {"tensile", true, &l.Tensile},
			{"weld.size", true, &l.Weld.Size}, {"weld.tensile", true, &l.Weld.Tensile},
			{"bolts.torque_k", true, &l.Bolts.TorqueK}, {"bolts.preload", true, &l.Bolts.Preload},
			{"pad_plate.thickness", l.PadPlate.Width.Known(), &l.PadPlate.Thickness},
			{"rail_plate.thickness", l.RailPlate.Width.Known(), &l.RailPlate.Thickness},
			{"pad_plate.across", true, &l.PadPlate.Across}, {"pad_plate.high", true, &l.PadPlate.High},
			{"rail_plate.across", true, &l.RailPlate.Across}, {"rail_plate.high", true, &l.RailPlate.High},
		} {
			if v, ok := w.q.Get(); ok && w.wanted && v == 0 {
				fault(w.key, "has %s = 0; want more", w.key)
			}
		}
		if l.HeaderFrom.Known && l.HeaderTo.Known && r3.Norm(r3.Sub(l.HeaderFrom.At, l.HeaderTo.At)) < 1 {
			fault("header_to", "stands on a crossmember without length; want its two ends apart")
		}
		b.checkBuilt(m, root)
	}
	b.checkSheets(build, root)
	for i, s := range build.Stock {
		path := fmt.Sprintf("stock[%d]", i)
		pos := entry(root.Child("stock"), i)
		switch {
		case s.Section == "":
			b.fault(pos, path, "the stock has no section; want section = the name the legs use")
		case !s.Length.Known() || s.Length.V() == 0:
			b.fault(pos, path, "the stock of %s has no length; want length = that of one bar", Printable(s.Section))
		case s.Cost.Known() && s.Cost.V() == 0 && !s.OnHand:
			b.fault(pos, path, "the stock of %s costs 0; want its price, none at all, or on_hand = true with count = how many there are", Printable(s.Section))
		case s.OnHand && !s.Count.Known():
			b.fault(pos, path, "the stock of %s is on hand; want count = how many there are", Printable(s.Section))
		}
	}
}

// checkSheets finds sheets of plate that nothing can be cut from.
func (b *binder) checkSheets(build *Build, root *tomltext.Node) {
	for i := range build.Sheets {
		s := &build.Sheets[i]
		path := fmt.Sprintf("sheet[%d]", i)
		pos := entry(root.Child("sheet"), i)
		for _, q := range []struct {
			key string
			q   quantity.Gettable
		}{{"thickness", &s.Thickness}, {"length", &s.Length}, {"width", &s.Width}} {
			if v, ok := q.q.Get(); !ok || v == 0 {
				b.fault(pos, path, "the sheet of plate has no %s; want %s = more than 0", q.key, q.key)
			}
		}
		switch {
		case s.Cost.Known() && s.Cost.V() == 0 && !s.OnHand:
			b.fault(pos, path, "the sheet of plate costs 0; want its price, none at all, or on_hand = true with count = how many there are")
		case s.OnHand && !s.Count.Known():
			b.fault(pos, path, "the sheet of plate is on hand; want count = how many there are")
		}
	}
}

func (b *binder) checkLegDirections(l *Leg, fault func(key, format string, args ...any)) {
	if l.PadFacing != "" && l.PadNormal.Known {
		fault("pad_normal", "has both pad_facing and pad_normal; give one of the two")
	}
	for _, d := range []struct {
		key string
		p   Point
	}{{"pad_normal", l.PadNormal}, {"rail_normal", l.RailNormal}, {"up", l.Up}} {
		if d.p.Known && r3.Norm(d.p.At) < 1e-6 {
			fault(d.key, "has a %s without a direction; want three numbers that are not all 0", d.key)
		}
	}
}

func (b *binder) checkMatch(build *Build, m *Mount, fault func(key, format string, args ...any)) {
	of := m.Leg.Match
	if of == "" {
		return
	}
	l := &m.Leg
	for _, own := range []struct {
		key   string
		given bool
	}{
		{"section", l.Section != ""}, {"kind", l.Kind != ""}, {"foot", l.Foot.Known}, {"foot_drop", l.FootDrop.Known()},
		{"up", l.Up.Known}, {"header", l.Header.Known()}, {"steel", l.Steel != ""}, {"pad_plate", l.PadPlate != LegPlate{}},
		{"rail_plate", l.RailPlate != LegPlate{}}, {"bolts", l.Bolts.Begun()}, {"weld", l.Weld.Begun()},
	} {
		if own.given {
			fault(own.key, "takes its %s from the leg it mirrors; leave it out, or leave match out", own.key)
		}
	}
	other, known := Mount{}, []string{}
	for _, x := range build.Mounts {
		if x.Name != m.Name && x.Leg.Match == "" && x.Leg.Begun() {
			known = append(known, x.Name)
		}
		if x.Name == of {
			other = x
		}
	}
	switch {
	case of == m.Name:
		fault("match", "mirrors itself; name the mount of the other side")
	case other.Leg.Match != "":
		fault("match", "mirrors %q, which itself mirrors another; name the one that was made first", Printable(of))
	case !slices.Contains(known, of) && len(known) == 0:
		fault("match", "mirrors %q, which has no leg; give [mount.%s.leg] a section", Printable(of), Printable(of))
	case !slices.Contains(known, of):
		fault("match", "mirrors %q, which has no leg; want one of: %s%s", Printable(of), strings.Join(known, ", "), meant(of, known))
	}
}

// checkBuilt finds measured faces that are no faces.
func (b *binder) checkBuilt(m *Mount, root *tomltext.Node) {
	path := "mount." + m.Name + ".built"
	who := "the " + strings.ReplaceAll(m.Name, "_", " ") + " mount as built"
	for _, f := range []struct {
		key string
		pts []Point
	}{{"pad_points", m.Built.PadPoints}, {"rail_points", m.Built.RailPoints}} {
		if len(f.pts) == 0 {
			continue
		}
		if _, ok := PlaneOf(f.pts); !ok {
			b.fault(at(root, path+"."+f.key), path+"."+f.key, "%s: want three points that do not lie in a line", who)
		}
	}
	if e := m.Built.PadEdge; len(e) > 0 && (len(e) != 2 || !e[0].Known || !e[1].Known || r3.Norm(r3.Sub(e[0].At, e[1].At)) < 10) {
		b.fault(at(root, path+".pad_edge"), path+".pad_edge", "%s: want two points on one edge of its pad, 10 mm apart or more", who)
	}
}

// PlaneOf returns a direction square to the plane of three points, of length
// 1, to either side; false when they are not three or lie in a line.
func PlaneOf(pts []Point) (r3.Vec, bool) {
	if len(pts) != 3 || !pts[0].Known || !pts[1].Known || !pts[2].Known {
		return r3.Vec{}, false
	}
	p, q, s := r3.Sub(pts[1].At, pts[0].At), r3.Sub(pts[2].At, pts[0].At), r3.Sub(pts[2].At, pts[1].At)
	n := r3.Cross(p, q)
	longest := max(r3.Norm(p), r3.Norm(q), r3.Norm(s))
	if r3.Norm(n) < longest { // the height of the triangle is less than 1 mm
		return r3.Vec{}, false
	}
	return r3.Unit(n), true
}
