package meant

import (
	"math"

	"fitup/internal/assess"
	"fitup/internal/project"
	"fitup/internal/project/quantity"
	"fitup/internal/scene"
	"fitup/internal/scene/view"

	"gonum.org/v1/gonum/spatial/r3"
)

// at is a place in a figure, mm to the right and up.
type at [2]float64

func (p at) vec() r3.Vec { return r3.Vec{X: p[0], Z: p[1]} }

// figure is a drawing in the plane of the side view.
type figure struct {
	s     *scene.Scene
	r     *row
	title string
	scale bool // what is drawn has its sizes where they are known
}

// thisID is the id of what the row means.
const thisID = "this"

func (r *row) figure(title string) *figure {
	return &figure{s: &scene.Scene{}, r: r, title: title}
}

// sizes is a figure of what has its sizes, as far as they are known.
func (r *row) sizes(title string) *figure {
	g := r.figure(title)
	g.scale = true
	return g
}

// done is the figure as a drawing; false where it says nothing of the row.
func (g *figure) done() (Drawing, bool) {
	d := Drawing{Scene: g.s, Lit: thisID, Views: []view.View{view.FromLeft}, Title: g.title}
	if !g.scale {
		d.Title += "; not to scale"
	}
	return d, len(g.s.Dimensions) > 0 || g.lit()
}

func (g *figure) lit() bool {
	_, ok := g.s.Selection(thisID)
	return ok
}

func (g *figure) part(p scene.Part, points ...at) {
	for _, q := range points {
		p.Line = append(p.Line, q.vec())
	}
	p.Plain = true
	g.s.Parts = append(g.s.Parts, p)
}

func (g *figure) line(role scene.Role, points ...at) { g.part(scene.Part{Role: role}, points...) }

// named is a line with what it is written beside it.
func (g *figure) named(name string, role scene.Role, points ...at) {
	g.part(scene.Part{Role: role, Name: name}, points...)
}

// center is a centre line.
func (g *figure) center(points ...at) {
	g.part(scene.Part{Role: scene.RoleAxis, Kind: scene.Chain}, points...)
}

// dashed is a line of what is thought and not there.
func (g *figure) dashed(points ...at) {
	g.part(scene.Part{Role: scene.RoleGround, Kind: scene.Dashed}, points...)
}

func (g *figure) box(role scene.Role, a, b at) {
	g.line(role, a, at{b[0], a[1]}, b, at{a[0], b[1]}, a)
}

// turned is a rectangle about a middle, turned by an angle, rad anticlockwise.
func (g *figure) turned(role scene.Role, middle at, wide, high, by float64) {
	sin, cos := math.Sincos(by)
	var out []at
	for _, c := range [][2]float64{{-1, -1}, {1, -1}, {1, 1}, {-1, 1}, {-1, -1}} {
		x, z := c[0]*wide/2, c[1]*high/2
		out = append(out, at{middle[0] + x*cos - z*sin, middle[1] + x*sin + z*cos})
	}
	g.line(role, out...)
}

func (g *figure) circle(role scene.Role, middle at, radius float64) {
	g.arc(role, middle, radius, 0, 2*math.Pi)
}

func (g *figure) arc(role scene.Role, middle at, radius, from, to float64) {
	const sides = 48
	var out []at
	for i := range sides + 1 {
		sin, cos := math.Sincos(from + (to-from)*float64(i)/sides)
		out = append(out, at{middle[0] + radius*cos, middle[1] + radius*sin})
	}
	g.line(role, out...)
}

// arrow is lit: the way that the row says.
func (g *figure) arrow(name string, from, to at) {
	g.part(scene.Part{ID: thisID, Role: scene.RoleDimension, Name: name}, from, to)
	dx, dz := to[0]-from[0], to[1]-from[1]
	for _, side := range []float64{0.35, -0.35} {
		sin, cos := math.Sincos(math.Pi + side)
		g.part(scene.Part{ID: thisID, Role: scene.RoleDimension}, to, at{to[0] + 0.25*(dx*cos-dz*sin), to[1] + 0.25*(dx*sin+dz*cos)})
	}
}

// sign is a point with a name, to find one's way by.
func (g *figure) sign(name string, p at) {
	g.s.Marks = append(g.s.Marks, scene.Mark{Role: scene.RolePad, At: p.vec(), Label: name})
}

// meant is the point that the row says.
func (g *figure) meant(p at) { g.spot(words(g.r.key()), p) }

// spot is one of them, by its name.
func (g *figure) spot(name string, p at) {
	g.s.Marks = append(g.s.Marks, scene.Mark{ID: thisID, Role: scene.RolePad, At: p.vec(), Label: name})
}

// dim is a length, where the row says that one.
func (g *figure) dim(key, of string, from, to at) {
	if key == g.r.key() {
		g.add(scene.Dimension{From: from.vec(), To: to.vec(), Of: of})
	}
}

// sized is a length that is known from elsewhere than the row, such as a table of sections, or
// else by the row.
func (g *figure) sized(of string, from, to at, size float64, known bool) {
	g.add(scene.Dimension{From: from.vec(), To: to.vec(), Of: of})
	if d := &g.s.Dimensions[len(g.s.Dimensions)-1]; known {
		d.Value, d.Kind = assess.Exact(size), quantity.Length
	}
}

// angle is one between two ways from an apex, rad anticlockwise from the right, where
// the row says that one.
func (g *figure) angle(key, of string, apex at, way, other, out float64) {
	if key != g.r.key() {
		return
	}
	dir := func(a float64) r3.Vec { return r3.Vec{X: math.Cos(a), Z: math.Sin(a)} }
	g.add(scene.Dimension{Angle: true, From: apex.vec(), Way: dir(way), Other: dir(other), About: r3.Vec{Y: 1}, Out: out, Of: of})
}

func (g *figure) add(d scene.Dimension) {
	d.ID, d.Fine, d.Value = thisID, true, g.r.value()
	d.Kind, _ = project.KindAt(g.r.path)
	g.s.Dimensions = append(g.s.Dimensions, d)
}

// both are the lengths to a point, along and up, without their figures: those are the
// row's three numbers.
func (g *figure) both(zero, p at, of [3]string) {
	if of[0] != "" && p[0] != zero[0] {
		g.add(scene.Dimension{From: r3.Vec{X: zero[0], Z: p[1]}, To: p.vec(), Of: of[0]})
	}
	if of[2] != "" && p[1] != zero[1] {
		g.add(scene.Dimension{From: r3.Vec{X: p[0], Z: zero[1]}, To: p.vec(), Of: of[2]})
	}
}
