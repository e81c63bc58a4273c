package bracket

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/geom/assembly"
	geombracket "fitup/internal/geom/bracket"
	"fitup/internal/project/quantity"

	"gonum.org/v1/gonum/spatial/r3"
)

// MemberCut is one member of a mount with what is needed to cut and place it.
type MemberCut struct {
	Name, Section string
	Overall       float64 // tip to tip, mm
	Rows          []Row
}

// MemberCuts lists the members of a mount of several, in the order of the work.
func (b *Bracket) MemberCuts() []MemberCut {
	if b.Members == nil {
		return nil
	}
	out := make([]MemberCut, len(b.Members.Solved.Parts))
	for i := range out {
		p := &b.Members.Solved.Parts[i]
		out[i] = MemberCut{p.Name, p.Shape.Name, p.Cut.Overall, b.memberRows(i)}
	}
	return out
}

// memberRows are the numbers of one member: lengths, the four sides as they lie on
// the saw, each end's setting, the nearest half degree, and where it lands.
func (b *Bracket) memberRows(i int) (rows []Row) {
	p := &b.Members.Solved.Parts[i]
	c, id := &p.Cut, "bracket."+b.Name+".member."+finding.Slug(p.Name)+"."
	add := func(label, name string, k quantity.Kind, v float64, words string) {
		rows = append(rows, Row{label, id + name, k, v, words})
	}
	add("overall, tip to tip", "overall", quantity.Length, c.Overall, "")
	add("long point", "long_point", quantity.Length, c.LongPoint, "")
	add("short point", "short_point", quantity.Length, c.ShortPoint, "")
	add("on the axis", "length", quantity.Length, c.Length, "")
	for _, side := range []geombracket.Side{geombracket.Top, geombracket.Bottom, geombracket.Left, geombracket.Right} {
		words := ""
		if !c.HasSide(side) {
			continue
		}
		if c.Open() && side == geombracket.Left {
			words = "its back: it opens to the right"
		}
		if side == geombracket.Top {
			words = "the side that looks up; each along its middle"
		}
		add(side.String()+" side", "side."+side.String(), quantity.Length, c.Sides[side], words)
	}
	for e, x := range [2]geombracket.End{c.Pad, c.Rail} {
		end, key := [2]string{"first end", "second end"}[e], [2]string{"first", "second"}[e]
		half := c.HalfDegree(e == 1)
		near := fmt.Sprintf("to the nearest half degree: mitre %.1f°, tilt %.1f°", half.Mitre.Degrees(), half.Tilt.Degrees())
		if s := x.Saw[x.Best]; x.Rolled {
			add(end+" mitre", key+".mitre", quantity.Angle, x.Roll.Swing.Rad(), x.Roll.Long.String())
			add(end+" tilt", key+".tilt", quantity.Angle, 0, "blade upright")
			add(end+" roll of the tube", key+".roll", quantity.Angle, x.Roll.Roll.Abs().Rad(), strings.Replace(rollWords(x.Roll), "from the pad", "from its first end", 1))
			near = fmt.Sprintf("to the nearest half degree: swing %.1f°", half.Mitre.Degrees())
		} else {
			add(end+" mitre", key+".mitre", quantity.Angle, s.Mitre.Abs().Rad(), s.LongMitre.String())
			add(end+" tilt", key+".tilt", quantity.Angle, s.Tilt.Abs().Rad(), s.Down.String()+" side down, "+s.LongTilt.String())
		}
		onceRows(c, e == 1, end, key, "its first end", add)
		add(end+" off at its tip", key+".half_miss", quantity.Length, half.Miss, near)
		b.landingRows(i, e, end, key, add)
	}
	b.perchRow(i, add)
	b.socketRows(p, add)
	add("mass", "mass", quantity.Mass, c.Mass, "")
	return rows
}

