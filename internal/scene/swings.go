package scene

import (
	"fmt"
	"math"
	"strings"

	"fitup/internal/assess"
	"fitup/internal/geom"
	"fitup/internal/geom/clear"
	"fitup/internal/scene/hidden"
	"fitup/internal/scene/solid"
	"fitup/internal/scene/view"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// Swing is one way in which the powertrain swings on its mounts: its pieces at both ends,
// drawn while the cursor is on it.
type Swing struct {
	ID    string
	Mode  int    // its place among the modes of the assessment
	Name  string // roll about the crank 11.0 Hz
	moves [2]geom.Pose
}

// swingPart is how far the place that goes farthest is drawn off, over the size of the
// powertrain: the figure shows which way, not how far.
const swingPart = 0.09

// swings draws the modes: each with the axis about which it turns and the way its centre of
// mass goes, and the torque-roll axis.
func (s *Scene) swings(a *assess.Assessment) {
	x := a.Shaking
	size := r3.Norm(r3.Sub(s.Body.Max, s.Body.Min))
	if x == nil || len(x.Modes) == 0 || size == 0 {
		return
	}
	for _, part := range a.Build.Powertrain.Parts {
		if shape, err := assess.PartShape(part); err == nil {
			s.swinging = append(s.swinging, clear.Moved(shape, a.Pose.V))
		}
	}
	for i := range x.Modes {
		name, _, _ := strings.Cut(x.Modes[i].Said(a.Build.Units), " with ") // the row says the rest
		s.swing(&x.Modes[i], i, name, x.Centre, size)
	}
	if x.Roll.Known {
		half := r3.Scale(0.6*size, x.Roll.V.Axis)
		s.add(Part{ID: "mounts.roll_axis", Name: "torque-roll axis", Role: RoleAxis, Kind: Chain, Plain: true, Asked: true, Line: []r3.Vec{r3.Sub(x.Centre, half), r3.Add(x.Centre, half)}})
	}
}

func (s *Scene) swing(m *assess.SwingMode, i int, name string, centre r3.Vec, size float64) {
	most := 0.0
	for _, c := range s.Body.Vertices() {
		most = max(most, r3.Norm(r3.Add(m.Shift, r3.Cross(m.Turn, r3.Sub(c, centre)))))
	}
	if !(most > 0) {
		return
	}
	id := fmt.Sprintf("mounts.mode.%d", i+1)
	by := swingPart * size / most
	out := Swing{ID: id, Mode: i, Name: name}
	for k, sign := range [2]float64{1, -1} {
		move := geom.Identity()
		if turn := r3.Norm(m.Turn); turn > 0 {
			if p, err := geom.Turn(centre, m.Turn, geom.Angle(sign*by*turn)); err == nil {
				move = p
			}
		}
		move.At = r3.Add(move.At, r3.Scale(sign*by, m.Shift))
		out.moves[k] = move
	}
	s.Swings = append(s.Swings, out)
	path := []r3.Vec{r3.Sub(centre, r3.Scale(by, m.Shift)), r3.Add(centre, r3.Scale(by, m.Shift))}
	if turn := r3.Norm2(m.Turn); turn > 0 {
		on := r3.Scale(1/turn, r3.Cross(m.Turn, m.Shift)) // of the axis, from the centre
		if r3.Norm(on) < 0.6*size {
			half := r3.Scale(0.6*size/math.Sqrt(turn), m.Turn)
			on = r3.Add(centre, on)
			s.add(Part{ID: id, Name: name, Role: RoleAxis, Kind: Chain, Plain: true, Asked: true, Line: []r3.Vec{r3.Sub(on, half), r3.Add(on, half)}})
			name = ""
		}
	}
	if r3.Norm(r3.Sub(path[1], path[0])) > 0.01*size {
		s.add(Part{ID: id, Name: name, Role: RoleAxis, Plain: true, Asked: true, Line: path})
	}
}

// SwingRest are the pieces of the powertrain that swing, at rest.
func (s *Scene) SwingRest() []*solid.Solid { return s.moved(geom.Identity()) }

// SwingEnds are the same at both ends of a swing.
func (s *Scene) SwingEnds(i int) [2][]*solid.Solid {
	x := &s.Swings[i]
	return [2][]*solid.Solid{s.moved(x.moves[0]), s.moved(x.moves[1])}
}

func (s *Scene) moved(move geom.Pose) (out []*solid.Solid) {
	for _, shape := range s.swinging {
		part := Scene{}
		part.shape(Part{}, clear.Moved(shape, move))
		if len(part.Parts) > 0 && part.Parts[0].Solid != nil {
			out = append(out, part.Parts[0].Solid)
		}
	}
	return out
}

// entitle says in the title which swing is drawn, where there is room for it.
func (d *drawing) entitle() {
	for i := range d.Swings {
		title := d.Title + ": " + d.say.Name(d.Swings[i].Name)
		if cols, _ := d.sheet.Size(); d.Swings[i].ID == d.subject && d.Title != "" && d.say.Width(title) < cols {
			d.Title = title
		}
	}
}

// swung draws the outlines of the powertrain at both ends of the swing that the cursor is
// on.
func (d *drawing) swung() {
	for i := range d.Swings {
		if d.Swings[i].ID != d.subject {
			continue
		}
		for _, solids := range d.SwingEnds(i) {
			items := make([]hidden.Item, len(solids))
			for k := range solids {
				items[k].Solid = solids[k]
			}
			h := hidden.See(d.View, items)
			for k := range items {
				for _, p := range h.Outline(k) {
					d.pen.Line(p, Style{Role: RoleGhost, Kind: Phantom, Lit: true})
				}
			}
		}
	}
}

// SwingView is the view in which most of a swing is seen: from the left, from above or from
// behind.
func (s *Scene) SwingView(i int) view.View {
	best, most, ends := view.FromLeft, -1.0, s.SwingEnds(i)
	for _, v := range []view.View{view.FromLeft, view.FromBehind, view.FromAbove} {
		sight, sum := v.Sight(), 0.0
		for k, one := range ends[0] {
			for j, p := range one.Points {
				sum += r2.Norm2(r2.Sub(sight.At(p), sight.At(ends[1][k].Points[j])))
			}
		}
		if sum > most*(1+1e-9) {
			best, most = v, sum
		}
	}
	return best
}

// SwingBounds is the room that a swing takes in a view.
func (s *Scene) SwingBounds(i int, v view.View) r2.Box {
	b, sight := empty(), v.Sight()
	for _, solids := range s.SwingEnds(i) {
		for _, x := range solids {
			b.take(sight, x.Points...)
		}
	}
	return b.Box
}

// DrawSwing draws the outline of the powertrain at rest, at both ends of a swing, the axis
// of that and the torque-roll axis.
func (s *Scene) DrawSwing(i int, v view.View, pen Pen) {
	sight := v.Sight()
	outline := func(solids []*solid.Solid, style Style) {
		for _, x := range solids { // each by itself: nothing hides another
			for _, p := range hidden.See(v, []hidden.Item{{Solid: x}}).Outline(0) {
				pen.Line(p, style)
			}
		}
	}
	for k := range s.Parts {
		p := &s.Parts[k]
		if p.Asked && (p.ID == s.Swings[i].ID || p.ID == "mounts.roll_axis") {
			style := Style{Role: RolePaper, Kind: p.Kind}
			if p.ID == "mounts.roll_axis" {
				style.Kind = Phantom
			}
			line := make([]r2.Vec, len(p.Line))
			for j, q := range p.Line {
				line[j] = sight.At(q)
			}
			pen.Line(line, style)
		}
	}
	for _, solids := range s.SwingEnds(i) {
		outline(solids, Style{Role: RolePaper, Kind: Dashed})
	}
	outline(s.SwingRest(), Style{Role: RolePaper})
}
