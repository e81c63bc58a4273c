package bracket

import (
	"fmt"
	"math"

	"fitup/internal/geom"
	geombracket "fitup/internal/geom/bracket"
	"fitup/internal/geom/section"
	"fitup/internal/project"

	"gonum.org/v1/gonum/spatial/r3"
)

// SaddleEnd is the rail end of a round leg that stands on a round crossmember.
type SaddleEnd struct {
	Saddle   geombracket.Saddle
	Template geombracket.Template
	// Acute is where theta = 0 lies around the tube: from the side V toward U,
	// clockwise seen from the pad. Theta runs the same way.
	Acute geom.Angle
	Base  r3.Vec // the point of the leg's axis nearest the crossmember's
	// Long and Short are the longest and shortest line on the outside of the
	// tube, from the pad's cut to the saddle, mm; Overall is tip to tip.
	Long, Short, Overall float64
	Mass                 float64 // kg
}

// around is how many places around the tube are worked out.
const around = 72

// cutSaddle finds where a round leg meets a round crossmember, and cuts it.
func (b *Bracket) cutSaddle() error {
	s, leg := b.Spec, b.Leg
	switch {
	case leg.Shape.Kind != section.RoundTube:
		return fmt.Errorf("leg %s: it stands on a round crossmember, so it must be a round tube; %s is none", b.Label, leg.Shape.Name)
	case !s.HeaderFrom.Known:
		return lacking("mount." + b.Name + ".leg.header_from")
	case !s.HeaderTo.Known:
		return lacking("mount." + b.Name + ".leg.header_to")
	}
	pad, from := leg.Pad.Point, s.HeaderFrom.At
	h := r3.Unit(r3.Sub(s.HeaderTo.At, from))
	aim := s.Foot.At
	if !s.Foot.Known { // square to the crossmember
		aim = r3.Add(from, r3.Scale(r3.Dot(h, r3.Sub(pad, from)), h))
	}
	d, err := geom.Unit(r3.Sub(aim, pad))
	if err != nil {
		return fmt.Errorf("leg %s: its pad stands on the crossmember's axis, so the leg has no length", b.Label)
	}
	branch := r3.Scale(-1, d)
	if r3.Dot(h, branch) < 0 {
		h = r3.Scale(-1, h)
	}
	phi := geom.Between(h, branch)
	e := &SaddleEnd{Saddle: geombracket.Saddle{
		Name: b.Label + " leg", Branch: leg.Shape.H, Wall: leg.Shape.T, Header: s.Header.V(), Angle: phi, Fit: fits[s.Fit],
	}}
	if phi < geombracket.LeastSaddle {
		_, err := e.Saddle.Template(around)
		return err
	}
	// The two axes come nearest each other at base and at the point off it.
	across := r3.Unit(r3.Cross(h, branch))
	gap := r3.Dot(across, r3.Sub(pad, from))
	e.Base = r3.Add(pad, r3.Scale(alongTo(pad, d, from, h), d))
	b.Leg.Axis = d
	b.Leg.Rail = geombracket.Face{Point: e.Base, Normal: branch}
	if b.Cut, err = b.Leg.Cut(); err != nil {
		return err
	}
	c := b.Cut
	acute := r3.Sub(h, r3.Scale(r3.Dot(h, branch), branch))
	e.Acute = geom.Angle(math.Atan2(r3.Dot(acute, c.U), r3.Dot(acute, c.V)))
	if r3.Dot(b.around(e.Acute+90*geom.Deg), across) < 0 {
		gap = -gap
	}
	e.Saddle.Offset = gap
	if e.Template, err = e.Saddle.Template(around); err != nil {
		return err
	}
	b.Saddle = e
	return b.measureSaddle()
}

var fits = map[project.SaddleFit]geombracket.Fit{
	project.OutsideEdge: geombracket.FitOutside, project.FirstTouch: geombracket.FitTouch,
}

// alongTo is how far along the unit direction d from p the line comes nearest
// to the line through q along the unit direction h; the two are not parallel.
func alongTo(p, d, q, h r3.Vec) float64 {
	w, k := r3.Sub(q, p), r3.Dot(d, h)
	return (r3.Dot(w, d) - k*r3.Dot(w, h)) / (1 - k*k)
}

// around is the direction at an angle around the tube, from V toward U.
func (b *Bracket) around(a geom.Angle) r3.Vec {
	s, c := math.Sincos(a.Rad())
	return r3.Add(r3.Scale(c, b.Cut.V), r3.Scale(s, b.Cut.U))
}

// measureSaddle finds the lengths on the outside of the tube.
func (b *Bracket) measureSaddle() error {
	e, r := b.Saddle, b.Saddle.Saddle.Branch/2
	e.Long, e.Short = math.Inf(-1), math.Inf(1)
	first, last, sum := math.Inf(1), math.Inf(-1), 0.0
	for _, p := range e.Template.Points[:around] {
		s, c := math.Sincos((geom.Angle(p.X/r) + e.Acute).Rad())
		from, _ := b.Cut.Line(r*s, r*c)
		to := b.Cut.Length - p.Y
		e.Long, e.Short = max(e.Long, to-from), min(e.Short, to-from)
		first, last, sum = min(first, from), max(last, to), sum+to-from
	}
	if e.Short <= 0 {
		return fmt.Errorf("leg %s: the pad stands inside the crossmember or too close to it, so no leg is left", b.Label)
	}
	e.Overall = last - first
	e.Mass = b.Cut.Section.Mass * sum / around / 1000
	return nil
}
