package project

import (
	"fmt"
	"slices"
	"strings"

	"fitup/internal/project/quantity"
	"fitup/internal/project/tomltext"

	"gonum.org/v1/gonum/spatial/r3"
)

// checkMembers finds mounts of several members that contradict themselves.
func (b *binder) checkMembers(build *Build, root *tomltext.Node) {
	for i := range build.Mounts {
		m := &build.Mounts[i]
		if !m.Assembled() {
			continue
		}
		path := "mount." + m.Name + ".bracket"
		who := "the bracket of the " + strings.ReplaceAll(m.Name, "_", " ") + " mount"
		fault := func(key, format string, args ...any) {
			b.fault(at(root, path+"."+key), path+"."+key, "%s "+format, append([]any{who}, args...)...)
		}
		if m.Leg.Begun() {
			p := "mount." + m.Name + ".leg"
			b.fault(at(root, p), p, "the %s mount has both a leg and a bracket of members; give one of the two", strings.ReplaceAll(m.Name, "_", " "))
		}
		s := &m.Bracket
		if s.PadFacing != "" && s.PadNormal.Known {
			fault("pad_normal", "has both pad_facing and pad_normal; give one of the two")
		}
		s.ofKind(len(m.Members) > 0, fault)
		s.ofPlate(len(m.Members) > 0, fault)
		s.noZeros(fault)
		s.checkGusset(m.Members, fault)
		b.checkBracketMatch(build, m, fault)
		b.checkEachMember(m, entriesOf(root, "mount."+m.Name+".member"))
	}
}

func entriesOf(root *tomltext.Node, path string) *tomltext.Node {
	n := root
	for _, key := range strings.Split(path, ".") {
		if n = n.Child(key); n == nil {
			return &tomltext.Node{}
		}
	}
	return n
}

// ofKind refuses answers to questions that the kind does not ask; own says that there
// are members beside it, which may stand on the rail too.
func (s *MountBracket) ofKind(own bool, fault func(key, format string, args ...any)) {
	if s.Kind == "" && s.Match != "" {
		return // the other side says what it is
	}
	kind := fmt.Sprintf("is of the kind %q", string(s.Kind))
	if s.Kind == "" {
		kind = "is of its own members"
	}
	for _, q := range s.asked(own) {
		if q.given && !slices.Contains(q.asks, s.Kind) {
			words := make([]string, len(q.asks))
			for i, k := range q.asks {
				words[i] = string(k)
			}
			fault(q.key, "%s and has no %s, which is asked of: %s", kind, q.key, strings.Join(words, ", "))
		}
	}
	s.footed(fault)
	if s.Kind.Crosses() {
		s.across(fault)
	}
	if s.Kind == TwinEars && (s.PadPlate != MountPlate{} || s.Perch != "") {
		fault("pad_plate", "%s, whose bolt carries the isolator; leave pad_plate and perch out", kind)
	}
	if s.Perch != "" && (s.Kind == InclinedLeg || s.Kind == TwoLegsInA) {
		fault("perch", "%s, whose plate stands on the ends of its legs; leave perch out", kind)
	}
}

// question is a key of a mount of several members, whether it is answered, and the
// kinds that ask it.
type question struct {
	key   string
	given bool
	asks  []BracketKind
}

