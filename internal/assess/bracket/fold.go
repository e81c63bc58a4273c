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

// foldUp finds how a strip of plate stands, folded or flat, and lays it flat.
func (r *Result) foldUp(b *Bracket, m *PlateMount) error {
	var err error
	if m.Side, err = r.railSide(b, m.Pad.Point); err != nil && !r.ownFace(b) {
		return err
	}
	p := &profile{bracket: b, spec: &b.ready.kind.spec, pad: m.Pad, most: geom.Angle(r.ready.lean.Value)}
	if err := r.seatOf(b, m.Side, p); err != nil {
		return err
	}
	if err := p.solve(); err != nil {
		return fmt.Errorf("bracket %s: %w", b.Label, err)
	}
	plate := fold.Plate{Name: b.Label, Width: p.spec.Plate.Width.V(), Thickness: p.thick(), Radius: p.spec.Plate.Radius.Or(p.thick()),
		K: p.spec.Plate.K.Or(geombracket.KMedium), Pose: p.pose, Line: p.line, Holes: p.holes()}
	m.Pad, m.Packing, m.Lean = p.pad, p.packing, p.lean
	if m.Fold, err = plate.Fold(); err != nil {
		return fmt.Errorf("bracket %s: %w", b.Label, err)
	}
	if m.Figures, err = m.Fold.Blank.Figures(); err != nil {
		return fmt.Errorf("bracket %s: %w", b.Label, err)
	}
	first, last := &m.Fold.Flats[0], len(m.Fold.Flats)-1
	end := p.spec.Plate.FootEnd.V()
	m.Foot = geom.Pose{X: p.pose.Z, Y: p.pose.X, Z: p.pose.Y, At: p.pose.Point(r3.Vec{X: p.line[0].X + end})}
	m.Ends = [2]float64{end, first.Length() - end}
	m.padAlong = p.padAlong - r2.Norm(r2.Sub(m.Fold.Flats[last].At, p.line[last]))
	return r.onItsRail(b, m)
}

// A pad has one hole where the file does not say how many, as for an isolator with one
// stud; a foot has a row of two.
func acrossOf(end string, p *project.MountPlate) int {
	if end == "pad_plate" {
		return int(p.Across.Or(1))
	}
	return int(p.Across.Or(2))
}

func highOf(_ string, p *project.MountPlate) int { return int(p.High.Or(1)) }

// gridOf are the holes of an end of a plate, their middle at 0, 0: X across, Y along.
func gridOf(end string, p *project.MountPlate) (out []r2.Vec) {
	for _, h := range geombracket.HoleGrid(acrossOf(end, p), highOf(end, p), p.PitchAcross.V(), p.PitchHigh.V(), 1) {
		out = append(out, h.At)
	}
	return out
}

// seatOf finds the face that a plate's foot lies on, and the middle of its foot where
// that does not follow from its pad.
func (r *Result) seatOf(b *Bracket, side project.Side, p *profile) (err error) {
	s := p.spec
	switch {
	case s.OwnFoot():
		p.face, _, err = r.railFace(b, side, p.pad.Point.X)
		p.foot, p.hasFoot = s.Foot.At, true
	case s.Onto == project.OnTop || s.Onto == project.OnUnderside:
		on, err := r.railOf(b, side, p.pad.Point)
		p.face, p.foot, p.hasFoot = on.Face, on.Foot, true
		return err
	case s.Kind == project.FoldedAngle:
		p.face, _, err = r.railFace(b, side, p.pad.Point.X)
	default:
		p.face, p.foot, err = r.footOf(b, side, s.Foot, p.pad.Point)
		p.hasFoot = true
	}
	return err
}

