package bracket

import (
	"fmt"
	"math"

	"fitup/internal/geom"
	geombracket "fitup/internal/geom/bracket"
	"fitup/internal/geom/fold"
	"fitup/internal/project"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// boxUp finds how a boxed plate stands: straight off the face it stands on, its upper
// plate as its pad looks.
func (r *Result) boxUp(b *Bracket, m *PlateMount) error {
	s := &b.ready.kind.spec
	var err error
	if m.Side, err = r.railSide(b, m.Pad.Point); err != nil && !r.ownFace(b) {
		return err
	}
	face, edge, err := r.railFace(b, m.Side, m.Pad.Point.X)
	if err != nil {
		return err
	}
	n, err := geom.Unit(face.Normal)
	if err != nil {
		return fmt.Errorf("bracket %s: the face it stands on does not say which way it looks", b.Label)
	}
	up, err := geom.Unit(m.Pad.Normal)
	if err != nil {
		return fmt.Errorf("bracket %s: its pad does not say which way it looks", b.Label)
	}
	way, err := geom.Unit(r3.Sub(n, r3.Scale(r3.Dot(n, up), up)))
	if err != nil {
		way, _ = geom.Unit(r3.Cross(up, r3.Vec{X: up.Y, Y: up.Z, Z: up.X})) // no way is right, and Make says so
	}
	pose := geom.Pose{X: way, Y: up, Z: r3.Cross(way, up), At: m.Pad.Point}
	at := pose.Own(face.Point)
	box := fold.Box{Name: b.Label, Pose: pose, Foot: r2.Vec{X: at.X, Y: at.Y}, Off: r2.Vec{X: r3.Dot(n, way), Y: r3.Dot(n, up)},
		Width: s.Plate.Width.V(), FootDepth: s.Plate.FootDepth.V(), Depth: s.Plate.EndDepth.Or(s.Plate.FootDepth.V()), Past: s.Past.V(),
		Cover: s.Plate.Thickness.V(), Side: s.Plate.SideThickness.Or(s.Plate.Thickness.V()),
		Inset: s.Plate.Inset.Or(s.Plate.Seam.Or(s.Weld.Size.V())), Holes: b.padHoles()}
	if m.Box, err = box.Make(); err != nil {
		return fmt.Errorf("bracket %s: %w", b.Label, err)
	}
	lines := m.Box.FootLines()
	across := r3.Scale(-1, pose.Z)
	middle := func(run []r3.Vec) r3.Vec { return r3.Scale(0.5, r3.Add(run[0], run[1])) }
	m.Foot = geom.Pose{X: across, Y: r3.Cross(n, across), Z: n, At: r3.Scale(0.5, r3.Add(middle(lines[0]), middle(lines[1])))}
	return r.boxOnRail(b, m, edge)
}

// boxOnRail refuses a box of which an edge lies off the side of its rail.
func (r *Result) boxOnRail(b *Bracket, m *PlateMount, edge r3.Vec) error {
	if b.ready.kind.spec.OwnFoot() {
		return nil
	}
	height := r.ready.rail(m.Side).height
	if !height.Known {
		return lacking(fmt.Sprintf("rails.%s.height", m.Side))
	}
	for _, run := range m.Box.FootLines() {
		for _, q := range run {
			if over := q.Z - edge.Z; over > 0.01 {
				return fmt.Errorf("bracket %s: its upper plate lies %.1f mm above the edge of the %s rail; lower the pad, or give it more standing", b.Label, over, m.Side)
			}
			if under := edge.Z - height.V - q.Z; under > 0.01 {
				return fmt.Errorf("bracket %s: its foot reaches %.1f mm below the %s rail; make plate.foot_depth less, or raise the pad", b.Label, under, m.Side)
			}
		}
	}
	return nil
}

// boxWeld is the weld round the foot of a box: the upper edge, the lower one, and the
// outside of both sides, or some of them.
func (b *Bracket) boxWeld() (geombracket.WeldGroup, error) {
	m := b.Plates
	var runs [][]r2.Vec
	for _, run := range m.Box.FootLines() {
		a, z := m.Foot.Own(run[0]), m.Foot.Own(run[1])
		runs = append(runs, []r2.Vec{{X: a.X, Y: a.Y}, {X: z.X, Y: z.Y}})
	}
	group := geombracket.WeldGroup{Name: b.Label, Leg: min(b.Spec.Weld.Size.V(), geombracket.FilletMost(m.thinnest()))}
	switch b.Spec.Weld.Runs {
	case project.TopAndBottom:
		group.Runs = runs[:2]
	case project.BothSides:
		group.Runs = runs[2:]
	default:
		group.Runs = runs
	}
	return group, nil
}

// seamLeg is the leg of the fillets along the corners of a box, mm, or what is missing.
func (b *Bracket) seamLeg() (float64, error) {
	s := &b.ready.kind.spec
	if !s.Plate.Seam.Known() && !s.Weld.Size.Known() {
		return 0, lacking("mount." + b.ready.made + ".bracket.weld.size")
	}
	return min(s.Plate.Seam.Or(s.Weld.Size.V()), geombracket.FilletMost(b.Plates.thinnest())), nil
}

// seamScreen holds the fillets along the four corners of a box against what the plates
// hand on to each other between foot and pad.
func (b *Bracket) seamScreen(at r3.Vec) (screen, error) {
	leg, err := b.seamLeg()
	if err != nil {
		return screen{}, err
	}
	strength, err := b.ready.weldStrength, b.ready.weldWhy
	if err != nil {
		return screen{}, err
	}
	carries := strength.PerLength(leg)
	flow := func(force r3.Vec) (float64, error) { return b.Plates.Box.Seam(force, at) }
	return screen{
		adds: true, even: true,
		rests: append(b.plateRests(), "four fillets that run from end to end without a gap, each fused over its whole throat; how the pad's bolts bend the upper plate between the sides is not looked at"),
		used: func(force r3.Vec) (float64, error) {
			q, err := flow(force)
			return q / carries, err
		},
		keep: func(force r3.Vec) {
			u := &b.Strength.Seams
			u.Flow, _ = flow(force)
			u.Counted = leg
			u.Least = leg * u.Flow / carries
		},
	}, nil
}

// SeamUse is the fillets along the corners of a boxed plate.
type SeamUse struct {
	Use
	Flow    float64 // what the one that carries most carries along it, N/mm
	Counted float64 // leg of the fillet that counts, mm
	Least   float64 // leg that would use all of its strength, mm
}

// leastLeg is the leg of a fillet that would use all of its strength, mm.
func (u *WeldUse) leastLeg() float64 {
	if !u.Of.Known || u.ByWall || math.IsInf(u.Of.V, 0) {
		return 0
	}
	return u.Counted * u.Of.V
}
