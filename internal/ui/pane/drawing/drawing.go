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

var views = scene.Views()

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
	f := pane.Frame{Title: "Sketch: " + first.Name}
	if p.close {
		f.Note = "driveline only"
	}
	s := scene.Of(v.A)
	if w < both {
		f.Lines = p.draw(s, first, w, h, v)
		return f
	}
	f.Title += "; " + second.Name
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

func (p *Pane) draw(s scene.Scene, pr scene.View, w, h int, v pane.View) []string {
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
		if !pr.Shows(st.Role, st.Across) {
			continue
		}
		for i := 1; i < len(st.Points); i++ {
			x0, y0 := pr.Flat(st.Points[i-1])
			x1, y1 := pr.Flat(st.Points[i])
			line := c.Line
			if st.Dashed {
				line = c.Dashed
			}
			line(view.X(x0), view.Y(y0), view.X(x1), view.Y(y1), inks[st.Role])
		}
	}
	for _, b := range s.Solids {
		outline := scene.Outline(pr, b)
		for i, a := range outline {
			z := outline[(i+1)%len(outline)]
			c.Line(view.X(a[0]), view.Y(a[1]), view.X(z[0]), view.Y(z[1]), inks[b.Role])
		}
	}
	for _, k := range s.Circles {
		if pr.Shows(k.Role, false) {
			x, y := pr.Flat(k.At)
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
func (p *Pane) bounds(pr scene.View, s scene.Scene) (lo, hi [2]float64, ok bool) {
	lo = [2]float64{math.Inf(1), math.Inf(1)}
	hi = [2]float64{math.Inf(-1), math.Inf(-1)}
	add := func(x, y, r float64) {
		lo[0], lo[1] = min(lo[0], x-r), min(lo[1], y-r)
		hi[0], hi[1] = max(hi[0], x+r), max(hi[1], y+r)
		ok = true
	}
	for _, st := range s.Strokes {
		if !pr.Shows(st.Role, st.Across) || p.close && (st.Role == scene.RoleRail && !st.Across || st.Role == scene.RoleChassis) {
			continue
		}
		for _, pt := range st.Points {
			x, y := pr.Flat(pt)
			add(x, y, 0)
		}
	}
	for _, b := range s.Solids {
		if p.close && b.Role == scene.RoleChassis {
			continue
		}
		for _, pt := range b.Corners {
			x, y := pr.Flat(pt)
			add(x, y, 0)
		}
	}
	for _, m := range s.Marks {
		if pr.Shows(m.Role, false) {
			x, y := pr.Flat(m.At)
			add(x, y, 0)
		}
	}
	for _, k := range s.Circles {
		if pr.Shows(k.Role, false) && !(p.close && k.Role == scene.RoleWheel) {
			x, y := pr.Flat(k.At)
			add(x, y, k.Radius)
		}
	}
	return lo, hi, ok
}
