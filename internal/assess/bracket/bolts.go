package bracket

import (
	"math"

	geombracket "fitup/internal/geom/bracket"

	"gonum.org/v1/gonum/spatial/r3"
)

// useBolts divides the load among the bolts of the rail plate.
func (b *Bracket) useBolts(cases []Case, at r3.Vec) error {
	p := b.Spec.RailPlate
	bolt, err := b.bolt()
	if err != nil {
		return err
	}
	u := &b.Strength.Bolts
	if u.Tighten, err = bolt.Tighten(); err != nil {
		return err
	}
	pose, err := geombracket.FacePose(b.Label+" bolts", geombracket.Face{Point: b.Cut.Foot, Normal: b.Leg.Rail.Normal}, r3.Vec{})
	if err != nil {
		return err
	}
	pattern := geombracket.BoltPattern{Name: b.Label, At: boltsOf(p)}
	joint := geombracket.BoltJoint{}
	if w := b.RailPlate; w != nil && len(w.Plate.Holes) > 0 {
		_, joint.Fu = b.Spec.Strengths()
		joint.Plate, joint.Hole = p.Thickness.V(), p.Hole.V()
		joint.End = w.Figures.Edge + joint.Hole/2 // the least of all, both ways: on the safe side
		joint.Side = joint.End
	}
	for _, c := range cases {
		shares, err := pattern.Share(geombracket.Load{Force: pose.OwnDir(c.Force), At: pose.Own(at)})
		if err != nil {
			return err
		}
		for _, s := range shares {
			joint.Shear, joint.Tension = math.Hypot(s.Shear.X, s.Shear.Y), max(0, s.Tension)
			got, err := bolt.Check(joint)
			if err != nil {
				return err
			}
			if u.take(got.Governs, c.Name) {
				u.Check, u.Shear, u.Tension = got, joint.Shear, joint.Tension
			}
		}
	}
	return nil
}

// bolted reports whether the file has bolts that hold the rail plate.
func (b *Bracket) bolted() bool {
	p := b.Spec.RailPlate
	return b.Spec.Bolts.Begun() || p.Hole.V() > 0 || p.PitchAcross.Known() || p.PitchHigh.Known()
}

func (b *Bracket) bolt() (geombracket.Bolt, error) {
	s, path := b.Spec.Bolts, "mount."+b.made().Name+".leg."
	switch {
	case s.Thread == "":
		return geombracket.Bolt{}, lacking(path + "bolts.thread")
	case s.Class == "":
		return geombracket.Bolt{}, lacking(path + "bolts.class")
	}
	if err := b.pitches("rail", b.Spec.RailPlate); err != nil {
		return geombracket.Bolt{}, err
	}
	t, err := geombracket.ParseThread(b.Label+" bolts", s.Thread)
	return geombracket.Bolt{Name: b.Label, Thread: t, Class: s.Class, K: s.TorqueK.V(), Share: s.Preload.V()}, err
}