// landingRows say where an end of a member lands.
func (b *Bracket) landingRows(i, e int, end, key string, add adder) {
	p := &b.Members.Solved.Parts[i]
	at := p.Cut.Pad.At
	if e == 1 {
		at = p.Cut.Rail.At
	}
	switch x := &p.Ends[e]; x.Kind {
	case assembly.OnMember:
		on := "on its " + p.Side[e].String() + " side"
		if c := p.Copes[e]; c != nil {
			on = "coped round it"
			add(end+" cope, round", key+".cope.round", quantity.Length, c.Header, "outside diameter of the "+x.Host+": sawn first as above, then coped, straight through the wall; its template has the line")
			add(end+" cope, depth", key+".cope.depth", quantity.Length, c.Depth, "the most that is taken out, from the saw's cut")
			add(end+" cope, between axes", key+".cope.angle", quantity.Angle, c.Angle.Rad(), "")
			add(end+" cope, gap", key+".cope.gap", quantity.Length, c.Gap, "at most, left outside the wall where its inside touches first: bevel the inside to close it")
		}
		add(end+" along the "+x.Host, key+".along", quantity.Length, x.Along,
			fmt.Sprintf("%s, to where the axes meet, from the %s's first cut", on, x.Host))
		host := &b.Members.Solved.Parts[p.Host[e]].Cut
		add(end+" lands along the "+x.Host, key+".lands", quantity.Length, r3.Dot(host.Axis, r3.Sub(at, host.Pad.At)),
			"middle of its cut, from the same")
	case assembly.Rail, assembly.Lies:
		on := "of its foot on the rail"
		if x.On != "" {
			on = "of its foot on the " + x.On
		}
		for _, f := range b.Members.Feet {
			if !slices.Contains(f.ends(), [2]int{i, e}) {
				continue
			}
			foot := f.Face.Point
			if len(f.Also) > 0 { // of its own on the plate that it shares
				foot = at
				if pose, err := b.footPose(&f); err == nil && b.RailPlate != nil {
					onPlateRows(b.RailPlate, pose, at, end, key, add)
				}
			}
			add(end+" station", key+".station", quantity.Length, foot.X, on)
			add(end+" height", key+".height", quantity.Length, foot.Z, on)
			if x.Kind == assembly.Lies && b.sleeved() {
				b.sleeveRows(p, e, end, key, x, at, f.Packing, add)
			} else if x.Kind == assembly.Lies {
				add(end+" from its cut", key+".foot_along", quantity.Length, math.Abs(r3.Dot(p.Cut.Axis, r3.Sub(x.At, at))), "along its "+p.Side[e].String()+" side to the middle of its foot's plate")
				add(end+" packing", key+".packing", quantity.Length, f.Packing, "between the "+x.On+" and its foot's plate")
			}
		}
	case assembly.Bolted, assembly.Inside:
		b.throughRows(i, e, end, key, add)
	case assembly.Pin:
		add(end+" hole from its cut", key+".hole_along", quantity.Length, p.Cut.Length-p.Along(e), "along the middle of its width, to the middle of the hole")
		if d, ok := b.ready.kind.spec.Pin.Hole.Get(); ok {
			add(end+" hole", key+".hole", quantity.Length, d, "its diameter")
		}
	case assembly.Mitre:
		add(end+" knee", key+".knee", quantity.Angle, bend(b, p, e).Rad(), "between it and the "+x.Host+", which is cut to meet it")
	case assembly.Pad:
		face, what := geombracket.Face{Point: b.Members.Pad.Point, Normal: b.Members.Pad.Normal}, "the pad's middle"
		pose, err := geombracket.FacePose(b.Label, face, r3.Vec{})
		if err != nil {
			return
		}
		o := pose.Own(at)
		add(end+" lands across", key+".lands_across", quantity.Length, math.Abs(o.X), "of "+what+", along the plate's width"+sideWords(pose.X, o.X))
		add(end+" lands along", key+".lands_along", quantity.Length, math.Abs(o.Y), "of "+what+", along the plate's height"+sideWords(pose.Y, o.Y))
		onPlateRows(b.PadPlate, pose, at, end, key, add)
	case assembly.Square:
	}
}

// bend is the angle between a member and the one that it is mitred to at an end: 180°
// where it runs straight on.
func bend(b *Bracket, p *assembly.Part, e int) geom.Angle {
	c := p.Cut.Pad
	if e == 1 {
		c = p.Cut.Rail
	}
	return 180*geom.Deg - 2*geom.Between(c.Normal, p.Cut.Axis)
}

// sideWords says which way from a middle something lies.
func sideWords(axis r3.Vec, v float64) string {
	if math.Abs(v) < 0.005 {
		return ""
	}
	return ", to the " + toward(r3.Scale(v, axis))
}

// memberValues lists every number of a mount of several members.
func (b *Bracket) memberValues(l *finding.List) {
	if b.Members == nil {
		return
	}
	id := "bracket." + b.Name
	l.Point(id+".pad", b.Members.Pad.Point)
	for _, m := range b.MemberCuts() {
		for _, r := range m.Rows {
			l.Add(r.Name, r.Kind, r.V)
		}
	}
	l.Number(id+".mass", quantity.Mass, b.Mass)
	for _, w := range b.Sheets {
		key := id + "." + finding.Slug(w.Name)
		l.Add(key+".width", quantity.Length, w.Figures.Width)
		l.Add(key+".height", quantity.Length, w.Figures.Height)
		l.Add(key+".mass", quantity.Mass, w.Figures.Mass)
		l.Add(key+".count", quantity.Count, float64(w.Count))
	}
	for _, r := range b.FixingRows() {
		l.Add(r.Name, r.Kind, r.V)
	}
	for _, r := range b.MemberMatches() {
		l.Add(r.Name+".mirror", r.Kind, r.Mirror)
		l.Add(r.Name+".made", r.Kind, r.Made)
		l.Add(r.Name+".by", r.Kind, r.By)
	}
}

// MemberMatches lists how the members of a mount made after the other side's differ
// from the plain mirror image of that one's. Nil where it mirrors none.
func (b *Bracket) MemberMatches() (out []MatchRow) {
	if b.Members == nil || len(b.Members.mirrors) != len(b.Members.Solved.Parts) {
		return nil
	}
	for i := range b.Members.mirrors {
		was, is := &b.Members.mirrors[i], &b.Members.Solved.Parts[i]
		add := func(label, key string, k quantity.Kind, mirror, made float64) {
			out = append(out, MatchRow{is.Name + ", " + label, "match." + b.Name + "." + finding.Slug(is.Name) + "." + key, k, mirror, made, made - mirror})
		}
		add("overall", "overall", quantity.Length, was.Cut.Overall, is.Cut.Overall)
		for _, side := range []geombracket.Side{geombracket.Top, geombracket.Bottom, geombracket.Left, geombracket.Right} {
			if is.Cut.HasSide(side) {
				of := mirrorSide(is.Shape.Kind, side)
				add(side.String()+" side", side.String(), quantity.Length, was.Cut.Sides[of], is.Cut.Sides[side])
			}
		}
		add("first cut from square", "first", quantity.Angle, was.Cut.Pad.Angle.Rad(), is.Cut.Pad.Angle.Rad())
		add("second cut from square", "second", quantity.Angle, was.Cut.Rail.Angle.Rad(), is.Cut.Rail.Angle.Rad())
	}
	return out
}
