package bracket

import (
	"fmt"

	"fitup/internal/geom"
	geombracket "fitup/internal/geom/bracket"
	"fitup/internal/geom/fold"
	"fitup/internal/project"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// clampOn finds how a tab stands on its clamp.
func (r *Result) clampOn(b *Bracket, m *PlateMount) error {
	s := &b.ready.kind.spec
	clamp := fold.Clamp{Name: b.Label, From: s.Clamp.From.At, To: s.Clamp.To.At, Tube: s.Clamp.Tube.V(), Wall: s.Clamp.Wall.V(), Length: s.Clamp.Length.V(),
		Pad: m.Pad, Most: geom.Angle(r.ready.lean.Value), Width: s.Plate.Width.V(), Thickness: s.Plate.Thickness.V(), Past: s.Past.V(), Holes: b.padHoles()}
	if s.PadFacing == "" && !s.PadNormal.Known { // the tab looks along the tube, to the rear
		clamp.Pad.Normal = r3.Sub(clamp.To, clamp.From)
		if clamp.Pad.Normal.X < 0 {
			clamp.Pad.Normal = r3.Scale(-1, clamp.Pad.Normal)
		}
		if r3.Norm(clamp.Pad.Normal) < 1 {
			clamp.Pad.Normal = r3.Vec{X: 1}
		}
	}
	var err error
	if m.Clip, err = clamp.Make(); err != nil {
		return fmt.Errorf("bracket %s: %w", b.Label, err)
	}
	c := m.Clip
	m.Pad.Normal, m.Lean = c.Pose.Y, c.Lean
	m.Foot = geom.Pose{X: r3.Scale(-1, c.Pose.Z), Y: c.Pose.Y, Z: c.Pose.X, At: c.Pose.At}
	if a, z := r3.Dot(r3.Sub(c.From, c.Pose.At), c.Axis), r3.Dot(r3.Sub(c.To, c.Pose.At), c.Axis); a > -c.Length/2+0.01 || z < c.Length/2-0.01 {
		return fmt.Errorf("bracket %s: its clamp runs off the end of the tube between clamp.from and clamp.to; move the pad along the tube, or give places farther apart", b.Label)
	}
	return nil
}

// clampWeld is the weld between tab and clamp: along both faces of the tab, and round its
// two edges too.
func (b *Bracket) clampWeld() (geombracket.WeldGroup, error) {
	m := b.Plates
	w, h := m.Clip.Width/2, m.Clip.Thickness/2
	mid := m.Clip.Aside // from the axis
	group := geombracket.WeldGroup{Name: b.Label, Leg: min(b.Spec.Weld.Size.V(), geombracket.FilletMost(m.thinnest()))}
	group.Runs = [][]r2.Vec{{{X: -w, Y: mid - h}, {X: w, Y: mid - h}}, {{X: -w, Y: mid + h}, {X: w, Y: mid + h}}}
	switch b.Spec.Weld.Runs {
	case project.TopAndBottom:
		return group, fmt.Errorf("the tab of the %s clamp is welded along both its faces; want runs = \"both sides\", or \"all round\" where it goes round its edges too", b.Label)
	case "", project.AllRound:
		group.Runs = append(group.Runs, []r2.Vec{{X: -w, Y: mid - h}, {X: -w, Y: mid + h}}, []r2.Vec{{X: w, Y: mid - h}, {X: w, Y: mid + h}})
	}
	return group, nil
}

// torqueScatter is what tightening by torque may leave of the preload: a quarter less
// (VDI 2230, tightening factor of a torque wrench, from memory).
const torqueScatter = 0.75

// GripUse is a clamp on its tube.
type GripUse struct {
	Use
	Slip, Holds float64 // N
	Press       float64 // of all bolts together, N
	OnTube      float64 // what each half presses on the tube with, over its length and the tube's width, MPa
}

// theClamp is what its bolts press with, and each of them.
type theClamp struct {
	bolt     geombracket.ReadyBolt
	count    float64
	friction float64
	press    float64 // at least, N
}

func (b *Bracket) theClamp() (c theClamp, err error) {
	bolt, err := b.ready.bolt, b.ready.boltWhy
	if err != nil {
		return c, err
	}
	s := &b.ready.kind.spec.Clamp
	if c.bolt, err = bolt.Ready(geombracket.BoltJoint{}); err != nil {
		return c, err
	}
	b.Strength.Bolts.Tighten = c.bolt.Tightening
	c.count, c.friction = s.Count.Or(4), s.Friction.Or(usualFriction)
	c.press = c.count * c.bolt.Preload * torqueScatter
	return c, nil
}

const (
	// usualFriction is that of bare steel as it is rolled (EN 1090-2, class D, from memory).
	usualFriction = 0.2
	// slipFactor is what friction is divided by (EN 1993-1-8, γM3 = 1.25).
	slipFactor = 1.25
)

// clampNotJudged is said of whatever a clamp on a tube holds.
const clampNotJudged = "the tube itself, its wall under the clamp, the ears of the clamp, how its halves bend and how the tab turns them on the tube are not looked at"

// gripScreen holds the clamp on its tube by friction.
func (b *Bracket) gripScreen(at r3.Vec) (screen, error) {
	c, err := b.theClamp()
	if err != nil {
		return screen{}, err
	}
	clip := b.Plates.Clip
	of := func(force r3.Vec) (used, slip, holds float64) {
		g := clip.Under(force, at)
		holds = fold.Holds(c.press, g.Pull, c.friction) / slipFactor
		if holds <= 0 {
			return mostUsed, g.Slip, 0
		}
		return min(g.Slip/holds, mostUsed), g.Slip, holds
	}
	return screen{
		rests: []string{
			fmt.Sprintf("friction %.2f between clamp and tube, its bolts tightened by torque to a quarter less than their preload, and a gap left between its halves", c.friction), clampNotJudged,
		},
		used: func(force r3.Vec) (float64, error) {
			u, _, _ := of(force)
			return u, nil
		},
		keep: func(force r3.Vec) {
			u := &b.Strength.Grip
			_, u.Slip, u.Holds = of(force)
			u.Press, u.OnTube = c.press, c.press/torqueScatter/(clip.Tube*clip.Length)
		},
	}, nil
}

// mostUsed is what a use is said to be where nothing is left that holds.
const mostUsed = 1000

// clampBoltsScreen pulls at the bolts of a clamp.
func (b *Bracket) clampBoltsScreen(at r3.Vec) (screen, error) {
	c, err := b.theClamp()
	if err != nil {
		return screen{}, err
	}
	check := func(force r3.Vec) (boltLoad, error) {
		g := b.Plates.Clip.Under(force, at)
		pull := 2 * g.Pull / c.count // by those on one side of the tube, on the safe side
		got, err := c.bolt.Check(0, pull)
		return boltLoad{check: got, tension: pull}, err
	}
	return screen{
		rests: []string{"all that pulls at the clamp taken by the bolts on one side of the tube, without prying at their ears", clampNotJudged},
		used: func(force r3.Vec) (float64, error) {
			l, err := check(force)
			return l.check.Governs, err
		},
		keep: func(force r3.Vec) {
			l, _ := check(force)
			u := &b.Strength.Bolts
			u.Check, u.Shear, u.Tension = l.check, l.shear, l.tension
		},
	}, nil
}
