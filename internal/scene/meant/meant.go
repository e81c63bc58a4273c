// Package meant draws what a row of the file means: what is measured, with its
// dimension. It draws the build itself where that has it, and else a figure of the kind of
// thing that it is, in the plane of the side view and to no scale.
package meant

import (
	"slices"
	"strings"

	"fitup/internal/assess"
	"fitup/internal/project"
	"fitup/internal/project/quantity"
	"fitup/internal/scene"
	"fitup/internal/scene/view"

	"gonum.org/v1/gonum/spatial/r3"
)

// Drawing is what a row means.
type Drawing struct {
	Scene *scene.Scene
	Lit   string      // the id that is lit, and whose dimensions are drawn
	Views []view.View // the best first
	Title string      // of a figure; "" for the build itself
}

// row is the row of the file that is drawn.
type row struct {
	f     *project.File
	a     *assess.Assessment
	built *scene.Scene
	path  string
	kind  string   // the path with a star for each name, and without numbers
	keys  []string // of that, as they are in the path
}

// Of draws the row at a path of a file, or the table there: of that file's assessment and
// the scene of it. False for a row that has no place and no size, such as a mass or a
// choice, and for a table that the scene has nothing of.
func Of(f *project.File, a *assess.Assessment, built *scene.Scene, path string) (Drawing, bool) {
	r := &row{f: f, a: a, built: built, path: path}
	r.kind = r.starred()
	if draw, ok := rows[r.kind]; ok {
		return draw(r)
	}
	for _, t := range tables {
		if rest, ok := strings.CutPrefix(r.kind, t.prefix+"."); ok && !strings.Contains(rest, ".") {
			if d, ok := t.draw(r); ok {
				return d, true
			}
		}
	}
	return r.head()
}

// starred is the path with a star for each name and without numbers; it finds the keys
// too.
func (r *row) starred() string {
	var kind []string
	for i, key := range strings.Split(r.path, ".") {
		key, _, _ = strings.Cut(key, "[")
		r.keys = append(r.keys, key)
		switch {
		case i == 1 && slices.Contains([]string{"mount", "line", "point", "tool", "subframe", "pickup", "torque_link", "roll_stop"}, r.keys[0]), i == 2 && r.keys[1] == "side":
			key = "*"
		}
		kind = append(kind, key)
	}
	return strings.Join(kind, ".")
}

// key is the last one of the row's path.
func (r *row) key() string { return r.keys[len(r.keys)-1] }

// beside is the path of another value of the same table.
func (r *row) beside(key string) string {
	return r.path[:strings.LastIndexByte(r.path, '.')+1] + key
}

// number is the one quantity at a path, in internal units.
func (r *row) number(path string) (float64, bool) {
	k, ok := project.KindAt(path)
	if !ok {
		return 0, false
	}
	return r.f.QuantityAt(path, k)
}

// size is a length of the same table that is above zero, or else one that is usual.
func (r *row) size(key string, usual float64) float64 {
	if v, ok := r.number(r.beside(key)); ok && v > 0 {
		return v
	}
	return usual
}

// text is a text of the same table.
func (r *row) text(key string) string {
	s, _ := r.f.Text(r.beside(key))
	return s
}

// value is that of the row as a dimension has it; not known where it is not typed.
func (r *row) value() assess.Number {
	if v, ok := r.number(r.path); ok {
		return assess.Exact(v)
	}
	return assess.Number{}
}

// point is the place at a path: three lengths, or the name of a measured point.
func (r *row) point(path string) (r3.Vec, bool) {
	if name, ok := r.f.Text(path); ok && !strings.HasPrefix(name, "[") {
		p, ok := r.a.Build.PointNamed(name)
		return p.At, ok && p.Known
	}
	var at [3]float64
	for i, end := range []string{"[0]", "[1]", "[2]"} {
		v, ok := r.f.QuantityAt(path+end, quantity.Length)
		if !ok {
			return r3.Vec{}, false
		}
		at[i] = v
	}
	return r3.Vec{X: at[0], Y: at[1], Z: at[2]}, true
}

// words are a key as it is said.
func words(key string) string { return strings.ReplaceAll(key, "_", " ") }
