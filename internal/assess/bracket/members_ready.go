package bracket

import (
	"fmt"

	"fitup/internal/geom"
	"fitup/internal/geom/assembly"
	geombracket "fitup/internal/geom/bracket"
	"fitup/internal/geom/section"
	"fitup/internal/project"
)

// readyKind is what of a mount of several members does not follow from where the
// powertrain stands.
type readyKind struct {
	spec       project.MountBracket
	members    []project.MountMember
	mirrored   bool // spec and members are those of the other side, mirrored
	arm, brace section.Shape
	end        section.Shape // of ears or sockets
	endWhy     error
	armWhy     error
	braceWhy   error
	shapes     []section.Shape // of the members
	whys       []error
}

// assemble reads the members of a mount; source is the one that it mirrors, if it
// mirrors one.
func (l *readyLeg) assemble(source *readyLeg) {
	k := &readyKind{spec: l.mount.Bracket, members: l.mount.Members}
	l.kind, l.spec = k, l.mount.Bracket.AsLeg()
	if source != nil && source.kind != nil {
		k.spec, k.members, k.mirrored = mirroredBracket(source.kind.spec, l.mount.Bracket), mirroredMembers(source.kind.members), true
		l.spec, l.made = k.spec.AsLeg(), source.name
	}
	shape := func(what, name string) (section.Shape, error) {
		if name == "" {
			return section.Shape{}, lacking("mount." + l.made + "." + what)
		}
		return shapeOf(l.label+" mount", project.Leg{Section: name}, l.units)
	}
	k.arm, k.armWhy = shape("bracket.section", k.spec.Section)
	if k.spec.Kind == project.BracedArm {
		k.brace, k.braceWhy = shape("bracket.brace", k.spec.Brace)
	}
	switch {
	case k.spec.Ears.Begun():
		k.end, k.endWhy = shape("bracket.ears.section", k.spec.Ears.Section)
	case k.spec.Socket.Begun():
		k.end, k.endWhy = shape("bracket.socket.section", k.spec.Socket.Section)
	}
	for i, m := range k.members {
		s, err := shape(fmt.Sprintf("member[%d].section", i), m.Section)
		k.shapes, k.whys = append(k.shapes, s), append(k.whys, err)
	}
}

func mirroredPoint(p project.Point) project.Point {
	p.At.Y = 2*centreline - p.At.Y
	return p
}

// mirroredFacing is the way of the other side.
func mirroredFacing(f project.Facing) project.Facing {
	switch f {
	case "left":
		return "right"
	case "right":
		return "left"
	}
	return f
}

// mirroredBracket is what a bracket takes from the one it mirrors, and its own.
func mirroredBracket(of, own project.MountBracket) project.MountBracket {
	s := of
	s.Match, s.Rail, s.Pad = own.Match, own.Rail, own.Pad
	s.Foot = mirroredPoint(of.Foot)
	if own.Foot.Known {
		s.Foot = own.Foot
	}
	s.PadNormal = mirroredPoint(of.PadNormal)
	s.PadFacing, s.Plate.FootToward = mirroredFacing(of.PadFacing), mirroredFacing(of.Plate.FootToward)
	s.FootNormal = mirroredPoint(of.FootNormal)
	s.Clamp.From, s.Clamp.To = mirroredPoint(of.Clamp.From), mirroredPoint(of.Clamp.To)
	if own.Clamp.From.Known && own.Clamp.To.Known {
		s.Clamp.From, s.Clamp.To = own.Clamp.From, own.Clamp.To
	}
	s.FootFacing = mirroredFacing(of.FootFacing)
	if own.FootFacing != "" || own.FootNormal.Known {
		s.FootFacing, s.FootNormal = own.FootFacing, own.FootNormal
	}
	if own.PadFacing != "" || own.PadNormal.Known {
		s.PadFacing, s.PadNormal = own.PadFacing, own.PadNormal
	}
	if own.Standing.Known() {
		s.Standing = own.Standing
	}
	if own.FootDrop.Known() {
		s.FootDrop = own.FootDrop
	}
	return s
}

func mirroredMembers(of []project.MountMember) []project.MountMember {
	out := make([]project.MountMember, len(of))
	for i, m := range of {
		m.From, m.To, m.Up = mirroredPoint(m.From), mirroredPoint(m.To), mirroredPoint(m.Up)
		out[i] = m
	}
	return out
}

// turnedOver is a member of the mirror image as a piece of stock can be it: a channel opens
// to the other side when it is turned half round, an angle of equal legs when it is
// turned a quarter.
func turnedOver(m assembly.Member) (assembly.Member, error) {
	switch {
	case m.Shape.Kind == section.Channel:
		m.Roll += 180 * geom.Deg
	case m.Shape.Kind == section.Angle && m.Shape.B == m.Shape.H:
		m.Roll -= 90 * geom.Deg
	case m.Shape.Kind == section.Angle:
		return m, fmt.Errorf("member %s: an angle of unequal legs has no mirror image; give the other side its own members", m.Name)
	}
	return m, nil
}

// mirrorSide is the side of a turned member that is the mirror image of a side of the
// one it mirrors.
func mirrorSide(k section.Kind, s geombracket.Side) geombracket.Side {
	switch {
	case k == section.Channel && (s == geombracket.Top || s == geombracket.Bottom):
		return geombracket.Top + geombracket.Bottom - s
	case k == section.Channel:
		return s
	case k == section.Angle && s == geombracket.Left:
		return geombracket.Bottom
	case k == section.Angle && s == geombracket.Bottom:
		return geombracket.Left
	case k != section.Angle && (s == geombracket.Left || s == geombracket.Right):
		return geombracket.Left + geombracket.Right - s
	}
	return s
}
