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
}

var inks = map[scene.Role]sketch.Ink{
	scene.RoleRail: 1, scene.RoleWheel: 1, scene.RoleChassis: 2, scene.RoleBody: 3, scene.RoleLeg: 4,
	scene.RoleAxis: 5, scene.RoleShaft: 6, scene.RolePad: 7, scene.RoleJoint: 8,
}

// Inks above the roles: labels, and joints by verdict.
const (
	inkLabel sketch.Ink = 9
	inkJoint sketch.Ink = 10 // + assess.Status
)

// Line draws a run of lines.
func (p pen) Line(points []r2.Vec, s scene.Style) {
	for i := 1; i < len(points); i++ {
		p.segment(points[i-1], points[i], s)
	}
}

// Polygon draws a closed run of lines.
func (p pen) Polygon(points []r2.Vec, s scene.Style) {
	for i, a := range points {
		p.segment(a, points[(i+1)%len(points)], s)
	}
}

func (p pen) segment(a, b r2.Vec, s scene.Style) {
	line := p.c.Line
	if s.Dashed {
		line = p.c.Dashed
	}
	line(p.view.X(a.X), p.view.Y(a.Y), p.view.X(b.X), p.view.Y(b.Y), inks[s.Role])
}

// arcStep is the longest piece of an arc that is drawn straight, rad.
const arcStep = math.Pi / 36

// Arc draws a circle, or a part of one in straight pieces.
func (p pen) Arc(at r2.Vec, radius float64, from, to float64, s scene.Style) {
	if to-from >= 2*math.Pi {
		p.c.Circle(p.view.X(at.X), p.view.Y(at.Y), p.view.Len(radius), inks[s.Role])
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
		p.c.Cross(p.view.X(at.X), p.view.Y(at.Y), 1, inks[s.Role])
		return
	}
	col, row := p.view.Cell(at.X, at.Y)
	p.c.Text(col, row, p.joint, p.ink(s))
}

// Text writes the fullest text that finds a free place.
func (p pen) Text(n scene.Note) {
	col, row := p.view.Cell(n.At.X, n.At.Y)
	for _, text := range n.Texts {
		c, r := col, row
		switch n.Beside {
		case scene.Over:
			c, r = col-theme.Width(text)/2, row-2
		case scene.Under:
			c, r = col-theme.Width(text)/2, row+2
		case scene.Corner:
			c, r = col+1, row+1
		}
		if p.c.TextFree(c, r, text, p.ink(n.Style)) {
			return
		}
	}
}

// ink is that of a sign or a text: a joint has its verdict's.
func (p pen) ink(s scene.Style) sketch.Ink {
	if s.Role == scene.RoleJoint {
		return inkJoint + sketch.Ink(s.Status)
	}
	return inkLabel
}

// style gives an ink its colour.
func style(v pane.View) func(sketch.Ink) (string, string) {
	return func(i sketch.Ink) (string, string) {
		var role theme.Role
		switch {
		case i >= inkJoint:
			role = pane.Status(assess.Status(i - inkJoint)).Role()
		case i == inkLabel:
			role = theme.Text
		case i == inks[scene.RoleShaft], i == inks[scene.RoleAxis]:
			role = theme.Accent
		case i == inks[scene.RolePad], i == inks[scene.RoleLeg]:
			role = theme.Key
		case i == inks[scene.RoleBody]:
			role = theme.Value
		default:
			role = theme.Dim
		}
		return v.Theme.SGR(role)
	}
}
