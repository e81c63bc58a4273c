package bracket

import (
	"fmt"
	"math"
	"strings"

	"fitup/internal/geom"
	"fitup/internal/geom/assembly"
	geombracket "fitup/internal/geom/bracket"
	"fitup/internal/project"

	"gonum.org/v1/gonum/spatial/r3"
)

// planned is a mount of several members before it is cut.
type planned struct {
	site    assembly.Site
	members []assembly.Member
	perch   string
	side    project.Side
}

// plan gives the members their places.
func (r *Result) plan(b *Bracket) (planned, error) {
	s, k := b.Spec, b.ready.kind
	p := planned{perch: k.spec.Perch}
	err := b.thickPlates("mount." + b.ready.made + ".bracket")
	if err != nil {
		return p, err
	}
	if p.site.Pad.Point, err = r.legPad(b, s.Standing.Or(0)); err != nil {
		return p, err
	}
	p.site.Pad.Normal = r3.Vec{Z: 1}
	switch {
	case s.PadNormal.Known:
		p.site.Pad.Normal = s.PadNormal.At
	case s.PadFacing != "":
		p.site.Pad.Normal, _ = s.PadFacing.Vector()
	}
	p.site.PadPlate = s.PadPlate.Thickness.Or(0) + s.PadPlate.Gap.Or(0)
	p.site.RailPlate = s.RailPlate.Thickness.Or(0) + s.RailPlate.Gap.Or(0)
	if k.spec.Kind.Crosses() {
		err = r.crossmember(b, &p)
		return p, err
	}
	if p.side, err = r.railSide(b, p.site.Pad.Point); err != nil && !r.ownFace(b) {
		return p, err
	}
	if err := r.kindMembers(b, &p); err != nil {
		return p, err
	}
	for i := range k.members {
		m, err := r.member(b, &p, i)
		if err != nil {
			return p, err
		}
		p.members = append(p.members, m)
	}
	for i := range p.members {
		if k.mirrored {
			if p.members[i], err = turnedOver(p.members[i]); err != nil {
				return p, err
			}
		}
	}
	return p, nil
}

// footOf is a place on the rail: the given one, or that straight across from another.
func (r *Result) footOf(b *Bracket, side project.Side, given project.Point, across r3.Vec) (geombracket.Face, r3.Vec, error) {
	station := across.X
	if given.Known {
		station = given.At.X
	}
	face, edge, err := r.railFace(b, side, station)
	if err != nil {
		return face, edge, err
	}
	if !given.Known {
		foot, err := r.railFoot(b, side, face, edge, across)
		return face, foot, err
	}
	off, err := face.Off(given.At)
	if err != nil {
		return face, edge, err
	}
	if math.Abs(off) > footOff && !b.ready.kind.mirrored {
		return face, edge, fmt.Errorf("bracket %s: a foot stands %.1f mm off the face of the %s rail; check it and rails.%s.points", b.Label, math.Abs(off), side, side)
	}
	n := r3.Unit(face.Normal)
	if math.Abs(n.Y) < 0.05 { // the face does not stand across the way
		return face, r3.Sub(given.At, r3.Scale(off, n)), nil
	}
	return face, r3.Sub(given.At, r3.Scale(off/n.Y, r3.Vec{Y: 1})), nil // across the vehicle, onto the face
}

// kindMembers begins the members of the mount's kind.
func (r *Result) kindMembers(b *Bracket, p *planned) error {
	k := b.ready.kind
	s := &k.spec
	if s.Kind == "" {
		return nil
	}
	if k.armWhy != nil {
		return k.armWhy
	}
	if key := unanswered(s); key != "" {
		return lacking("mount." + b.ready.made + ".bracket." + key)
	}
	if err := r.siteOf(b, p); err != nil {
		return err
	}
	way := r3.Vec{Y: -sideSign(p.side)}
	if r.ownFace(b) {
		way = p.site.Rail.Normal
	}
	var err error
	var one assembly.Member
	switch s.Kind {
	case project.LevelArm:
		if one, err = assembly.LevelArm(p.site, k.arm, s.Past.V(), way); err == nil {
			p.members = []assembly.Member{one}
		}
	case project.TwinEars:
		p.members, err = assembly.TwinEars(p.site, k.arm, s.Gap.V(), s.Past.V(), way)
	case project.InclinedLeg:
		p.members = []assembly.Member{assembly.InclinedLeg(p.site, k.arm)}
	case project.TwoLegsInA:
		p.members, err = assembly.TwoLegs(p.site, k.arm, s.Apart.V(), s.Spread.V())
	case project.BracedArm:
		if k.braceWhy != nil {
			return k.braceWhy
		}
		p.members, err = assembly.BracedArm(p.site, k.arm, k.brace, s.Past.V(), s.BraceDrop.V(), s.BraceAlong.V(), way)
	}
	if err != nil {
		return fmt.Errorf("bracket %s: %w", b.Label, err)
	}
	return r.oneRail(b, p)
}

// unanswered is the key of a question of a kind that stands on one rail which the file
// does not answer, "" for none. That of a section is asked elsewhere.
func unanswered(s *project.MountBracket) string {
	asks := map[project.BracketKind][]struct {
		key   string
		given bool
	}{
		project.LevelArm:   {{"past", s.Past.Known()}, {"pad_plate.thickness", s.PadPlate.Thickness.V() > 0}},
		project.TwinEars:   {{"past", s.Past.Known()}, {"gap", s.Gap.Known()}},
		project.TwoLegsInA: {{"apart", s.Apart.Known()}, {"spread", s.Spread.Known()}},
		project.BracedArm: {{"past", s.Past.Known()}, {"pad_plate.thickness", s.PadPlate.Thickness.V() > 0}, {"brace", s.Brace != ""},
			{"brace_drop", s.BraceDrop.Known()}, {"brace_along", s.BraceAlong.Known()}},
	}
	for _, q := range asks[s.Kind] {
		if !q.given {
			return q.key
		}
	}
	return ""
}

