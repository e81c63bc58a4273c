package drawing

import (
	"math"

	"fitup/internal/assess"
	"fitup/internal/scene"
	"fitup/internal/ui/pane"
	"fitup/internal/ui/sketch"
	"fitup/internal/ui/theme"

	"gonum.org/v1/gonum/spatial/r2"
)

// pen draws on the canvas of a screen.
type pen struct {
	c     *sketch.Canvas
	view  sketch.View
	joint string // sign of a joint
	ascii bool
}

// Inks above those of the roles, which are their numbers and one: what the
// cursor is on, and verdicts.
const (
	inkLabel  sketch.Ink = 40
	inkLit    sketch.Ink = 41
	inkStatus sketch.Ink = 42 // + assess.Status
)

// patterns are how the types of line look in dots.
var patterns = map[scene.Kind]sketch.Pattern{scene.Dashed: sketch.Dashes, scene.Chain: sketch.Chain, scene.Phantom: sketch.Dots}

// Line draws a run of lines; what the cursor is on twice as wide, so that it
// stands out without colour too.
func (p pen) Line(points []r2.Vec, s scene.Style) {
	flat := make([][2]float64, len(points))
	for i, q := range points {
		flat[i] = [2]float64{p.view.X(q.X), p.view.Y(q.Y)}
	}
	if s.Lit && s.Kind == scene.Continuous && s.Role != scene.RoleDimension && s.Role != scene.RoleLeader {
		p.c.Wide(flat, p.ink(s))
		return
	}
	if s.Kind == scene.Phantom && !s.Lit && p.ascii {
		return // signs are too coarse for what is looked through
	}
	pattern := patterns[s.Kind]
	if s.Lit && s.Kind == scene.Phantom {
		pattern = sketch.Dashes
	}
	p.c.Stroke(flat, pattern, p.ink(s))
}

// Polygon draws a closed run of lines.
func (p pen) Polygon(points []r2.Vec, s scene.Style) {
	if len(points) > 0 {
		p.Line(append(points[:len(points):len(points)], points[0]), s)
	}
}

// arcStep is the longest piece of an arc that is drawn straight, rad.
const arcStep = math.Pi / 36

// Arc draws a circle, or a part of one in straight pieces.
func (p pen) Arc(at r2.Vec, radius float64, from, to float64, s scene.Style) {
	if to-from >= 2*math.Pi {
		p.c.Circle(p.view.X(at.X), p.view.Y(at.Y), p.view.Len(radius), p.ink(s))
		return
	}
	n := max(1, int(math.Ceil(math.Abs(to-from)/arcStep)))
	points := make([]r2.Vec, n+1)
	for i := range points {
		sin, cos := math.Sincos(from + (to-from)*float64(i)/float64(n))
		points[i] = r2.Add(at, r2.Vec{X: radius * cos, Y: radius * sin})
	}
	p.Line(points, s)
}

// Sign draws a joint's sign, or a cross.
func (p pen) Sign(at r2.Vec, s scene.Style) {
	if s.Role != scene.RoleJoint {
		p.c.Cross(p.view.X(at.X), p.view.Y(at.Y), 1, p.ink(s))
		return
	}
	col, row := p.view.Cell(at.X, at.Y)
	p.c.Text(col, row, p.joint, p.ink(s))
}

// Text writes a note where the drawing has room for it.
func (p pen) Text(n scene.Note) {
	col, row := p.view.Cell(n.At.X, n.At.Y)
	s := n.Style
	if !s.Judged && !s.Lit {
		switch s.Role {
		case scene.RolePad, scene.RoleLeg, scene.RoleBody:
			p.c.Text(col, row, n.Text, inkLabel)
			return
		}
	}
	p.c.Text(col, row, n.Text, p.ink(s))
}

// ink is that of a role, or of a verdict, or of what the cursor is on.
func (p pen) ink(s scene.Style) sketch.Ink {
	switch {
	case s.Judged:
		return inkStatus + sketch.Ink(s.Status)
	case s.Lit:
		return inkLit
	}
	return sketch.Ink(s.Role) + 1
}

// style gives an ink its colour.
func style(v pane.View) func(sketch.Ink) (string, string) {
	return func(i sketch.Ink) (string, string) { return v.Theme.SGR(colour(i)) }
}

func colour(i sketch.Ink) theme.Role {
	switch {
	case i >= inkStatus:
		return pane.Status(assess.Status(i - inkStatus)).Role()
	case i == inkLit:
		return theme.Changed
	case i == inkLabel:
		return theme.Text
	}
	switch scene.Role(i - 1) {
	case scene.RoleShaft, scene.RoleAxis:
		return theme.Accent
	case scene.RolePad, scene.RoleLeg:
		return theme.Key
	case scene.RoleBody:
		return theme.Value
	}
	return theme.Dim
}
