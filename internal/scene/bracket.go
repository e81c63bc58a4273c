package scene

import (
	"math"

	"fitup/internal/assess"
	"fitup/internal/geom/bracket"

	"gonum.org/v1/gonum/spatial/r3"
)

// bracket draws a leg: both its ends and four lines along the tube.
func (s *Scene) bracket(b *assess.Bracket) {
	if !b.HasCut {
		return
	}
	pad, foot := b.Cut.Outline(false, 3), saddleEdge(b)
	if b.Saddle == nil {
		foot = b.Cut.Outline(true, 3)
	}
	s.Strokes = append(s.Strokes,
		Stroke{Role: RoleLeg, Points: append(pad, pad[0])},
		Stroke{Role: RoleLeg, Points: append(foot, foot[0])})
	u, v := b.Leg.Shape.B/2, b.Leg.Shape.H/2
	corners := [4][2]float64{{u, v}, {u, -v}, {-u, -v}, {-u, v}}
	if b.Leg.Shape.Kind == bracket.RoundTube || b.Leg.Shape.Kind == bracket.RoundBar {
		corners = [4][2]float64{{v, 0}, {0, v}, {-v, 0}, {0, -v}}
	}
	for _, k := range corners {
		from, to := b.Cut.Line(k[0], k[1])
		if b.Saddle != nil {
			to -= saddleAt(b, k[0], k[1])
		}
		s.Strokes = append(s.Strokes, Stroke{Role: RoleLeg, Points: []r3.Vec{onTube(b, from, k), onTube(b, to, k)}})
	}
}

// onTube is a point on the tube's outside, mm along the axis from the pad's cut.
func onTube(b *assess.Bracket, along float64, k [2]float64) r3.Vec {
	side := r3.Add(r3.Scale(k[0], b.Cut.U), r3.Scale(k[1], b.Cut.V))
	return r3.Add(r3.Add(b.Cut.Pad.At, side), r3.Scale(along, b.Cut.Axis))
}

// saddleEdge is the outer edge of the saddle; nil where there is none.
func saddleEdge(b *assess.Bracket) []r3.Vec {
	if b.Saddle == nil {
		return nil
	}
	var out []r3.Vec
	r := b.Saddle.Saddle.Branch / 2
	pts := b.Saddle.Template.Points
	for _, p := range pts[:len(pts)-1] { // the last one is the first again
		s, c := math.Sincos(p.X/r + b.Saddle.Acute.Rad())
		out = append(out, onTube(b, b.Cut.Length-p.Y, [2]float64{r * s, r * c}))
	}
	return out
}

// saddleAt is how far the saddle lies before the crossmember's axis on the
// line of the tube at u, v.
func saddleAt(b *assess.Bracket, u, v float64) float64 {
	pts := b.Saddle.Template.Points
	turn := math.Atan2(u, v) - b.Saddle.Acute.Rad()
	around := len(pts) - 1
	i := int(math.Round(turn/(2*math.Pi)*float64(around))) % around
	return pts[(i+around)%around].Y
}
