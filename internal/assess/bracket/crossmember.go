package bracket

import (
	"fmt"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/geom/assembly"
	geombracket "fitup/internal/geom/bracket"
	"fitup/internal/project"
	"fitup/internal/project/quantity"

	"gonum.org/v1/gonum/spatial/r3"
)

// crossmember begins the members of one that stands on both rails.
func (r *Result) crossmember(b *Bracket, p *planned) error {
	k := b.ready.kind
	s := k.spec
	missing := func(key string) error { return lacking("mount." + b.ready.made + ".bracket." + key) }
	switch {
	case k.armWhy != nil:
		return k.armWhy
	case s.PadPlate.Thickness.V() == 0:
		return missing("pad_plate.thickness")
	case s.Kind == project.DroppedCrossmember && !s.Between.Known():
		return missing("between")
	case s.Kind == project.StraightCrossmember && lies(&s) && !s.Past.Known():
		return missing("past")
	case sleeveMissing(&s.Sleeve) != "":
		return missing(sleeveMissing(&s.Sleeve))
	case heldMissing(&s) != "":
		return missing(heldMissing(&s))
	case k.endWhy != nil:
		return k.endWhy
	case s.Kind == project.StraightCrossmember && lies(&s) && s.RailPlate.Thickness.V() == 0 && !s.Sleeve.Begun() && !s.Held():
		return missing("rail_plate.thickness")
	}
	if p.perch == "" {
		p.perch = assembly.Beam
	}
	span, err := r.spanOf(b, p)
	if err != nil {
		return err
	}
	if s.Kind == project.DroppedCrossmember {
		p.members, err = assembly.DroppedCrossmember(span, k.arm, s.Between.V())
	} else {
		p.members, err = assembly.StraightCrossmember(span, k.arm, s.Past.Or(0))
	}
	if err != nil {
		return fmt.Errorf("bracket %s: %w", b.Label, err)
	}
	for i := range k.members {
		m, err := r.member(b, p, i)
		if err != nil {
			return err
		}
		p.members = append(p.members, m)
	}
	return nil
}

// spanOf is what a crossmember reaches across, and how it ends there.
func (r *Result) spanOf(b *Bracket, p *planned) (assembly.Span, error) {
	k := b.ready.kind
	s := &k.spec
	span := assembly.Span{Pad: p.site.Pad, PadPlate: p.site.PadPlate, RailPlate: p.site.RailPlate, Past: s.Past.V()}
	switch {
	case s.Ears.Begun():
		span.Ears = &assembly.Ears{Shape: k.end, Out: s.Ears.Out.V(), Past: s.Ears.Past.V()}
	case s.Socket.Begun():
		span.Sockets = &assembly.Sockets{Shape: k.end, Out: s.Socket.Out.V(), Length: s.Socket.Length.V()}
	}
	for i, side := range []project.Side{project.LeftSide, project.RightSide} {
		var err error
		if span.Rails[i], err = r.railOf(b, side, p.site.Pad.Point); err != nil {
			return span, err
		}
	}
	return span, nil
}

// railOf is where a crossmember under a pad stands on a rail.
func (r *Result) railOf(b *Bracket, side project.Side, pad r3.Vec) (assembly.RailFoot, error) {
	out := assembly.RailFoot{Name: string(side) + " rail"}
	s, rail := b.ready.kind.spec, r.ready.rail(side)
	if s.LeftFoot.Known { // on no rails
		out.Name, out.Foot = string(side)+" foot", s.LeftFoot.At
		if side == project.RightSide {
			out.Foot = s.RightFoot.At
		}
		out.Face = geombracket.Face{Point: out.Foot, Normal: r3.Vec{Y: -sideSign(side)}}
		switch s.Onto {
		case project.OnTop:
			out.Face.Normal = r3.Vec{Z: 1}
		case project.OnUnderside:
			out.Face.Normal = r3.Vec{Z: -1}
		}
		return out, nil
	}
	face, edge, err := r.railFace(b, side, pad.X)
	if err != nil {
		return out, err
	}
	if s.Onto == "" || s.Onto == project.OnInside {
		out.Face = face
		out.Foot, err = r.railFoot(b, side, face, edge, pad)
		return out, err
	}
	// Its flanges are level across.
	i := r.ready.stretch(side, pad.X)
	along, err := geom.Unit(r3.Sub(rail.edge[i], rail.edge[i-1]))
	if err != nil {
		return out, err
	}
	up := r3.Unit(r3.Sub(r3.Vec{Z: 1}, r3.Scale(along.Z, along)))
	in, ok := s.FootIn.Get()
	if !ok {
		if !rail.width.Known {
			return out, lacking(fmt.Sprintf("rails.%s.width", side))
		}
		in = rail.width.V / 2
	}
	if w := rail.width; w.Known && in > w.V {
		return out, fmt.Errorf("bracket %s: its foot would stand %.1f mm outward of the %s rail's inner edge, and that rail is %.1f mm wide; check foot_in", b.Label, in, side, w.V)
	}
	out.Foot = r3.Add(edge, r3.Vec{Y: sideSign(side) * in})
	if s.Onto == project.OnUnderside {
		if !rail.height.Known {
			return out, lacking(fmt.Sprintf("rails.%s.height", side))
		}
		up = r3.Scale(-1, up)
		out.Foot = r3.Add(out.Foot, r3.Scale(rail.height.V, up))
	}
	out.Face = geombracket.Face{Point: out.Foot, Normal: up}
	return out, nil
}