// siteOf is the rail's face that the kind stands on, and the foot on it where it is asked.
func (r *Result) siteOf(b *Bracket, p *planned) (err error) {
	s := &b.ready.kind.spec
	if s.Kind == project.InclinedLeg || s.Kind == project.TwoLegsInA {
		p.site.Rail, p.site.Foot, err = r.footOf(b, p.side, s.Foot, p.site.Pad.Point)
		return err
	}
	p.site.Rail, _, err = r.railFace(b, p.side, p.site.Pad.Point.X)
	if p.perch == "" && s.Kind != project.TwinEars {
		p.perch = assembly.Arm
	}
	return err
}

// oneRail refuses a kind whose feet stand on stretches of the rail that look
// different ways.
func (r *Result) oneRail(b *Bracket, p *planned) error {
	for i := range p.members {
		for _, e := range p.members[i].Ends {
			if e.Kind != assembly.Rail {
				continue
			}
			face, _, err := r.railFace(b, p.side, e.At.X)
			if err != nil {
				return err
			}
			off, err := face.Off(e.At)
			if err != nil {
				return err
			}
			if math.Abs(off) > 0.5 || geom.Between(face.Normal, p.site.Rail.Normal) > 0.02*geom.Deg {
				return fmt.Errorf("bracket %s: the %s rail bends between where the pad is and the foot of its %s; give its members one by one as [[mount.%s.member]]",
					b.Label, p.side, p.members[i].Name, b.ready.made)
			}
		}
	}
	return nil
}

// sideOf is the rail that a member of the file's own stands on: the mount's, or beside a
// crossmember that on the side of its foot, or of its other end where that is not given.
func (p *planned) sideOf(b *Bracket, given project.Point, other r3.Vec, path string) (project.Side, error) {
	if !b.Crosses() {
		return p.side, nil
	}
	at := other
	if given.Known {
		at = given.At
	}
	switch {
	case at.Y < -near:
		return project.LeftSide, nil
	case at.Y > near:
		return project.RightSide, nil
	}
	return "", lacking(path + " (on the left or on the right rail)")
}

// member is one of the file's own members.
func (r *Result) member(b *Bracket, p *planned, i int) (assembly.Member, error) { //nolint:gocyclo // a case for each thing an end may stand on
	k := b.ready.kind
	s := k.members[i]
	path := fmt.Sprintf("mount.%s.member[%d].", b.ready.made, i)
	m := assembly.Member{Name: s.Name, Shape: k.shapes[i], Roll: geom.Angle(s.Roll.Or(0))}
	if k.mirrored {
		m.Roll = -m.Roll
	}
	if k.whys[i] != nil {
		return m, k.whys[i]
	}
	if s.Up.Known {
		m.Up = s.Up.At
	}
	if len(s.Ends) != 2 {
		return m, lacking(path + "ends")
	}
	keys, along, alongKeys := [2]string{"from", "to"}, [2]*float64{}, [2]string{"from_along", "to_along"}
	given := [2]project.Point{s.From, s.To}
	for e, q := range [2]interface{ Get() (float64, bool) }{&s.FromAlong, &s.ToAlong} {
		if v, ok := q.Get(); ok {
			along[e] = &v
		}
	}
	for e, word := range s.Ends { // those that have a place of their own first
		end := &m.Ends[e]
		end.Ball = len(s.Held) == 2 && s.Held[e] == project.EndBall
		on, isMember := strings.CutPrefix(word, project.OnMember)
		switch {
		case isMember && along[e] == nil:
			return m, lacking(path + alongKeys[e])
		case isMember:
			end.Kind, end.Host, end.Along = assembly.OnMember, on, *along[e]
		case word == project.EndPad:
			end.Kind, end.Plate, end.At = assembly.Pad, p.site.PadPlate, p.site.Pad.Point
			end.Face = geombracket.Face{Point: p.site.Pad.Point, Normal: r3.Scale(-1, p.site.Pad.Normal)}
			if given[e].Known {
				off, err := end.Face.Off(given[e].At)
				if err != nil {
					return m, err
				}
				if math.Abs(off) > footOff && !k.mirrored {
					return m, fmt.Errorf("bracket %s: the member %s is to meet the pad %.1f mm off its face; check its %s", b.Label, s.Name, math.Abs(off), keys[e])
				}
				end.At = r3.Sub(given[e].At, r3.Scale(off, r3.Unit(end.Face.Normal)))
			}
		case word == project.EndSquare:
			if !given[e].Known {
				return m, lacking(path + keys[e])
			}
			end.At = given[e].At
		}
	}
	for e, word := range s.Ends {
		if word != project.EndRail {
			continue
		}
		end, other := &m.Ends[e], &m.Ends[1-e]
		if !given[e].Known && (other.Kind == assembly.OnMember || s.Ends[1-e] == project.EndRail) {
			return m, lacking(path + keys[e])
		}
		end.Kind, end.Plate = assembly.Rail, p.site.RailPlate
		side, err := p.sideOf(b, given[e], other.At, path+keys[e])
		if err != nil {
			return m, err
		}
		if b.Crosses() {
			end.On = string(side) + " rail"
		}
		if end.Face, end.At, err = r.footOf(b, side, given[e], other.At); err != nil {
			return m, err
		}
	}
	return m, nil
}
