package bracket

import (
	"math"

	"fitup/internal/geom"
	geombracket "fitup/internal/geom/bracket"
	"fitup/internal/project"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// PlateUse is a plate at an end of the leg, bent between the tube and what
// pulls at it.
type PlateUse struct {
	Use
	Bending geombracket.PlateBending // in that case, where it is bent most
}

// endPlate is the plate at one end as it is bent, or what is missing of it.
func (b *Bracket) endPlate(end string, s project.LegPlate, pose geom.Pose, middle float64) (geombracket.EndPlate, error) {
	path := "mount." + b.made().Name + ".leg." + end + "_plate."
	switch {
	case s.Thickness.V() == 0:
		return geombracket.EndPlate{}, lacking(path + "thickness")
	case s.Width.V() == 0:
		return geombracket.EndPlate{}, lacking(path + "width")
	case s.Height.V() == 0:
		return geombracket.EndPlate{}, lacking(path + "height")
	}
	yield, _ := b.Spec.Strengths()
	w, h := s.Width.V()/2, s.Height.V()
	return geombracket.EndPlate{
		Name: b.Label + " " + end + " plate", Thickness: s.Thickness.V(), Yield: yield,
		Low: r2.Vec{X: -w, Y: -middle}, High: r2.Vec{X: w, Y: h - middle},
		Tube:  geombracket.OnFace(pose, b.Cut.Outline(end == "rail", around/4)),
		Solid: b.Leg.Shape.Kind == geombracket.RoundBar || b.Leg.Shape.Kind == geombracket.FlatBar,
	}, nil
}

// railPlateScreen bends the rail plate between tube and bolts; without bolts it
// is welded down along its edges. Where it is pressed on the rail, the rail backs
// it.
func (b *Bracket) railPlateScreen() screen {
	pose, err := geombracket.FacePose(b.Label+" rail plate", geombracket.Face{Point: b.Cut.Foot, Normal: b.Leg.Rail.Normal}, r3.Vec{})
	if err != nil {
		return cannot(err)
	}
	s, u := b.Spec.RailPlate, &b.Strength.RailPlate
	middle := s.Height.V() / 2
	if b.RailPlate != nil {
		middle = b.RailPlate.Middle
	}
	plate, err := b.endPlate("rail", s, pose, middle)
	if err != nil {
		return cannot(err)
	}
	if !b.bolted() {
		return b.stripScreen(plate)
	}
	bolts, places, err := b.boltPlaces("rail", s, plate)
	if err != nil {
		return cannot(err)
	}
	return func(cases []Case, at r3.Vec) error {
		u.rests = []string{"a rail that backs the plate wherever it is pressed on"}
		for _, c := range cases {
			shares, err := bolts.Share(geombracket.Load{Force: pose.OwnDir(c.Force), At: pose.Own(at)})
			if err != nil {
				return err
			}
			for i, s := range shares {
				u.bend(places[i], max(0, s.Tension), c.Name)
			}
		}
		return nil
	}
}

// boltPlaces are the bolts of a plate, and how it bends at each.
func (b *Bracket) boltPlaces(end string, s project.LegPlate, p geombracket.EndPlate) (geombracket.BoltPattern, []geombracket.PlateBending, error) {
	pattern := geombracket.BoltPattern{Name: p.Name, At: boltsOf(s)}
	if err := b.pitches(end, s); err != nil {
		return pattern, nil, err
	}
	var places []geombracket.PlateBending
	for i, at := range pattern.At {
		others := append(append([]r2.Vec{}, pattern.At[:i]...), pattern.At[i+1:]...)
		got, err := p.Bend(at, 0, others)
		if err != nil {
			return pattern, nil, err
		}
		places = append(places, got)
	}
	return pattern, places, nil
}

// bend takes the pull at a place of the plate if it is the worst so far.
func (u *PlateUse) bend(place geombracket.PlateBending, force float64, in string) {
	if got := place.Under(force); u.take(got.Utilisation, in) {
		u.Bending = got
	}
}

// stripScreen bends a rail plate that is welded down along its edges by the pull
// of the tube's wall.
func (b *Bracket) stripScreen(p geombracket.EndPlate) screen {
	pose, err := geombracket.FacePose(b.Label+" rail plate", geombracket.Face{Point: b.Cut.Rail.At, Normal: b.Leg.Rail.Normal}, r3.Vec{})
	if err != nil {
		return cannot(err)
	}
	runs, bows, err := b.weldRuns(b.Cut.Edge(true, pose))
	if err != nil {
		return cannot(err)
	}
	group, err := geombracket.WeldGroup{Name: b.Label, Leg: 1, Runs: runs, Bows: bows}.Ready()
	if err != nil {
		return cannot(err)
	}
	u := &b.Strength.RailPlate
	return func(cases []Case, at r3.Vec) error {
		u.rests = []string{"a rail plate that is welded down along all its edges"}
		for _, c := range cases {
			s, err := group.Stress(geombracket.Load{Force: pose.OwnDir(c.Force), At: pose.Own(at)}, geombracket.WeldStrength{Throat: 1})
			if err != nil {
				return err
			}
			got, err := p.Strip(s.At, math.Abs(s.Force.Z)) // on its other side it is pulled as much, or pressed
			if err != nil {
				return err
			}
			if u.take(got.Utilisation, c.Name) {
				u.Bending = got
			}
		}
		return nil
	}
}

// padPlateScreen bends the pad plate under the isolator: at its bolts, or in its
// middle where the isolator has one stud. The force stands off the plate by at
// least half of the isolator's height, whichever way that is.
func (b *Bracket) padPlateScreen() screen {
	face := geombracket.Face{Point: b.Leg.Pad.Point, Normal: r3.Scale(-1, b.Leg.Pad.Normal)}
	pose, err := geombracket.FacePose(b.Label+" pad plate", face, r3.Vec{})
	if err != nil {
		return cannot(err)
	}
	s, u := b.Spec.PadPlate, &b.Strength.PadPlate
	plate, err := b.endPlate("pad", s, pose, s.Height.V()/2)
	if err != nil {
		return cannot(err)
	}
	rests := []string{"an isolator bolted to the pad plate as the file has its bolts"}
	bolts, places := geombracket.BoltPattern{}, []geombracket.PlateBending{}
	stud := s.Across.Or(1) <= 1 && s.High.Or(1) <= 1 && s.PitchAcross.V() == 0 && s.PitchHigh.V() == 0
	if stud {
		rests = []string{"an isolator with one stud in the middle of the pad plate"}
		var place geombracket.PlateBending
		place, err = plate.Bend(r2.Vec{}, 0, nil)
		places = append(places, place)
	} else {
		bolts, places, err = b.boltPlaces("pad", s, plate)
	}
	if err != nil {
		return cannot(err)
	}
	off := b.Spec.Standing.Or(0) / 2
	return func(cases []Case, at r3.Vec) error {
		u.rests = rests
		for _, c := range cases {
			for _, side := range []float64{-1, 1} {
				load := geombracket.Load{Force: pose.OwnDir(c.Force), At: pose.Own(at)}
				if math.Abs(load.At.Z) < off {
					load.At.Z = side * off
				}
				if stud {
					u.bend(places[0], studPull(load, b.Leg.Shape.H), c.Name)
					continue
				}
				shares, err := bolts.Share(load) // pulled or pressed: the isolator's foot bears about them
				if err != nil {
					return err
				}
				for i, s := range shares {
					u.bend(places[i], s.Tension, c.Name)
				}
			}
		}
		return nil
	}
}

// studPull is a load on a plate's middle: the force square to it, and its moment
// as a pair of forces half the tube's size either side, N.
func studPull(l geombracket.Load, size float64) float64 {
	m := r3.Cross(l.At, l.Force)
	return math.Abs(l.Force.Z) + 2*math.Hypot(m.X, m.Y)/size
}

// pitches names the pitch that is missing where there is more than one bolt.
func (b *Bracket) pitches(end string, p project.LegPlate) error {
	path := "mount." + b.made().Name + ".leg." + end + "_plate."
	switch {
	case p.Across.Or(2) > 1 && !p.PitchAcross.Known():
		return lacking(path + "pitch_across")
	case p.High.Or(2) > 1 && !p.PitchHigh.Known():
		return lacking(path + "pitch_high")
	}
	return nil
}
