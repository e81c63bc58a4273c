package bracket

import (
	"math"

	geombracket "fitup/internal/geom/bracket"

	"gonum.org/v1/gonum/spatial/r3"
)

// boltScreen divides the load among the bolts of the rail plate.
func (b *Bracket) boltScreen(at r3.Vec) (screen, error) {
	p := b.Spec.RailPlate
	bolt, err := b.ready.bolt, b.ready.boltWhy
	if err != nil {
		return screen{}, err
	}
	u := &b.Strength.Bolts
	if u.Tighten, err = bolt.Tighten(); err != nil {
		return screen{}, err
	}
	pose, err := geombracket.FacePose(b.Label+" bolts", geombracket.Face{Point: b.Cut.Foot, Normal: b.Leg.Rail.Normal}, r3.Vec{})
	if err != nil {
		return screen{}, err
	}
	var rests []string
	joint := geombracket.BoltJoint{}
	if w := b.RailPlate; w != nil && len(w.Plate.Holes) > 0 {
		_, joint.Fu = b.Spec.Strengths()
		joint.Plate, joint.Hole = p.Thickness.V(), p.Hole.V()
		joint.End = w.Figures.Edge + joint.Hole/2 // the least of all, both ways: on the safe side
		joint.Side = joint.End
	} else {
		rests = []string{"what the bolts bear on is not looked at: not all sizes of mount." + b.ready.made + "." + b.ready.table + ".rail_plate and its hole are in the file"}
	}
	ready, err := bolt.Ready(joint)
	if err != nil {
		return screen{}, err
	}
	pattern, err := geombracket.BoltPattern{Name: b.Label, At: boltsOf(p)}.Ready()
	if err != nil {
		return screen{}, err
	}
	place, room := pose.Own(at), []geombracket.BoltShare{}
	check := func(force r3.Vec) (worst geombracket.BoltCheck, shear, tension float64, err error) {
		if room, err = pattern.Share(room[:0], geombracket.Load{Force: pose.OwnDir(force), At: place}); err != nil {
			return worst, 0, 0, err
		}
		for i, s := range room {
			v, f := math.Hypot(s.Shear.X, s.Shear.Y), max(0, s.Tension)
			got, err := ready.Check(v, f)
			if err != nil {
				return worst, 0, 0, err
			}
			if i == 0 || got.Governs > worst.Governs {
				worst, shear, tension = got, v, f
			}
		}
		return worst, shear, tension, nil
	}
	return screen{
		adds: true, rests: rests,
		used: func(force r3.Vec) (float64, error) {
			c, _, _, err := check(force)
			return c.Governs, err
		},
		keep: func(force r3.Vec) { u.Check, u.Shear, u.Tension, _ = check(force) },
	}, nil
}

// bolted reports whether the file has bolts that hold the rail plate.
func (b *Bracket) bolted() bool {
	p := b.Spec.RailPlate
	return b.Spec.Bolts.Begun() || p.Hole.V() > 0 || p.PitchAcross.Known() || p.PitchHigh.Known()
}

// theBolt is one of the bolts that hold the rail plate, or what of them is
// missing.
func (l *readyLeg) theBolt() (geombracket.Bolt, error) {
	s, path := l.spec.Bolts, "mount."+l.made+"."+l.table+"."
	switch {
	case s.Thread == "":
		return geombracket.Bolt{}, lacking(path + "bolts.thread")
	case s.Class == "":
		return geombracket.Bolt{}, lacking(path + "bolts.class")
	}
	if err := l.pitches("rail", l.spec.RailPlate); err != nil {
		return geombracket.Bolt{}, err
	}
	t, err := geombracket.ParseThread(l.label+" bolts", s.Thread)
	return geombracket.Bolt{Name: l.label, Thread: t, Class: s.Class, K: s.TorqueK.V(), Share: s.Preload.V()}, err
}
