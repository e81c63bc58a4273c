package scene

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
)

// Flat is a scene as it is seen in one view, in mm, x to the right and y up.
type Flat struct {
	shapes []shape
	signs  []sign
}

// shape is a run of lines, closed or not, or a circle round its only point.
type shape struct {
	style  Style
	points []r2.Vec
	closed bool
	circle bool
	radius float64
	back   bool // what the vehicle brings along; a closer look may cut it off
}

// sign is a mark on the drawing.
type sign struct {
	at   r2.Vec
	mark Mark
}

// Flat is the scene as seen in a view.
func (s Scene) Flat(v View) Flat {
	var f Flat
	for _, st := range s.Strokes {
		if !v.shows(st.Role, st.Across) {
			continue
		}
		pts := make([]r2.Vec, len(st.Points))
		for i, p := range st.Points {
			pts[i] = v.at(p)
		}
		f.shapes = append(f.shapes, shape{style: Style{Role: st.Role, Dashed: st.Dashed}, points: pts, back: brought(st.Role) && !st.Across})
	}
	for _, b := range s.Solids {
		f.shapes = append(f.shapes, shape{style: Style{Role: b.Role}, points: outline(v, b), closed: true, back: brought(b.Role)})
	}
	for _, c := range s.Circles {
		if v.shows(c.Role, false) {
			f.shapes = append(f.shapes, shape{style: Style{Role: c.Role}, points: []r2.Vec{v.at(c.At)}, circle: true, radius: c.Radius, back: brought(c.Role)})
		}
	}
	for _, m := range s.Marks {
		if v.shows(m.Role, false) {
			f.signs = append(f.signs, sign{v.at(m.At), m})
		}
	}
	return f
}

// brought tells what the vehicle brings along from what is fitted into it.
func brought(r Role) bool { return r == RoleRail || r == RoleWheel || r == RoleChassis }

// Bounds is the smallest rectangle that holds the drawing, or with closer what
// of it the vehicle does not bring along; false where that is nothing.
func (f Flat) Bounds(closer bool) (r2.Box, bool) {
	some := false
	b := r2.Box{Min: r2.Vec{X: math.Inf(1), Y: math.Inf(1)}, Max: r2.Vec{X: math.Inf(-1), Y: math.Inf(-1)}}
	add := func(p r2.Vec, r float64) {
		b.Min = r2.Vec{X: min(b.Min.X, p.X-r), Y: min(b.Min.Y, p.Y-r)}
		b.Max = r2.Vec{X: max(b.Max.X, p.X+r), Y: max(b.Max.Y, p.Y+r)}
		some = true
	}
	for _, s := range f.shapes {
		if closer && s.back {
			continue
		}
		for _, p := range s.points {
			add(p, s.radius)
		}
	}
	for _, s := range f.signs {
		if !closer || !brought(s.mark.Role) {
			add(s.at, 0)
		}
	}
	return b, some
}

// Draw draws with a pen. say gives the words for a joint, the fullest first. All
// signs come before the first note, so that no note lies under the sign of
// another joint; the joint most in need of attention has the first choice of a
// place.
func (f Flat) Draw(p Pen, say func(Mark) []string) {
	for _, s := range f.shapes {
		switch {
		case s.circle:
			p.Arc(s.points[0], s.radius, 0, 2*math.Pi, s.style)
		case s.closed:
			p.Polygon(s.points, s.style)
		default:
			p.Line(s.points, s.style)
		}
	}
	var joints, pads []sign
	for _, s := range f.signs {
		p.Sign(s.at, s.mark.style())
		switch s.mark.Role {
		case RoleJoint:
			joints = append(joints, s)
		case RolePad:
			pads = append(pads, s)
		}
	}
	slices.SortStableFunc(joints, func(a, b sign) int { return -cmp.Compare(a.mark.Status, b.mark.Status) })
	for _, s := range joints {
		side := Over // and the joints of the second line and those after it under theirs
		if s.mark.Line > 0 {
			side = Under
		}
		p.Text(Note{s.at, say(s.mark), side, s.mark.style()})
	}
	for _, s := range pads {
		p.Text(Note{s.at, []string{s.mark.Label}, Corner, s.mark.style()})
	}
}

func (m Mark) style() Style { return Style{Role: m.Role, Status: m.Status} }