// asked are the questions that not every kind asks.
func (s *MountBracket) asked(own bool) []question {
	boxed := []BracketKind{BoxedPlate}
	return []question{
		{"section", s.Section != "", []BracketKind{LevelArm, InclinedLeg, TwoLegsInA, BracedArm, TwinEars, StraightCrossmember, DroppedCrossmember}},
		{"brace", s.Brace != "", []BracketKind{BracedArm}}, {"brace_drop", s.BraceDrop.Known(), []BracketKind{BracedArm}},
		{"brace_along", s.BraceAlong.Known(), []BracketKind{BracedArm}},
		{"past", s.Past.Known(), []BracketKind{LevelArm, BracedArm, TwinEars, StraightCrossmember, DroppedCrossmember, FoldedAngle, FoldedZ, FoldedU, BoltedTab, BoxedPlate, ClampTab}},
		{"gap", s.Gap.Known(), []BracketKind{TwinEars}},
		{"sleeve", s.Sleeve.Begun(), []BracketKind{StraightCrossmember}},
		{"pin", s.Pin != MountPin{}, []BracketKind{TwinEars, StraightCrossmember, DroppedCrossmember}},
		{"ears", s.Ears.Begun(), []BracketKind{StraightCrossmember, DroppedCrossmember}},
		{"socket", s.Socket.Begun(), []BracketKind{StraightCrossmember, DroppedCrossmember}},
		{"onto", s.Onto != "", []BracketKind{StraightCrossmember, DroppedCrossmember, FoldedAngle, FoldedZ, FoldedU, BoltedTab}},
		{"foot_in", s.FootIn.Known(), []BracketKind{StraightCrossmember, DroppedCrossmember, FoldedZ, FoldedU, BoltedTab}},
		{"fixed", s.Fixed != "", []BracketKind{StraightCrossmember, DroppedCrossmember}},
		{"between", s.Between.Known(), []BracketKind{DroppedCrossmember}},
		{"foot", s.Foot.Known && !own && !s.OwnFoot(), []BracketKind{InclinedLeg, TwoLegsInA, FoldedZ, FoldedU, BoltedTab}},
		{"foot_facing", s.FootFacing != "", []BracketKind{LevelArm, InclinedLeg, TwoLegsInA, BracedArm, TwinEars, FoldedAngle, FoldedZ, FoldedU, BoltedTab, BoxedPlate}},
		{"foot_normal", s.FootNormal.Known, []BracketKind{LevelArm, InclinedLeg, TwoLegsInA, BracedArm, TwinEars, FoldedAngle, FoldedZ, FoldedU, BoltedTab, BoxedPlate}},
		{"left_foot", s.LeftFoot.Known, []BracketKind{StraightCrossmember, DroppedCrossmember}},
		{"right_foot", s.RightFoot.Known, []BracketKind{StraightCrossmember, DroppedCrossmember}},
		{"foot_drop", s.FootDrop.Known() && !own, []BracketKind{InclinedLeg, TwoLegsInA, DroppedCrossmember, FoldedZ, FoldedU, BoltedTab}},
		{"plate", s.Plate != MountSheet{}, plateKinds}, {"clamp", s.Clamp.Begun(), []BracketKind{ClampTab}},
		{"apart", s.Apart.Known(), []BracketKind{TwoLegsInA}}, {"spread", s.Spread.Known(), []BracketKind{TwoLegsInA}},
		{"plate.radius", s.Plate.Radius.Known(), foldedKinds}, {"plate.k", s.Plate.K.Known(), foldedKinds},
		{"plate.foot_bend", s.Plate.FootBend.Known(), foldedKinds}, {"plate.foot_toward", s.Plate.FootToward != "", foldedKinds},
		{"plate.foot_end", s.Plate.FootEnd.Known(), stripKinds}, {"plate.pad_bend", s.Plate.PadBend.Known(), []BracketKind{FoldedZ, FoldedU}},
		{"plate.side_thickness", s.Plate.SideThickness.Known(), boxed}, {"plate.foot_depth", s.Plate.FootDepth.Known(), boxed},
		{"plate.end_depth", s.Plate.EndDepth.Known(), boxed}, {"plate.inset", s.Plate.Inset.Known(), boxed}, {"plate.seam", s.Plate.Seam.Known(), boxed},
	}
}

// footed refuses what does not go with a foot of its own.
func (s *MountBracket) footed(fault func(key, format string, args ...any)) {
	switch {
	case s.FootFacing != "" && s.FootNormal.Known:
		fault("foot_normal", "has both foot_facing and foot_normal; give one of the two")
	case s.FootNormal.Known && r3.Norm(s.FootNormal.At) < 1e-6:
		fault("foot_normal", "has a foot_normal without a direction; want three numbers that are not all 0")
	case (s.FootFacing != "" || s.FootNormal.Known) && !s.Foot.Known:
		fault("foot", "says which way the face at its foot looks and not where its foot is; want foot = a place on that face")
	case s.OwnFoot() && s.FootDrop.Known():
		fault("foot_drop", "stands by its own foot, and foot_drop counts from a rail's edge; leave it out")
	}
}

