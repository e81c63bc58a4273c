package drawing

import (
	"math"
	"strings"

	"fitup/internal/assess"
	"fitup/internal/project"
	"fitup/internal/scene"
	"fitup/internal/scene/meant"
	"fitup/internal/scene/view"
	"fitup/internal/ui/pane"
	"fitup/internal/ui/theme"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// Near is a sketch without keys of its own: of what a row of the file means.
type Near struct {
	pane  Pane
	of    *assess.Assessment
	file  *project.File
	theme *theme.Theme
	path  string
	size  [2]int
	lines []string
}

// Draw draws what the row at a path of a file means, for w by h cells: what it shows, and
// the lines below that; none for a row that has no place and no size.
func (n *Near) Draw(w, h int, v pane.View, f *project.File, path string) []string {
	size := [2]int{w, h}
	if n.of == v.A && n.file == f && n.theme == v.Theme && n.path == path && n.size == size {
		return n.lines
	}
	if n.pane.of != v.A {
		n.pane.sceneOf(v).AsTyped(v.A)
	}
	n.of, n.file, n.theme, n.path, n.size, n.lines = v.A, f, v.Theme, path, size, nil
	if d, ok := meant.Of(f, v.A, n.pane.scene, path); ok && w > 0 && h > 1 {
		v.Before, v.HasW, v.Subject = nil, false, d.Lit
		n.lines = n.draw(w, h, v, d)
	}
	return n.lines
}

// draw draws one view, and others where there is room for them, each with what surrounds
// what is meant.
func (n *Near) draw(w, h int, v pane.View, d meant.Drawing) []string {
	p := &Pane{scene: d.Scene, of: v.A, marked: true, plain: d.Title != ""}
	var boxes []place
	for _, x := range d.Views {
		boxes = append(boxes, place{view: x, box: around(d, x)})
	}
	head := theme.Wrap(d.Title, w)
	if d.Title == "" {
		head = []string{""}
	}
	h -= len(head)
	places, k := arrange(w, h, boxes)
	align(places)
	names := make([]string, len(places))
	parts := make([][]string, len(places))
	for i, x := range places {
		names[i] = x.view.String()
		parts[i] = p.draw(d.Scene, nil, x, k, v, i == 0, len(places) > 1)
	}
	if d.Title == "" {
		head[0] = v.Theme.Cut(strings.Join(names, "; "), w)
	}
	for i := range head {
		head[i] = v.Theme.Paint(theme.Dim, head[i])
	}
	return append(head, joined(places, parts, w, h)...)
}

// around is what a view shows of a drawing: a figure as a whole, of the build what is meant
// with its surroundings.
func around(d meant.Drawing, x view.View) r2.Box {
	if d.Title != "" {
		b, _ := d.Scene.Bounds(x, scene.Whole)
		return wider(b, 1.4, 1.2)
	}
	const least = 300 // mm: the surroundings of a point
	sel, _ := d.Scene.Selection(d.Lit)
	sight := x.Sight()
	a, c := sight.At(sel.Min), sight.At(sel.Max)
	middle := sight.At(r3.Scale(0.5, r3.Add(sel.Min, sel.Max)))
	half := r2.Vec{X: max(least/2, math.Abs(a.X-c.X)/2), Y: max(least/2, math.Abs(a.Y-c.Y)/2)}
	return wider(r2.Box{Min: r2.Sub(middle, half), Max: r2.Add(middle, half)}, 1.5, 1.5)
}

func wider(b r2.Box, x, y float64) r2.Box {
	middle, half := r2.Scale(0.5, r2.Add(b.Min, b.Max)), r2.Scale(0.5, r2.Sub(b.Max, b.Min))
	half.X, half.Y = x*half.X, y*half.Y
	return r2.Box{Min: r2.Sub(middle, half), Max: r2.Add(middle, half)}
}
