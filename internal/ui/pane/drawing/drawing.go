// Package drawing is the sketch: the build as a line drawing that follows
// every nudge.
package drawing

import (
	"math"

	"fitup/internal/assess"
	"fitup/internal/project"
	"fitup/internal/project/quantity"
	"fitup/internal/scene"
	"fitup/internal/ui/action"
	"fitup/internal/ui/pane"
	"fitup/internal/ui/sketch"
	"fitup/internal/ui/theme"

	"gonum.org/v1/gonum/spatial/r3"
)

// Pane is the state of the sketch: which view it shows where there is room for
// one, and how much of the build.
type Pane struct {
	view  int
	close bool // only powertrain and driveline
}

// Actions of the sketch.
const (
	NextView action.ID = "sketch.view"
	Closer   action.ID = "sketch.closer"
)

// projection is one way to look at the vehicle; right and up on the drawing.
type projection struct {
	name string
	flat func(r3.Vec) (x, y float64)
	side bool // wheels are circles
	rear bool // along the vehicle: rails are cut through, drivelines left out
}

// views: the side view is seen from the left, front at the left; in the plan
// the driver's right is then up. The front mounts are looked at from behind,
// so that left and right are the driver's.
var views = []projection{
	{"side view, from the left", func(p r3.Vec) (float64, float64) { return p.X, p.Z }, true, false},
	{"plan view, from above", func(p r3.Vec) (float64, float64) { return p.X, p.Y }, false, false},
	{"front view, from behind", func(p r3.Vec) (float64, float64) { return p.Y, p.Z }, false, true},
}

// shows reports whether a view has a place for what plays a role; across says
// that it is a section.
func (pr projection) shows(role scene.Role, across bool) bool {
	switch role {
	case scene.RoleRail:
		return across == pr.rear
	case scene.RoleWheel:
		return pr.side
	case scene.RoleAxis, scene.RoleShaft, scene.RoleJoint:
		return !pr.rear
	}
	return true
}

// Key turns an action into an intent; those of the sketch change only how it
// is looked at.
func (p *Pane) Key(id action.ID, _ pane.View) pane.Intent {
	switch id {
	case NextView, pane.More, pane.Down, pane.Enter:
		p.view = (p.view + 1) % len(views)
	case pane.Less, pane.Up:
		p.view = (p.view + len(views) - 1) % len(views)
	case Closer:
		p.close = !p.close
	}
	return nil
}

// both is the width from which two views stand side by side.
const both = 100

// Draw draws the pane's content for w by h cells.
func (p *Pane) Draw(w, h int, v pane.View) pane.Frame {
	first, second := views[p.view], views[(p.view+1)%len(views)]
	f := pane.Frame{Title: "Sketch: " + first.name}
	if p.close {
		f.Note = "driveline only"
	}
	s := scene.Of(v.A)
	if w < both {
		f.Lines = p.draw(s, first, w, h, v)
		return f
	}
	f.Title += "; " + second.name
	half := (w - 1) / 2
	left, right := p.draw(s, first, half, h, v), p.draw(s, second, w-1-half, h, v)
	for i := range left {
		f.Lines = append(f.Lines, left[i]+" "+right[i])
	}
	return f
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

func (p *Pane) draw(s scene.Scene, pr projection, w, h int, v pane.View) []string {
	c := sketch.New(w, h, v.Theme.Glyphs.Name == theme.ASCII().Name)
	lo, hi, ok := p.bounds(pr, s)
	if !ok {
		msg := "Nothing to draw yet: no rails, and the powertrain is not placed."
		for i, l := range theme.Wrap(project.Printable(msg), w) {
			c.Text(0, i, l, inkLabel)
		}
		return c.Lines(p.style(v))
	}
	view := sketch.Fit(lo[0], lo[1], hi[0], hi[1], c, 3)
	for _, st := range s.Strokes {
		if !pr.shows(st.Role, st.Across) {
			continue
		}
		for i := 1; i < len(st.Points); i++ {
			x0, y0 := pr.flat(st.Points[i-1])
			x1, y1 := pr.flat(st.Points[i])
			line := c.Line
			if st.Dashed {
				line = c.Dashed
			}
			line(view.X(x0), view.Y(y0), view.X(x1), view.Y(y1), inks[st.Role])
		}
	}
	for _, b := range s.Solids {
		outline := hull(pr, b)
		for i, a := range outline {
			z := outline[(i+1)%len(outline)]
			c.Line(view.X(a[0]), view.Y(a[1]), view.X(z[0]), view.Y(z[1]), inks[b.Role])
		}
	}
	for _, k := range s.Circles {
		if pr.shows(k.Role, false) {
			x, y := pr.flat(k.At)
			c.Circle(view.X(x), view.Y(y), view.Len(k.Radius), inks[k.Role])
		}
	}
	p.marks(c, s, pr, view, v)
	u := v.Units().For(quantity.Length)
	view.ScaleBar(c, u.Name(), 1/quantity.InUnit(quantity.Length, 1, v.Units()), inkLabel)
	return c.Lines(p.style(v))
}

func (p *Pane) style(v pane.View) func(sketch.Ink) (string, string) {
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

// bounds is the rectangle to show.
func (p *Pane) bounds(pr projection, s scene.Scene) (lo, hi [2]float64, ok bool) {
	lo = [2]float64{math.Inf(1), math.Inf(1)}
	hi = [2]float64{math.Inf(-1), math.Inf(-1)}
	add := func(x, y, r float64) {
		lo[0], lo[1] = min(lo[0], x-r), min(lo[1], y-r)
		hi[0], hi[1] = max(hi[0], x+r), max(hi[1], y+r)
		ok = true
	}
	for _, st := range s.Strokes {
		if !pr.shows(st.Role, st.Across) || p.close && (st.Role == scene.RoleRail && !st.Across || st.Role == scene.RoleChassis) {
			continue
		}
		for _, pt := range st.Points {
			x, y := pr.flat(pt)
			add(x, y, 0)
		}
	}
	for _, b := range s.Solids {
		if p.close && b.Role == scene.RoleChassis {
			continue
		}
		for _, pt := range b.Corners {
			x, y := pr.flat(pt)
			add(x, y, 0)
		}
	}
	for _, m := range s.Marks {
		if pr.shows(m.Role, false) {
			x, y := pr.flat(m.At)
			add(x, y, 0)
		}
	}
	for _, k := range s.Circles {
		if pr.shows(k.Role, false) && !(p.close && k.Role == scene.RoleWheel) {
			x, y := pr.flat(k.At)
			add(x, y, k.Radius)
		}
	}
	return lo, hi, ok
}