// across refuses what does not go with a crossmember.
func (s *MountBracket) across(fault func(key, format string, args ...any)) {
	inside := s.Onto == "" || s.Onto == OnInside
	switch {
	case s.Rail != "":
		fault("rail", "is a crossmember, which stands on both rails; leave rail out")
	case s.LeftFoot.Known != s.RightFoot.Known:
		fault("left_foot", "has one foot of its own; want left_foot and right_foot, or neither where it stands on the rails")
	case s.LeftFoot.Known && (s.FootIn.Known() || s.FootDrop.Known()):
		fault("left_foot", "has feet of its own, and foot_in or foot_drop, which count from a rail's edge; leave those out")
	case s.FootIn.Known() && inside:
		fault("foot_in", "stands on the inside of its rails, and foot_in counts on their top or underside; leave it out, or give onto")
	case s.FootDrop.Known() && !inside:
		fault("foot_drop", "stands on the %s of its rails, and foot_drop counts on their inside; leave it out", string(s.Onto))
	}
	s.sleeved(inside, fault)
	s.held(inside, fault)
}

// sleeved refuses what does not go with sleeves and with what runs past the feet of a
// crossmember.
func (s *MountBracket) sleeved(inside bool, fault func(key, format string, args ...any)) {
	switch {
	case s.Sleeve.Begun() && inside:
		fault("sleeve", "ends at the inside of its rails, and sleeves take bolts through a rail's flange; leave sleeve out, or give onto")
	case s.Sleeve.Begun() && s.RailPlate != MountPlate{}:
		fault("rail_plate", "has sleeves, which stand on the rail's flange by themselves; leave rail_plate or sleeve out")
	case s.Sleeve.Begun() && s.Fixed == FixedHeld:
		fault("fixed", "has sleeves with one bolt at each foot, which hold against no turn; want fixed = \"pinned\" or \"one slides\"")
	case s.Past.Known() && inside && !s.Held():
		fault("past", "ends at the inside of its rails and does not run past its feet; leave past out, or give onto, ears or socket")
	case s.Past.Known() && s.Kind == DroppedCrossmember && !s.Held():
		fault("past", "ends at its rails with its legs and does not run past its feet; leave past out, or give ears or socket")
	}
}

// held refuses what does not go with ears and sockets at the ends of a crossmember.
func (s *MountBracket) held(inside bool, fault func(key, format string, args ...any)) {
	lies := s.Kind == StraightCrossmember && !inside
	switch {
	case s.Ears.Begun() && s.Socket.Begun():
		fault("socket", "has both ears and sockets at its ends; give one of the two")
	case s.Held() && s.Sleeve.Begun():
		fault("sleeve", "has sleeves beside ears or sockets; give one of them")
	case s.Pin != MountPin{} && !s.Held():
		fault("pin", "has a pin and nothing that it goes through; give ears or socket, or leave pin out")
	case s.Ears.Begun() && s.Bolts.Begun() && s.RailPlate == MountPlate{}:
		fault("bolts", "has ears, and bolts with nothing that they hold to the rail; give the rail_plate that its ears stand on, or leave bolts out")
	case s.Ears.Begun() && s.Fixed == FixedHeld:
		fault("fixed", "has ears with one bolt at each end, which do not hold it against turning about that; want fixed = \"pinned\" or \"one slides\"")
	case s.Ears.Out.Known() && lies:
		fault("ears.out", "runs along the %s of its rails, and how far its bolts are from those follows from where it is; leave out out", string(s.Onto))
	case s.Socket.Begun() && lies:
		fault("socket", "runs along the %s of its rails and slides into no socket there; want ears or sleeve, or leave onto out", string(s.Onto))
	}
}

// noZeros refuses sizes of nothing.
func (s *MountBracket) noZeros(fault func(key, format string, args ...any)) {
	for _, q := range []struct {
		key string
		q   quantity.Gettable
	}{
		{"apart", &s.Apart}, {"spread", &s.Spread}, {"brace_drop", &s.BraceDrop}, {"brace_along", &s.BraceAlong}, {"between", &s.Between}, {"gap", &s.Gap}, {"pin.hole", &s.Pin.Hole}, {"sleeve.diameter", &s.Sleeve.Diameter}, {"sleeve.wall", &s.Sleeve.Wall},
		{"ears.out", &s.Ears.Out}, {"ears.past", &s.Ears.Past}, {"socket.out", &s.Socket.Out}, {"socket.length", &s.Socket.Length},
		{"yield", &s.Yield}, {"tensile", &s.Tensile}, {"weld.size", &s.Weld.Size}, {"weld.tensile", &s.Weld.Tensile},
		{"bolts.torque_k", &s.Bolts.TorqueK}, {"bolts.preload", &s.Bolts.Preload},
		{"pad_plate.thickness", &s.PadPlate.Thickness}, {"rail_plate.thickness", &s.RailPlate.Thickness},
		{"pad_plate.across", &s.PadPlate.Across}, {"pad_plate.high", &s.PadPlate.High},
		{"rail_plate.across", &s.RailPlate.Across}, {"rail_plate.high", &s.RailPlate.High},
		{"gusset.thickness", &s.Gusset.Thickness}, {"gusset.along", &s.Gusset.Along}, {"gusset.down", &s.Gusset.Down},
	} {
		if v, ok := q.q.Get(); ok && v == 0 {
			fault(q.key, "has %s = 0; want more", q.key)
		}
	}
}