// fixings are the ways that the feet are fixed which count for a strength: those of a
// mount on one rail are welded or bolted to hold.
func (b *Bracket) fixings() []assembly.Fixing {
	k := b.ready.kind
	switch fixed := k.spec.Fixed; {
	case !k.spec.Kind.Crosses() || fixed == project.FixedHeld:
		return []assembly.Fixing{assembly.Held}
	case fixed == project.FixedPinned:
		return []assembly.Fixing{assembly.Pinned}
	case fixed == project.FixedSlides:
		return []assembly.Fixing{assembly.Sliding, assembly.SlidingFirst}
	}
	if b.sleeved() || k.spec.Ears.Begun() { // one bolt
		return []assembly.Fixing{assembly.Pinned}
	}
	if k.spec.Socket.Begun() && b.slack() > 0 && b.Members.Solved.Slides() {
		return []assembly.Fixing{assembly.Held, assembly.Pinned, assembly.Sliding, assembly.SlidingFirst}
	}
	return []assembly.Fixing{assembly.Held, assembly.Pinned}
}

// FixingUse is a crossmember with its feet fixed in one way.
type FixingUse struct {
	Words  string
	Counts bool // it is judged
	// Stress is the worst in any of its members, MPa, and At where; Sinks the most
	// that its pad goes, mm. Each in the case that is worst for it.
	Stress, Sinks         finding.Number
	At, Case, SinkingCase string
}

// fixingWords are said of each.
var fixingWords = map[assembly.Fixing]string{
	assembly.Held: "feet held", assembly.Pinned: "feet pinned", assembly.Sliding: "one foot slides",
}

// boltedWords are said of one that ears or sockets hold.
var boltedWords = map[assembly.Fixing]string{
	assembly.Held: "ends held", assembly.Pinned: "ends turn on their bolts", assembly.Sliding: "one end slides",
}

func (b *Bracket) fixedWords(f assembly.Fixing) string {
	if b.ready.kind.spec.Held() {
		return boltedWords[f]
	}
	return fixingWords[f]
}

// FixingRows are a crossmember's figures with its feet fixed in each way, for screens
// and sheets.
func (b *Bracket) FixingRows() (rows []Row) {
	id := "bracket." + b.Name + ".fixed."
	for _, u := range b.Strength.Fixings {
		key := id + finding.Slug(u.Words) + "."
		judged := ""
		if !u.Counts {
			judged = "; shown, not judged"
		}
		rows = append(rows,
			Row{u.Words + ", stress", key + "stress", quantity.Stress, u.Stress.V, u.At + ", " + u.Case + judged},
			Row{u.Words + ", pad goes", key + "sinks", quantity.Length, u.Sinks.V, u.SinkingCase + ", on rails that do not give way"})
	}
	return rows
}

// showFixings works out a crossmember with its feet held and pinned, and sliding where
// the file says so: what is bolted lies between the first two.
func (b *Bracket) showFixings(load *MountLoad, at r3.Vec) error {
	k := b.ready.kind
	if !k.spec.Kind.Crosses() || len(load.Cases) == 0 {
		return nil
	}
	ways := [][]assembly.Fixing{{assembly.Held}, {assembly.Pinned}}
	if k.spec.Fixed == project.FixedSlides || len(b.fixings()) > 2 {
		ways = append(ways, []assembly.Fixing{assembly.Sliding, assembly.SlidingFirst})
	}
	counts := map[assembly.Fixing]bool{}
	for _, f := range b.fixings() {
		counts[f] = true
	}
	for _, way := range ways {
		u := FixingUse{Words: b.fixedWords(way[0]), Counts: counts[way[0]]}
		for _, fixed := range way {
			f, err := b.Members.Solved.FrameOn(fixed)
			if err == nil {
				err = b.fixedSo(&u, f, load, at)
			}
			if err != nil {
				return err
			}
		}
		b.Strength.Fixings = append(b.Strength.Fixings, u)
	}
	return nil
}

// fixedSo looks at a crossmember with its feet fixed in one way, and keeps what is worse.
func (b *Bracket) fixedSo(u *FixingUse, f *assembly.Frame, load *MountLoad, at r3.Vec) error {
	for _, c := range load.Cases {
		res, err := f.Under(c.Force, at)
		if err != nil {
			return err
		}
		for i := range b.Members.Solved.Parts {
			s, along, err := f.Stress(res, i)
			if err != nil {
				return err
			}
			if !u.Stress.Known || s.Equivalent > u.Stress.V {
				u.Stress, u.Case = finding.Exact(s.Equivalent), c.Name
				u.At = b.placeAlong(&b.Members.Solved.Parts[i], along)
			}
		}
		if v := r3.Norm(res.Nodes[0].Shift); !u.Sinks.Known || v > u.Sinks.V {
			u.Sinks, u.SinkingCase = finding.Exact(v), c.Name
		}
	}
	return nil
}

// lies says that a straight crossmember lies on its rails, or under them.
func lies(s *project.MountBracket) bool {
	return s.Onto == project.OnTop || s.Onto == project.OnUnderside
}
