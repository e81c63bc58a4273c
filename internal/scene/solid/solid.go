// Package solid holds the solids of a drawing: each one convex, with flat faces
// and the edges between them. What is not convex is drawn as several.
package solid

import (
	"math"

	"fitup/internal/geom"

	"gonum.org/v1/gonum/spatial/r3"
)

// Look says when an edge is drawn.
type Look uint8

// The looks of an edge.
const (
	Sharp  Look = iota // wherever it can be seen
	Smooth             // where the surface turns away from the eye: part of a curved one
	Never              // where two solids go on into each other
)

// Solid is convex. Points are mm, in the axes of whoever made it.
type Solid struct {
	Points []r3.Vec
	Faces  []Face
	Edges  []Edge
}

// Face is a flat side: all of the solid lies where Normal·p is at most Off.
type Face struct {
	Normal r3.Vec // unit, outward
	Off    float64
	Size   float64 // area, mm²
}

// Edge runs between two points, by index, and parts two faces.
type Edge struct {
	A, B        int
	Left, Right int
	Look        Look
}

// smooth is the largest turn between two sides that are one curved surface: that
// of a cylinder of twelve sides, and a little.
const smooth = 31 * math.Pi / 180

// Loft is the solid between two flat rings of as many points, each point joined
// to the one of the same place in the other ring: a bar with its two ends.
// Neighbouring sides that hardly turn are taken for one curved surface. It is
// false where that encloses nothing.
func Loft(a, b []r3.Vec) (Solid, bool) {
	n := len(a)
	if n < 3 || len(b) != n {
		return Solid{}, false
	}
	s := Solid{Points: make([]r3.Vec, 0, 2*n), Faces: make([]Face, 0, n+2), Edges: make([]Edge, 0, 3*n)}
	s.Points = append(append(s.Points, a...), b...)
	middle := centre(s.Points)
	if !s.face(middle, a...) || !s.face(middle, b...) {
		return Solid{}, false
	}
	for i := range n {
		j := (i + 1) % n
		if !s.face(middle, a[i], a[j], b[j], b[i]) {
			return Solid{}, false
		}
	}
	for i := range n {
		j, side := (i+1)%n, 2+i
		s.Edges = append(s.Edges, Edge{A: i, B: j, Left: 0, Right: side})
	}
	for i := range n {
		j, side := (i+1)%n, 2+i
		s.Edges = append(s.Edges, Edge{A: n + i, B: n + j, Left: 1, Right: side})
	}
	for i := range n {
		l, r := 2+(i+n-1)%n, 2+i
		e := Edge{A: i, B: n + i, Left: l, Right: r}
		if r3.Dot(s.Faces[l].Normal, s.Faces[r].Normal) > math.Cos(smooth) {
			e.Look = Smooth
		}
		s.Edges = append(s.Edges, e)
	}
	return s, true
}

// face adds the face round the points, which looks away from the middle of the
// solid. It is false where they enclose nothing.
func (s *Solid) face(middle r3.Vec, round ...r3.Vec) bool {
	var n r3.Vec // Newell's method: exact for flat rings, the best plane for others
	for i, p := range round {
		q := round[(i+1)%len(round)]
		n.X += (p.Y - q.Y) * (p.Z + q.Z)
		n.Y += (p.Z - q.Z) * (p.X + q.X)
		n.Z += (p.X - q.X) * (p.Y + q.Y)
	}
	at := centre(round)
	u, err := geom.Unit(n)
	if err != nil {
		return false
	}
	out := r3.Dot(u, r3.Sub(at, middle))
	if !(math.Abs(out) > geom.Tiny) {
		return false
	}
	if out < 0 {
		u = r3.Scale(-1, u)
	}
	s.Faces = append(s.Faces, Face{Normal: u, Off: r3.Dot(u, at), Size: r3.Norm(n) / 2})
	return true
}

func centre(ps []r3.Vec) r3.Vec {
	var c r3.Vec
	for _, p := range ps {
		c = r3.Add(c, p)
	}
	return r3.Scale(1/float64(len(ps)), c)
}

// Box is a box about the origin of a pose, with half its sizes along the pose's
// own axes, mm; false where one of them is nothing.
func Box(pose geom.Pose, half r3.Vec) (Solid, bool) {
	end := func(x float64) []r3.Vec {
		return []r3.Vec{
			pose.Point(r3.Vec{X: x, Y: -half.Y, Z: -half.Z}), pose.Point(r3.Vec{X: x, Y: half.Y, Z: -half.Z}),
			pose.Point(r3.Vec{X: x, Y: half.Y, Z: half.Z}), pose.Point(r3.Vec{X: x, Y: -half.Y, Z: half.Z}),
		}
	}
	return Loft(end(-half.X), end(half.X))
}

// Rod is a round bar from a to b, mm, cut off square, of so many sides; false
// where it has no length or no thickness. Its corners lie on the round.
func Rod(a, b r3.Vec, radius float64, sides int) (Solid, bool) {
	pose, ok := Along(r3.Sub(b, a))
	if !ok || !(radius > 0) || sides < 3 {
		return Solid{}, false
	}
	ring := func(at r3.Vec) []r3.Vec {
		out := make([]r3.Vec, sides)
		for i := range out {
			sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(sides))
			out[i] = r3.Add(at, r3.Add(r3.Scale(radius*cos, pose.Y), r3.Scale(radius*sin, pose.Z)))
		}
		return out
	}
	return Loft(ring(a), ring(b))
}

// Along is a frame whose X axis points along d and whose Y and Z lie as level
// and as upright, or as square to the vehicle, as that leaves them; false where d
// points nowhere.
func Along(d r3.Vec) (geom.Pose, bool) {
	x, err := geom.Unit(d)
	if err != nil {
		return geom.Pose{}, false
	}
	up := r3.Vec{Z: 1}
	if math.Abs(x.Z) > 0.9 {
		up = r3.Vec{X: 1}
	}
	y, err := geom.Unit(r3.Cross(up, x))
	if err != nil {
		return geom.Pose{}, false
	}
	return geom.Pose{X: x, Y: y, Z: r3.Cross(x, y)}, true
}

// Inside reports whether a point lies in the solid, at least margin mm from its
// surface; a negative margin takes in what lies that far outside.
func (s *Solid) Inside(p r3.Vec, margin float64) bool {
	for _, f := range s.Faces {
		if r3.Dot(f.Normal, p) > f.Off-margin {
			return false
		}
	}
	return true
}

// Moved is the solid after a rigid motion, or placed from its own frame.
func (s Solid) Moved(m geom.Pose) Solid {
	out := Solid{Points: make([]r3.Vec, len(s.Points)), Faces: make([]Face, len(s.Faces)), Edges: s.Edges}
	for i, p := range s.Points {
		out.Points[i] = m.Point(p)
	}
	for i, f := range s.Faces {
		n := m.Dir(f.Normal)
		out.Faces[i] = Face{Normal: n, Off: f.Off + r3.Dot(n, m.At), Size: f.Size}
	}
	return out
}

// Room is the box along the vehicle's axes that holds the solid.
func (s *Solid) Room() r3.Box {
	b := r3.Box{Min: s.Points[0], Max: s.Points[0]}
	for _, p := range s.Points[1:] {
		b.Min = r3.Vec{X: min(b.Min.X, p.X), Y: min(b.Min.Y, p.Y), Z: min(b.Min.Z, p.Z)}
		b.Max = r3.Vec{X: max(b.Max.X, p.X), Y: max(b.Max.Y, p.Y), Z: max(b.Max.Z, p.Z)}
	}
	return b
}
