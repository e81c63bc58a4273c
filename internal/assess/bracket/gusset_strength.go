package bracket

import (
	"fmt"
	"math"

	"fitup/internal/geom"
	"fitup/internal/geom/assembly"
	geombracket "fitup/internal/geom/bracket"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// GussetUse is the gusset that is used most, in its welds or the plate beside them.
type GussetUse struct {
	Use
	ByPlate bool // the plate governs
}

// cornered are the gussets in the corner of one end of a member, with the weld of that end.
type cornered struct {
	joint  joint
	whole  geombracket.ReadyWeld // both together, in the plane of the joint
	plates []gussetPlate
}

// gussetPlate is one of them, ready to be asked under many loads.
type gussetPlate struct {
	sheet *assembly.Sheet
	lines [2][2]r2.Vec          // its two fillets on the rail, from the corner out
	leg   float64               // of those, as far as it counts, mm
	pose  geom.Pose             // the plane of its edge on the member
	along geombracket.ReadyWeld // its two fillets there
}

// gussetUse is what one of them uses under a load.
type gussetUse struct {
	used    float64
	at      string
	byPlate bool
}

// corners are the gussets of a mount by the ends that they stand at.
func (b *Bracket) corners() (out []cornered, err error) {
	a := b.Members
	index := map[[2]int]int{}
	for i := range a.Sheets {
		s := &a.Sheets[i]
		key := [2]int{s.Host, s.End}
		k, ok := index[key]
		if !ok {
			j, welded, err := b.jointAt(s.Host, s.End)
			if err != nil {
				return nil, err
			}
			if !welded {
				return nil, fmt.Errorf("the %s stands at an end that is not welded", s.Name)
			}
			k = len(out)
			index[key] = k
			out = append(out, cornered{joint: j})
		}
		g, err := b.gussetPlate(s, &out[k].joint)
		if err != nil {
			return nil, err
		}
		out[k].plates = append(out[k].plates, g)
	}
	for k := range out {
		c := &out[k]
		group := c.joint.group
		group.Runs = append([][]r2.Vec{}, group.Runs...)
		for _, g := range c.plates {
			for _, l := range g.lines {
				group.Runs = append(group.Runs, l[:])
			}
		}
		if c.whole, err = group.Ready(); err != nil {
			return nil, err
		}
	}
	return out, nil
}

// gussetPlate makes one ready, or says why it is not judged.
func (b *Bracket) gussetPlate(s *assembly.Sheet, j *joint) (g gussetPlate, err error) {
	t := s.Plate.Thickness
	yield, _ := b.Spec.Strengths()
	ratio, limit, err := geombracket.Outstand(s.Name, r2.Norm(s.Rail[1]), r2.Norm(s.Member[1]), s.Corner, t, yield)
	if err != nil {
		return g, err
	}
	if ratio > limit {
		return g, fmt.Errorf("the %s stands out %.1f times its thickness, and its free edge is known to yield before it buckles up to %.1f times (EN 1993-1-1, table 5.2): beyond that it is not judged; make it thicker, or along and down smaller", s.Name, ratio, limit)
	}
	g = gussetPlate{sheet: s, leg: min(b.Spec.Weld.Size.V(), geombracket.FilletMost(t))}
	if w := b.Spec.RailPlate.Thickness.V(); w > 0 {
		g.leg = min(g.leg, geombracket.FilletMost(w))
	}
	// The edge on the member lies in the pose's x and z.
	g.pose = geom.Pose{X: s.Pose.X, Y: r3.Scale(-1, s.Pose.Z), Z: s.Pose.Y, At: s.Pose.At}
	group := geombracket.WeldGroup{Name: b.Label + " " + s.Name, Leg: min(b.Spec.Weld.Size.V(), geombracket.FilletMost(min(t, wallOf(b.Members.Solved.Parts[s.Host].Shape))))}
	for i, z := range [2]float64{-t / 2, t / 2} {
		for k := range 2 {
			q := j.pose.Own(s.Pose.Point(r3.Vec{X: s.Rail[k].X, Y: s.Rail[k].Y, Z: z}))
			g.lines[i][k] = r2.Vec{X: q.X, Y: q.Y}
		}
		group.Runs = append(group.Runs, []r2.Vec{{X: s.Member[0].X, Y: z}, {X: s.Member[1].X, Y: z}})
	}
	g.along, err = group.Ready()
	return g, err
}

// use is what one of the gussets of a corner uses at most.
func (c *cornered) use(x underLoad, force, at r3.Vec, strength geombracket.WeldStrength, yield float64) (most gussetUse, err error) {
	load := c.joint.pulls(x, force, at)
	take := func(used float64, at string, byPlate bool) {
		if used > most.used {
			most = gussetUse{used, at, byPlate}
		}
	}
	for i := range c.plates {
		g := &c.plates[i]
		half := g.sheet.Plate.Thickness / 2 // of the plate goes with each fillet
		// On the rail it carries what its lines of the whole group do.
		var pull, turn r3.Vec
		for _, l := range g.lines {
			ends, err := c.whole.Forces(nil, load, l[:])
			if err != nil {
				return most, err
			}
			for _, f := range ends {
				take(r3.Norm(f)/strength.PerLength(g.leg), g.sheet.Name+", its weld to the rail", false)
				take(math.Sqrt(f.Z*f.Z+3*(f.X*f.X+f.Y*f.Y))/half/yield, g.sheet.Name+", beside its weld to the rail", true)
			}
			f, m, err := c.whole.Carries(load, l[0], l[1])
			if err != nil {
				return most, err
			}
			pull, turn = r3.Add(pull, f), r3.Add(turn, m)
		}
		// And hands that on to the member in its own plane.
		pull, turn = c.joint.pose.Dir(pull), c.joint.pose.Dir(turn)
		z := g.sheet.Pose.Z
		turn = r3.Scale(r3.Dot(z, r3.Add(turn, r3.Cross(r3.Sub(c.joint.pose.At, g.pose.At), pull))), z)
		pull = r3.Sub(pull, r3.Scale(r3.Dot(z, pull), z))
		on := geombracket.Load{Force: g.pose.OwnDir(pull), Moment: g.pose.OwnDir(turn)}
		s, err := g.along.Stress(on, strength)
		if err != nil {
			return most, err
		}
		take(s.Utilisation, g.sheet.Name+", its weld along the member", false)
		beside, err := g.along.Beside(on, half)
		if err != nil {
			return most, err
		}
		take(beside/yield, g.sheet.Name+", beside its weld along the member", true)
	}
	return most, nil
}

// gussetScreen holds the gussets of a mount.
func (b *Bracket) gussetScreen(at r3.Vec) (screen, error) {
	if !b.Spec.Weld.Size.Known() {
		return screen{}, lacking("mount." + b.ready.made + ".bracket.weld.size")
	}
	strength, err := b.ready.weldStrength, b.ready.weldWhy
	if err != nil {
		return screen{}, err
	}
	all, err := b.corners()
	if err != nil {
		return screen{}, err
	}
	yield, _ := b.Spec.Strengths()
	worst := func(force r3.Vec) (most gussetUse, err error) {
		loaded, err := b.Members.under(force, at)
		if err != nil {
			return most, err
		}
		for _, x := range loaded {
			for k := range all {
				got, err := all[k].use(x, force, at, strength, yield)
				if err != nil {
					return most, err
				}
				if got.used > most.used {
					most = got
				}
			}
		}
		return most, nil
	}
	return screen{
		adds: true, even: true, rests: append(b.rests(), gussetRests...),
		used: func(force r3.Vec) (float64, error) {
			most, err := worst(force)
			return most.used, err
		},
		keep: func(force r3.Vec) {
			most, _ := worst(force)
			b.Strength.Gusset.At, b.Strength.Gusset.ByPlate = most.at, most.byPlate
		},
	}, nil
}

// gussetRests are what the figure of gussets rests on.
var gussetRests = []string{
	"gusset and member welded to the rail as one group of lines (Blodgett, Design of Welded Structures, sec. 7.4); the gusset hands its part on to the member in its own plane",
	"gussets welded along both edges on both their sides, with fillets fused over their whole throat",
}
