package assembly

import (
	"fitup/internal/geom"
	"fitup/internal/geom/bracket"
	"fitup/internal/geom/section"

	"gonum.org/v1/gonum/spatial/r3"
)

// Site is where a mount stands: its pad and its rail.
type Site struct {
	Pad      bracket.Face // the pad's middle; looks to what stands on it
	PadPlate float64      // plate and weld gap between the pad's face and the members, mm
	Rail     bracket.Face // looks to the mount
	// Foot is where the axis of a leg meets the rail's face, or half way between
	// two; a level arm finds its own height.
	Foot      r3.Vec
	RailPlate float64
}

// These are the names that ready kinds give their members.
const (
	Arm      = "arm"
	Leg      = "leg"
	FrontLeg = "front leg"
	RearLeg  = "rear leg"
	Brace    = "brace"
	Beam     = "beam"
	LeftLeg  = "left leg"
	RightLeg = "right leg"
	FrontEar = "front ear"
	RearEar  = "rear ear"
)

// under is a point beneath the middle of the pad's plate, that far from its face, mm.
func (s *Site) under(d float64) (r3.Vec, error) {
	n, err := geom.Unit(s.Pad.Normal)
	return r3.Sub(s.Pad.Point, r3.Scale(d, n)), err
}

// onRail is where a line through p along d meets the rail's face.
func (s *Site) onRail(part string, p, d r3.Vec) (r3.Vec, error) {
	n, err := geom.Unit(s.Rail.Normal)
	if err != nil {
		return p, geom.PartFault("member", part, "the rail's face does not say which way it looks")
	}
	across := r3.Dot(n, d)
	if across > -0.05*r3.Norm(d) {
		return p, geom.PartFault("member", part, "it does not get to the rail: it would run along the rail's face or away from it")
	}
	return r3.Add(p, r3.Scale(r3.Dot(n, r3.Sub(s.Rail.Point, p))/across, d)), nil
}

// LevelArm is an arm straight from the rail to beneath the pad, square to the
// pad's plate, which lies flat on its top: the perch. It runs past the pad's
// middle by past mm. way is across the vehicle from rail to pad, any length.
func LevelArm(s Site, shape section.Shape, past float64, way r3.Vec) (Member, error) {
	n, err := geom.Unit(s.Pad.Normal)
	if err != nil {
		return Member{}, geom.PartFault("member", Arm, "the pad's face does not say which way it looks")
	}
	d, err := geom.Unit(r3.Sub(way, r3.Scale(r3.Dot(way, n), n)))
	if err != nil {
		return Member{}, geom.PartFault("member", Arm, "the pad looks along the arm; a perch lies flat on it")
	}
	if !(past >= 0) || !geom.LoadOK(past) {
		return Member{}, geom.PartFault("member", Arm, "it cannot end %g mm past the pad's middle", past)
	}
	height := shape.H
	middle, _ := s.under(s.PadPlate + height/2)
	foot, err := s.onRail(Arm, middle, r3.Scale(-1, d))
	if err != nil {
		return Member{}, err
	}
	return Member{Name: Arm, Shape: shape, Up: n, Ends: [2]End{
		{Kind: Rail, At: foot, Face: s.Rail, Plate: s.RailPlate},
		{Kind: Square, At: r3.Add(middle, r3.Scale(past, d))},
	}}, nil
}

// InclinedLeg is one leg from beneath the pad's plate to its foot on the rail.
func InclinedLeg(s Site, shape section.Shape) Member {
	return s.legTo(Leg, shape, s.Pad.Point, s.Foot)
}

// legTo is a leg from a place on the pad's face to one on the rail's.
func (s *Site) legTo(name string, shape section.Shape, top, foot r3.Vec) Member {
	down := bracket.Face{Point: s.Pad.Point, Normal: r3.Scale(-1, s.Pad.Normal)}
	return Member{Name: name, Shape: shape, Ends: [2]End{
		{Kind: Pad, At: top, Face: down, Plate: s.PadPlate},
		{Kind: Rail, At: foot, Face: s.Rail, Plate: s.RailPlate},
	}}
}