// onItsRail refuses a foot whose holes or weld lie off the rail, and a plate that runs
// into it.
func (r *Result) onItsRail(b *Bracket, m *PlateMount) error {
	s := &b.ready.kind.spec
	rail := r.ready.rail(m.Side)
	if s.OwnFoot() {
		return b.clearOfOwnFace(m)
	}
	_, edge, err := r.railFace(b, m.Side, m.Foot.At.X)
	if err != nil {
		return err
	}
	var off func(q r3.Vec) float64 // how far a place on the face lies past an edge of the rail, mm
	out, what, size := sideSign(m.Side), "height", rail.height
	if s.Onto == project.OnTop || s.Onto == project.OnUnderside {
		what, size = "width", rail.width
		off = func(q r3.Vec) float64 { in := out * (q.Y - edge.Y); return max(-in, in-size.V) }
	} else {
		off = func(q r3.Vec) float64 { return max(q.Z-edge.Z, edge.Z-size.V-q.Z) }
	}
	if !size.Known {
		return lacking(fmt.Sprintf("rails.%s.%s", m.Side, what))
	}
	places := []r2.Vec{{Y: -m.Ends[0]}, {Y: m.Ends[1]}} // the ends of its weld
	words := "its foot"
	if d := s.RailPlate.Hole.V(); d > 0 {
		places, words = nil, "a hole of its foot"
		for _, q := range gridOf("rail_plate", &s.RailPlate) {
			for _, way := range []float64{-1, 1} {
				places = append(places, r2.Vec{X: q.X, Y: q.Y + way*d/2})
			}
		}
	}
	for _, q := range places {
		if v := off(m.Foot.Point(r3.Vec{X: q.X, Y: q.Y})); v > 0.01 {
			return fmt.Errorf("bracket %s: %s reaches %.1f mm past the edge of the %s rail; move the foot, or turn it the other way with plate.foot_toward", b.Label, words, v, m.Side)
		}
	}
	return r.clearOfRail(b, m, edge)
}

// clearOfRail refuses a plate that runs into the rail it stands on, anywhere across its
// width.
func (r *Result) clearOfRail(b *Bracket, m *PlateMount, edge r3.Vec) error {
	rail, out := r.ready.rail(m.Side), sideSign(m.Side)
	w, h := rail.width.V, rail.height.V
	if !rail.width.Known {
		w = math.Inf(1)
	}
	if !rail.height.Known {
		return nil
	}
	deep := func(q r3.Vec) float64 {
		if _, at, err := r.railFace(b, m.Side, q.X); err == nil {
			edge = at // the rail's own edge there: it may toe in over the plate's width
		}
		in, down := out*(q.Y-edge.Y), edge.Z-q.Z
		return min(in, w-in, down, h-down)
	}
	flat, most := m.runsInto(deep)
	if most <= 0.5 {
		return nil
	}
	return fmt.Errorf("bracket %s: its flat %s runs %.1f mm into the %s rail; move its bend past the rail's edge, or turn its foot the other way with plate.foot_toward",
		b.Label, endOfFlat(m, flat), most, m.Side)
}

// clearOfOwnFace refuses a plate on a foot of its own of which another flat runs through the
// plane of the face it stands on, within the reach of its foot: how far that face reaches
// beyond is not known.
func (b *Bracket) clearOfOwnFace(m *PlateMount) error {
	half := m.Fold.Width / 2
	flat, most := m.runsInto(func(q r3.Vec) float64 {
		o := m.Foot.Own(q)
		return min(-o.Z, half-math.Abs(o.X)+geom.Tiny, o.Y+m.Ends[0], m.Ends[1]-o.Y)
	})
	if most <= 0.5 {
		return nil
	}
	return fmt.Errorf("bracket %s: its flat %s runs %.1f mm through the face that its own foot stands on; turn its foot the other way with plate.foot_toward, or move the pad",
		b.Label, endOfFlat(m, flat), most)
}

// runsInto is how deep a strip runs into something, and with which of its flats: deep is
// how far a place lies in it, looked at along both faces, in the middle of the width and
// at its edges.
func (m *PlateMount) runsInto(deep func(q r3.Vec) float64) (at int, most float64) {
	const places = 24
	for i := range m.Fold.Flats {
		flat := &m.Fold.Flats[i]
		for k := range places + 1 {
			for _, up := range []float64{-0.5, 0.5} {
				for _, across := range []float64{-0.5, 0, 0.5} {
					q := m.Fold.At(i, flat.Length()*float64(k)/places, across*m.Fold.Width, up*m.Fold.Thickness)
					if d := deep(q); d > most {
						at, most = i, d
					}
				}
			}
		}
	}
	return at, most
}

func endOfFlat(m *PlateMount, i int) string {
	switch {
	case i == 0:
		return "at its foot"
	case i == len(m.Fold.Flats)-1:
		return "at its pad"
	}
	return "between its bends"
}
