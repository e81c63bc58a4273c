package scene

import (
	"math"

	"fitup/internal/assess"
	"fitup/internal/geom"
	"fitup/internal/geom/clear"

	"gonum.org/v1/gonum/spatial/r3"
)

// surfaceSize is how far a flat surface is drawn to each side of its point, mm.
const surfaceSize = 250

// chassis draws what the powertrain has to keep clear of.
func (s *Scene) chassis(a *assess.Assessment) {
	for _, c := range a.Build.Chassis {
		if shape, err := assess.ChassisShape(c); err == nil {
			s.shape(RoleChassis, c.Name, shape)
		}
	}
}

// shape draws a solid of any kind in vehicle axes.
func (s *Scene) shape(role Role, name string, shape clear.Shape) {
	switch x := shape.(type) {
	case clear.Point:
		s.Marks = append(s.Marks, Mark{Role: role, At: x.At, Label: name})
	case clear.Sphere:
		s.Circles = append(s.Circles, Circle{role, x.At, x.R})
	case clear.Segment:
		s.rod(role, name, x)
	case clear.Box:
		s.Solids = append(s.Solids, solid(role, name, x.Pose, x.Half))
	case clear.Plane:
		s.surface(role, x)
	}
}

func solid(role Role, name string, pose geom.Pose, half r3.Vec) Solid {
	out := Solid{Role: role, Name: name}
	for i := range out.Corners {
		p := half
		if i&1 == 0 {
			p.X = -p.X
		}
		if i&2 == 0 {
			p.Y = -p.Y
		}
		if i&4 == 0 {
			p.Z = -p.Z
		}
		out.Corners[i] = pose.Point(p)
	}
	return out
}

// rod is drawn as the square bar round it.
func (s *Scene) rod(role Role, name string, x clear.Segment) {
	d := r3.Sub(x.B, x.A)
	pose, ok := along(d)
	if !ok {
		s.Circles = append(s.Circles, Circle{role, x.A, x.R})
		return
	}
	pose.At = r3.Scale(0.5, r3.Add(x.A, x.B))
	s.Solids = append(s.Solids, solid(role, name, pose, r3.Vec{X: r3.Norm(d) / 2, Y: x.R, Z: x.R}))
}

// surface is drawn as a dashed square about its point.
func (s *Scene) surface(role Role, x clear.Plane) {
	pose, ok := along(x.Normal)
	if !ok {
		return
	}
	pose.At = x.On
	var pts []r3.Vec
	for _, c := range [][2]float64{{-1, -1}, {1, -1}, {1, 1}, {-1, 1}, {-1, -1}} {
		pts = append(pts, pose.Point(r3.Vec{Y: c[0] * surfaceSize, Z: c[1] * surfaceSize}))
	}
	s.Strokes = append(s.Strokes, Stroke{Role: role, Dashed: true, Points: pts})
}

// along is a frame whose X axis points along d and whose Y and Z lie as level
// and as upright, or as square to the vehicle, as that leaves them.
func along(d r3.Vec) (geom.Pose, bool) {
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