// TwoLegs are two legs in an A: their axes meet the pad's face apart mm from
// each other and the rail's spread mm, fore and aft, each half to the front and
// half to the rear.
func TwoLegs(s Site, shape section.Shape, apart, spread float64) ([]Member, error) {
	for _, c := range []struct {
		what string
		v    float64
	}{{"at the pad", apart}, {"at the rail", spread}} {
		if !geom.LengthOK(c.v) {
			return nil, geom.PartFault("member", FrontLeg, "the two legs stand %g mm apart %s; more than 0 is wanted", c.v, c.what)
		}
	}
	in := func(f bracket.Face, what string) (r3.Vec, error) { // rearward in a face
		n, err := geom.Unit(f.Normal)
		if err == nil {
			n, err = geom.Unit(r3.Sub(r3.Vec{X: 1}, r3.Scale(n.X, n)))
		}
		if err != nil {
			return n, geom.PartFault("member", FrontLeg, "the face of %s looks fore and aft; two legs in an A stand one behind the other", what)
		}
		return n, nil
	}
	pad, err := in(s.Pad, "the pad")
	if err != nil {
		return nil, err
	}
	rail, err := in(s.Rail, "the rail")
	if err != nil {
		return nil, err
	}
	var out []Member
	for _, k := range []struct {
		name string
		by   float64
	}{{FrontLeg, -0.5}, {RearLeg, 0.5}} {
		out = append(out, s.legTo(k.name, shape, r3.Add(s.Pad.Point, r3.Scale(k.by*apart, pad)), r3.Add(s.Foot, r3.Scale(k.by*spread, rail))))
	}
	return out, nil
}

// BracedArm is a level arm with a brace under it, from the rail, drop mm square
// below where the arm's axis meets it, to the arm's underside, along mm from the
// arm's cut at the rail.
func BracedArm(s Site, arm, brace section.Shape, past, drop, along float64, way r3.Vec) ([]Member, error) {
	a, err := LevelArm(s, arm, past, way)
	if err != nil {
		return nil, err
	}
	if !geom.LengthOK(drop) || !geom.LengthOK(along) {
		return nil, geom.PartFault("member", Brace, "it stands %g mm below the arm and meets it %g mm along; more than 0 is wanted of both", drop, along)
	}
	n, err := geom.Unit(s.Rail.Normal)
	if err == nil {
		n, err = geom.Unit(r3.Sub(s.Pad.Normal, r3.Scale(r3.Dot(n, s.Pad.Normal), n)))
	}
	if err != nil {
		return nil, geom.PartFault("member", Brace, "the rail looks the way the pad does, so nothing stands below the arm on it")
	}
	b := Member{Name: Brace, Shape: brace, Ends: [2]End{
		{Kind: Rail, At: r3.Sub(a.Ends[0].At, r3.Scale(drop, n)), Face: s.Rail, Plate: s.RailPlate},
		{Kind: OnMember, Host: Arm, Along: along},
	}}
	return []Member{a, b}, nil
}

// TwinEars are two flat plates that stand square on the rail's face, one behind the
// other with gap mm between them, and carry a bolt through both: the pad's middle is
// the middle of the bolt. They run on past it by past mm. way is from rail to pad, any
// length.
func TwinEars(s Site, shape section.Shape, gap, past float64, way r3.Vec) ([]Member, error) {
	if shape.Kind != section.FlatBar {
		return nil, geom.PartFault("member", FrontEar, "a %s is no ear; take a flat bar", shape.Kind)
	}
	d, err := geom.Unit(way)
	if err != nil {
		return nil, geom.PartFault("member", FrontEar, "the rail's face does not say which way it looks")
	}
	x, err := geom.Unit(r3.Sub(r3.Vec{X: 1}, r3.Scale(d.X, d)))
	if err != nil {
		return nil, geom.PartFault("member", FrontEar, "the face looks fore and aft; ears stand one behind the other")
	}
	if !geom.LengthOK(gap) || !geom.LengthOK(past) {
		return nil, geom.PartFault("member", FrontEar, "the ears stand %g mm apart and run %g mm past their bolt; more than 0 is wanted of both", gap, past)
	}
	up := r3.Cross(d, x)
	if up.Z < 0 {
		up = r3.Scale(-1, up)
	}
	out := make([]Member, 2)
	for i, name := range []string{FrontEar, RearEar} {
		at := r3.Add(s.Pad.Point, r3.Scale((float64(i)-0.5)*(gap+shape.B), x))
		foot, err := s.onRail(name, at, r3.Scale(-1, d))
		if err != nil {
			return nil, err
		}
		out[i] = Member{Name: name, Shape: shape, Up: up, Ends: [2]End{
			{Kind: Rail, At: foot, Face: s.Rail, Plate: s.RailPlate},
			{Kind: Pin, At: at, Past: past},
		}}
	}
	return out, nil
}
