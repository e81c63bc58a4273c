package bracket

import (
	"fmt"
	"math"
	"strings"

	"fitup/internal/assess/finding"
	geombracket "fitup/internal/geom/bracket"
	"fitup/internal/project"

	"gonum.org/v1/gonum/spatial/r3"
)

// planLeg is the leg as the file has it, before it is cut.
func (r *Result) planLeg(b *Bracket) (geombracket.Leg, error) {
	s := b.Spec
	leg := geombracket.Leg{
		Name:      b.Label,
		PadPlate:  s.PadPlate.Thickness.Or(0) + s.PadPlate.Gap.Or(0),
		RailPlate: s.RailPlate.Thickness.Or(0) + s.RailPlate.Gap.Or(0),
		Saw:       &r.ready.saw,
		Shape:     b.ready.shape,
	}
	if b.ready.shapeWhy != nil {
		return leg, b.ready.shapeWhy
	}
	b.Section = leg.Shape.Name
	err := b.thickPlates("mount." + b.Name + "." + b.ready.table)
	if err != nil {
		return leg, err
	}
	if leg.Pad.Point, err = r.legPad(b, s.Standing.Or(0)); err != nil {
		return leg, err
	}
	if s.Up.Known {
		leg.Up = s.Up.At
	}
	side, err := r.railSide(b, leg.Pad.Point)
	own := r.ownFace(b)
	if err != nil && !s.Header.Known() && !own {
		return leg, err
	}
	switch {
	case s.PadNormal.Known:
		leg.Pad.Normal = s.PadNormal.At
	case s.PadFacing != "":
		leg.Pad.Normal, _ = s.PadFacing.Vector()
	case own: // straight to the face it stands on
		leg.Pad.Normal = r3.Scale(-1, s.RailNormal.At)
	case err != nil:
		return leg, err
	default:
		leg.Pad.Normal = r3.Vec{Y: sideSign(side)}
	}
	if s.Header.Known() {
		return leg, nil // cutSaddle finds where it stands
	}
	face, edge, err := r.railFace(b, side, stationOf(s, leg.Pad.Point))
	if err != nil {
		return leg, err
	}
	leg.Rail = face
	if !own {
		b.edge = &edge
	}
	foot := s.Foot.At
	if !s.Foot.Known {
		if foot, err = r.railFoot(b, side, face, edge, leg.Pad.Point); err != nil {
			return leg, err
		}
	} else if err := b.onRail(face, side); err != nil {
		return leg, err
	}
	leg.Axis = r3.Sub(foot, leg.Pad.Point)
	if r3.Norm(leg.Axis) == 0 {
		return leg, fmt.Errorf("leg %s: its pad stands at its foot, so the leg has no length; move one of the two", b.Label)
	}
	return leg, nil
}

// footOff is how far off the rail's face a given foot may be, mm: more than a
// tape is wrong by, less than a wrong sign makes.
const footOff = 5

// onRail refuses a foot that was given but does not lie on the rail as the file
// has it; the leg would only be aimed at it and land elsewhere.
func (b *Bracket) onRail(face geombracket.Face, side project.Side) error {
	if b.Spec.RailNormal.Known || b.Spec.Mark.Known {
		return nil // the face is given by itself
	}
	off, err := face.Off(b.Spec.Foot.At)
	if err != nil {
		return err
	}
	if off > footOff || off < -footOff {
		return fmt.Errorf("leg %s: its foot stands %.1f mm off the face of the %s rail; check foot and rails.%s.points, or say which way that face looks with rail_normal",
			b.Label, math.Abs(off), side, side)
	}
	return nil
}

func stationOf(s project.Leg, pad r3.Vec) float64 {
	switch {
	case s.Foot.Known:
		return s.Foot.At.X
	case s.Mark.Known:
		return s.Mark.At.X
	}
	return pad.X
}

// legPad is the centre of the leg's pad: given, or below the powertrain's.
func (r *Result) legPad(b *Bracket, standing float64) (r3.Vec, error) {
	if b.Spec.Pad.Known {
		return b.Spec.Pad.At, nil
	}
	at, err := r.mountPad(b.ready)
	if err != nil {
		return r3.Vec{}, err
	}
	return r3.Sub(at, r3.Vec{Z: standing}), nil
}

// mountPad is the powertrain's pad of a mount, vehicle axes.
func (r *Result) mountPad(l *readyLeg) (r3.Vec, error) {
	switch {
	case l.mount.NoPlace != "":
		return r3.Vec{}, fmt.Errorf("%w: %s", errMissing, l.mount.NoPlace)
	case !l.pad.Known:
		return r3.Vec{}, lacking(l.mount.PadPath())
	case !r.pose.Known:
		return r3.Vec{}, fmt.Errorf("%w: %s", errMissing, r.pose.Why)
	}
	return r.pose.V.Point(l.pad.At), nil
}