// checkGusset finds gussets that stand on nothing.
func (s *MountBracket) checkGusset(members []MountMember, fault func(key, format string, args ...any)) {
	g := &s.Gusset
	names := s.Kind.Members()
	for _, m := range members {
		names = append(names, m.Name)
	}
	if s.Match == "" && g.On != "" && !slices.Contains(names, g.On) {
		fault("gusset.on", "has a gusset on %q, which this mount has not; it has %s", Printable(g.On), Printable(strings.Join(names, ", ")))
	}
	if n, ok := g.Count.Get(); ok && n != 1 && n != 2 {
		fault("gusset.count", "has %g gussets side by side; want 1 or 2", n)
	}
	if s.Match != "" && g.Begun() {
		fault("gusset", "takes its gusset from the mount it mirrors; leave it out, or leave match out")
	}
}

// checkBracketMatch finds a bracket that mirrors what cannot be mirrored.
func (b *binder) checkBracketMatch(build *Build, m *Mount, fault func(key, format string, args ...any)) {
	of := m.Bracket.Match
	if of == "" {
		return
	}
	var ready []string
	for i := range build.Mounts {
		if x := &build.Mounts[i]; x.Name != m.Name && x.Assembled() && x.Bracket.Match == "" && !x.Bracket.Kind.Crosses() {
			ready = append(ready, x.Name)
		}
	}
	switch {
	case !slices.Contains(ready, of) && len(ready) == 0:
		fault("match", "mirrors %q, and no other mount of this file has a bracket of its own members", Printable(of))
	case !slices.Contains(ready, of):
		fault("match", "mirrors %q; want a mount with a bracket of its own: %s", Printable(of), strings.Join(ready, ", "))
	case m.Bracket.Kind != "" || len(m.Members) > 0 || m.Bracket.Section != "":
		fault("match", "mirrors %s and has a kind, a section or members too; leave those out, or leave match out", of)
	}
}

// checkEachMember finds members that are nothing.
func (b *binder) checkEachMember(m *Mount, list *tomltext.Node) {
	begun := m.Bracket.Kind.Members()
	names := slices.Clone(begun)
	for _, x := range m.Members {
		names = append(names, x.Name)
	}
	for i := range m.Members {
		x := &m.Members[i]
		path := fmt.Sprintf("mount.%s.member[%d]", m.Name, i)
		pos := entry(list, i)
		fault := func(format string, args ...any) {
			b.fault(pos, path, "the member %q of the %s mount "+format, append([]any{Printable(x.Name), strings.ReplaceAll(m.Name, "_", " ")}, args...)...)
		}
		switch {
		case x.Name == "":
			b.fault(pos, path, "the member has no name; want name = what it is, such as \"brace\"")
			continue
		case slices.Contains(begun, x.Name):
			fault("has the name of one that its kind begins with; call it something else")
		case slices.Index(names, x.Name) < len(begun)+i:
			fault("has the name of another one; each needs its own")
		}
		if len(x.Ends) != 0 && len(x.Ends) != 2 {
			fault("has %d ends; want two, such as ends = [\"pad\", \"rail\"]", len(x.Ends))
		}
		for _, e := range x.Ends {
			on, isMember := strings.CutPrefix(e, OnMember)
			switch {
			case isMember && on == x.Name:
				fault("ends on itself")
			case isMember && !slices.Contains(names, on):
				fault("ends on member.%s, which this mount has not; it has %s", Printable(on), Printable(strings.Join(names, ", ")))
			case !isMember && e != EndPad && e != EndRail && e != EndSquare:
				fault("ends at %q; want pad, rail, square, or member. and a name, such as member.arm", Printable(e))
			}
		}
		if len(x.Held) != 0 && len(x.Held) != 2 {
			fault("has held with %d words; want one for each end, such as held = [\"welded\", \"ball\"]", len(x.Held))
		}
		for _, h := range x.Held {
			if h != EndWelded && h != EndBall {
				fault("is held by %q; want welded or ball", Printable(h))
			}
		}
	}
}
