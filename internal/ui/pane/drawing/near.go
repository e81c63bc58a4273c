package drawing

import (
	"strings"

	"fitup/internal/assess"
	"fitup/internal/scene/view"
	"fitup/internal/ui/pane"
)

// Near is a sketch without keys of its own: of one thing with what surrounds it, in the
// view that shows most of its dimensions. From above or behind comes first: there left and
// right do not hide each other.
type Near struct {
	pane Pane
	of   *assess.Assessment
	on   string
	size [2]int
}

// Draw draws what the first of the subjects that has a place is, for w by h cells: the
// name of the view and the lines below it; none where nothing of it has a place.
func (n *Near) Draw(w, h int, v pane.View, subjects []string) []string {
	v.Before, v.HasW, n.pane.marked = nil, false, true
	if n.pane.of != v.A {
		n.pane.sceneOf(v).AsTyped(v.A)
	}
	for _, s := range subjects {
		if v.Subject = s; n.pane.has(v) {
			title, lines := n.draw(w, h-1, v)
			return append([]string{title}, lines...)
		}
	}
	return nil
}

func (n *Near) draw(w, h int, v pane.View) (string, []string) {
	if size := [2]int{w, h}; n.of != v.A || n.on != v.Subject || n.size != size {
		n.of, n.on, n.size = v.A, v.Subject, size
		n.pane.stand, n.pane.led.there = stand{view: view.FromAbove}, false
		for _, x := range []view.View{view.FromBehind, view.FromLeft} {
			if s := n.pane.sceneOf(v); s.Shown(x, v.Subject) > s.Shown(n.pane.view, v.Subject) {
				n.pane.view = x
			}
		}
		n.pane.Draw(w, h, v) // says at what scale all of it is shown
		n.pane.fit(v)
	}
	f := n.pane.Draw(w, h, v)
	return strings.TrimPrefix(f.Title, "Sketch: "), f.Text
}

// has reports whether what the cursor is on has a place.
func (p *Pane) has(v pane.View) bool {
	_, ok := p.sceneOf(v).Selection(v.Subject)
	return ok
}