func (r *Result) railSide(b *Bracket, pad r3.Vec) (project.Side, error) {
	switch {
	case b.Spec.Rail != "":
		return b.Spec.Rail, nil
	case strings.HasPrefix(b.Name, "left"):
		return project.LeftSide, nil
	case strings.HasPrefix(b.Name, "right"):
		return project.RightSide, nil
	case pad.Y < -near:
		return project.LeftSide, nil
	case pad.Y > near:
		return project.RightSide, nil
	}
	return "", lacking("mount." + b.Name + "." + b.ready.table + ".rail (left or right)")
}

// near is how close to the centreline, mm, a pad belongs to neither rail.
const near = 50

func sideSign(s project.Side) float64 {
	if s == project.LeftSide {
		return -1
	}
	return 1
}

// stretch is which point of a rail a stretch of it ends at that a station is on: the
// first or the last one off its ends.
func (p *Prepared) stretch(side project.Side, station float64) int {
	pts, i := p.rail(side).edge, 1
	for i < len(pts)-1 && station > pts[i].X {
		i++
	}
	return i
}

// ownFace says that a bracket stands by its own foot and the way the face there looks,
// on no rail: a mount of several members that says so, and a leg where there are no rails.
func (r *Result) ownFace(b *Bracket) bool {
	if k := b.ready.kind; k != nil {
		return k.spec.OwnFoot()
	}
	return b.Spec.Foot.Known && b.Spec.RailNormal.Known && len(r.ready.left.edge) < 2 && len(r.ready.right.edge) < 2
}

// railFace is the inner side of a rail at a station, looking to the
// centreline, and the point of its top edge there.
func (r *Result) railFace(b *Bracket, side project.Side, station float64) (geombracket.Face, r3.Vec, error) {
	pts := r.ready.rail(side).edge
	if r.ownFace(b) {
		return geombracket.Face{Point: b.Spec.Foot.At, Normal: b.Spec.RailNormal.At}, b.Spec.Foot.At, nil
	}
	if len(pts) < 2 {
		return geombracket.Face{}, r3.Vec{}, lacking(fmt.Sprintf("rails.%s.points", side))
	}
	i := r.ready.stretch(side, station)
	p, q := pts[i-1], pts[i]
	if station < pts[0].X || station > q.X {
		return geombracket.Face{}, r3.Vec{}, fmt.Errorf("leg %s: it would stand at station %.0f mm, off the end of the %s rail (%.0f to %.0f mm)",
			b.Label, station, side, pts[0].X, pts[len(pts)-1].X)
	}
	edge := r3.Add(p, r3.Scale((station-p.X)/(q.X-p.X), r3.Sub(q, p)))
	f := geombracket.Face{Point: edge, Normal: r3.Scale(-sideSign(side), r3.Cross(r3.Vec{Z: 1}, r3.Sub(q, p)))}
	if b.Spec.RailNormal.Known {
		f.Normal = b.Spec.RailNormal.At
		if b.Spec.Foot.Known {
			f.Point = b.Spec.Foot.At
		}
	}
	if b.Spec.Mark.Known {
		f.Point = b.Spec.Mark.At
	}
	return f, edge, nil
}

// footDrop is how far a foot lies below the top edge of a rail at its own
// station: what is measured with a square from that very rail.
func (r *Result) footDrop(b *Bracket, side project.Side, foot r3.Vec) finding.Number {
	if b.Spec.Header.Known() {
		return finding.Missing("it stands on a crossmember")
	}
	if r.ownFace(b) {
		return finding.Missing("it stands by its own foot, on no rail")
	}
	_, edge, err := r.railFace(b, side, foot.X)
	if err != nil {
		return finding.Missing(err.Error())
	}
	return finding.Exact(edge.Z - foot.Z)
}

// railFoot is the point of the rail's face straight across from the pad.
func (r *Result) railFoot(b *Bracket, side project.Side, f geombracket.Face, edge, pad r3.Vec) (r3.Vec, error) {
	drop, ok := b.Spec.FootDrop.Get()
	if !ok {
		h := r.ready.rail(side).height
		if !h.Known {
			return r3.Vec{}, lacking(fmt.Sprintf("rails.%s.height", side))
		}
		drop = h.V / 2
	}
	foot := r3.Vec{X: pad.X, Y: edge.Y, Z: edge.Z - drop}
	if math.Abs(f.Normal.Y) < 0.05*r3.Norm(f.Normal) { // the face does not stand across the way
		return r3.Vec{}, lacking("mount." + b.Name + "." + b.ready.table + ".foot")
	}
	foot.Y -= r3.Dot(f.Normal, r3.Sub(foot, f.Point)) / f.Normal.Y
	return foot, nil
}
