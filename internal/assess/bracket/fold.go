package bracket

import (
	"fmt"
	"math"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	geombracket "fitup/internal/geom/bracket"
	"fitup/internal/geom/fold"
	"fitup/internal/project"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// PlateMount is a mount that is one plate, flat or folded.
type PlateMount struct {
	Fold *fold.Folded
	Kind project.BracketKind
	Pad  geombracket.Face // looks to the isolator
	Side project.Side
	// Foot has the middle of its foot for its origin, on the face it stands on: Z looks off
	// that face, Y along the plate toward its pad, X across.
	Foot geom.Pose
	// Ends are how far the foot lies on its face from its middle, along Y: to its free end,
	// and to where its bend begins, mm.
	Ends [2]float64
	// Packing is wanted between a tab and what its pad carries, mm.
	Packing float64
	Lean    geom.Angle               // of a tab's pad, which lies as the rail does, from what the file says
	Figures geombracket.PlateFigures // of the blank

	padAlong float64 // of its pad's middle on the last flat, from where that begins
	mirrors  *PlateMount
}

// Stands says that it is known how the bracket stands, whatever it is made of.
func (b *Bracket) Stands() bool { return b.HasCut || b.Members != nil || b.Plates != nil }

// ofPlate says that the bracket is of a kind that is plate.
func (b *Bracket) ofPlate() bool { return b.ready.kind != nil && b.ready.kind.spec.Kind.OfPlate() }

// foldUp finds how a mount that is plate stands, and lays it flat.
func (r *Result) foldUp(b, of *Bracket) error {
	key := b.lacksOfPlate()
	if key != "" {
		return lacking("mount." + b.ready.made + ".bracket." + key)
	}
	pad, err := r.padFace(b)
	if err != nil {
		return err
	}
	side, err := r.railSide(b, pad.Point)
	if err != nil && !r.ownFace(b) {
		return err
	}
	p := &profile{bracket: b, spec: &b.ready.kind.spec, pad: pad, most: geom.Angle(r.ready.lean.Value)}
	if err := r.seatOf(b, side, p); err != nil {
		return err
	}
	if err := p.solve(); err != nil {
		return fmt.Errorf("bracket %s: %w", b.Label, err)
	}
	plate := fold.Plate{Name: b.Label, Width: p.spec.Plate.Width.V(), Thickness: p.thick(), Radius: p.spec.Plate.Radius.Or(p.thick()),
		K: p.spec.Plate.K.Or(geombracket.KMedium), Pose: p.pose, Line: p.line, Holes: p.holes()}
	m := &PlateMount{Kind: p.spec.Kind, Pad: p.pad, Side: side, Packing: p.packing, Lean: p.lean}
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
	if err := r.onItsRail(b, m); err != nil {
		return err
	}
	if of != nil {
		m.mirrors = of.Plates
	}
	b.Plates = m
	b.Leg.Pad = geombracket.Face{Point: p.pad.Point, Normal: r3.Scale(-1, p.pad.Normal)}
	b.Mass = finding.Exact(m.Figures.Mass)
	return nil
}

// lacksOfPlate is the key of a question of its kind that the file does not answer; ""
// for none.
func (b *Bracket) lacksOfPlate() string {
	s := &b.ready.kind.spec
	type question struct {
		key   string
		given bool
	}
	asks := []question{{"plate.thickness", s.Plate.Thickness.Known()}, {"plate.width", s.Plate.Width.Known()},
		{"plate.foot_end", s.Plate.FootEnd.Known()}, {"past", s.Past.Known()}}
	if s.Kind != project.BoltedTab {
		asks = append(asks, question{"plate.foot_bend", s.Plate.FootBend.Known()})
	}
	if s.Kind == project.FoldedZ || s.Kind == project.FoldedU {
		asks = append(asks, question{"plate.pad_bend", s.Plate.PadBend.Known()})
	}
	for _, end := range []struct {
		key string
		p   *project.MountPlate
	}{{"rail_plate", &s.RailPlate}, {"pad_plate", &s.PadPlate}} {
		if !end.p.Hole.Known() && (end.key == "pad_plate" || !b.bolted() && s.Kind != project.BoltedTab) {
			continue
		}
		asks = append(asks, question{end.key + ".pitch_across", acrossOf(end.key, end.p) < 2 || end.p.PitchAcross.Known()},
			question{end.key + ".pitch_high", highOf(end.key, end.p) < 2 || end.p.PitchHigh.Known()})
	}
	for _, q := range asks {
		if !q.given {
			return q.key
		}
	}
	return ""
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
		return nil
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

// clearOfRail refuses a plate that runs into the rail it stands on.
func (r *Result) clearOfRail(b *Bracket, m *PlateMount, edge r3.Vec) error {
	rail, out := r.ready.rail(m.Side), sideSign(m.Side)
	w, h := rail.width.V, rail.height.V
	if !rail.width.Known {
		w = math.Inf(1)
	}
	if !rail.height.Known {
		return nil
	}
	for i := range m.Fold.Flats {
		flat := &m.Fold.Flats[i]
		const places = 24
		for k := range places + 1 {
			for _, up := range []float64{-0.5, 0.5} {
				q := m.Fold.At(i, flat.Length()*float64(k)/places, 0, up*m.Fold.Thickness)
				in, down := out*(q.Y-edge.Y), edge.Z-q.Z
				if deep := min(in, w-in, down, h-down); deep > 0.5 {
					return fmt.Errorf("bracket %s: its flat %s runs %.1f mm into the %s rail; move its bend past the rail's edge, or turn its foot the other way with plate.foot_toward",
						b.Label, endOfFlat(m, i), deep, m.Side)
				}
			}
		}
	}
	return nil
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
