package assess

import (
	"math"

	"fitup/internal/geom/bracket"

	"gonum.org/v1/gonum/spatial/r3"
)

// bracket draws a leg: both its ends and four lines along the tube.
func (s *Scene) bracket(b *Bracket) {
	if !b.HasCut {
		return
	}
	pad, foot := b.Cut.Outline(false, 3), b.saddleEdge()
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
			to -= b.saddleAt(k[0], k[1])
		}
		s.Strokes = append(s.Strokes, Stroke{Role: RoleLeg, Points: []r3.Vec{b.on(from, k), b.on(to, k)}})
	}
}

// on is a point on the tube's outside, mm along the axis from the pad's cut.
func (b *Bracket) on(along float64, k [2]float64) r3.Vec {
	side := r3.Add(r3.Scale(k[0], b.Cut.U), r3.Scale(k[1], b.Cut.V))
	return r3.Add(r3.Add(b.Cut.Pad.At, side), r3.Scale(along, b.Cut.Axis))
}

// saddleEdge is the outer edge of the saddle; nil where there is none.
func (b *Bracket) saddleEdge() []r3.Vec {
	if b.Saddle == nil {
		return nil
	}
	var out []r3.Vec
	r := b.Saddle.Saddle.Branch / 2
	for _, p := range b.Saddle.Template.Points[:around] {
		s, c := math.Sincos(p.X/r + b.Saddle.Acute.Rad())
		out = append(out, b.on(b.Cut.Length-p.Y, [2]float64{r * s, r * c}))
	}
	return out
}

// saddleAt is how far the saddle lies before the crossmember's axis on the
// line of the tube at u, v.
func (b *Bracket) saddleAt(u, v float64) float64 {
	pts := b.Saddle.Template.Points
	turn := math.Atan2(u, v) - b.Saddle.Acute.Rad()
	i := int(math.Round(turn/(2*math.Pi)*around)) % around
	return pts[(i+around)%around].Y
}
