// Package drawing is the sketch: the build as a line drawing that follows
// every nudge.
package drawing

import (
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
	last  drawn
}

// drawn is the last sketch and all that it follows from.
type drawn struct {
	of    *assess.Assessment
	theme *theme.Theme
	w, h  int
	view  int
	close bool
	frame pane.Frame
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

// Draw draws the pane's content for w by h cells, anew only when something of it
// has changed.
func (p *Pane) Draw(w, h int, v pane.View) pane.Frame {
	now := drawn{of: v.A, theme: v.Theme, w: w, h: h, view: p.view, close: p.close, frame: p.last.frame}
	if last := p.last; last.of != now.of || last.theme != now.theme || last.w != w || last.h != h || last.view != p.view || last.close != p.close {
		now.frame = p.drawAnew(w, h, v)
	}
	p.last = now
	return now.frame
}

func (p *Pane) drawAnew(w, h int, v pane.View) pane.Frame {
	first, second := views[p.view], views[(p.view+1)%len(views)]
	f := pane.Frame{Title: "Sketch: " + first.String()}
	if p.close {
		f.Note = "driveline only"
	}
	s := scene.Of(v.A)
	if w < both {
		f.Lines = p.draw(s, first, w, h, v)
		return f
	}
	f.Title += "; " + second.String()
	half := (w - 1) / 2
	left, right := p.draw(s, first, half, h, v), p.draw(s, second, w-1-half, h, v)
	for i := range left {
		f.Lines = append(f.Lines, left[i]+" "+right[i])
	}
	return f
}

func (p *Pane) draw(s scene.Scene, from scene.View, w, h int, v pane.View) []string {
	c := sketch.New(w, h, v.Theme.Glyphs.Name == theme.ASCII().Name)
	flat := s.Flat(from)
	box, ok := flat.Bounds(p.close)
	if !ok {
		for i, l := range theme.Wrap("Nothing to draw yet: no rails, and the powertrain is not placed.", w) {
			c.Text(0, i, l, inkLabel)
		}
		return c.Lines(style(v))
	}
	view := sketch.Fit(box.Min.X, box.Min.Y, box.Max.X, box.Max.Y, c, 3)
	flat.Draw(pen{c, view, v.Theme.Joint}, func(m scene.Mark) []string { return words(m, v) })
	u := v.Units().For(quantity.Length)
	view.ScaleBar(c, u.Name(), 1/quantity.InUnit(quantity.Length, 1, v.Units()), inkLabel)
	return c.Lines(style(v))
}

// words are a joint's name, angle and verdict, and less of that for where there
// is less room. Its line is named where there are several.
func words(m scene.Mark, v pane.View) []string {
	name, sign := m.Label, v.Theme.Sign(pane.Status(m.Status))
	if len(v.A.Lines) > 1 {
		name = project.Printable(v.A.Lines[m.Line].Name) + " " + name
	}
	return []string{
		name + " " + v.Number(quantity.Angle, m.Angle, 2) + " " + sign,
		name + " " + sign,
		m.Label + " " + sign,
	}
}
