package scene

import (
	"math"

	"fitup/internal/assess"
	"fitup/internal/geom"
	"fitup/internal/geom/clear"
	"fitup/internal/geom/wheel"
	"fitup/internal/project"
	"fitup/internal/scene/hidden"
	"fitup/internal/scene/solid"

	"gonum.org/v1/gonum/spatial/r3"
)

// vehicle draws what the vehicle brings along.
func (s *Scene) vehicle(a *assess.Assessment) {
	s.rail("left", a.Build.Rails.Left, -1)
	s.rail("right", a.Build.Rails.Right, 1)
	s.plates("left", a.Build.Rails.Rail(project.LeftSide), -1)
	s.plates("right", a.Build.Rails.Rail(project.RightSide), 1)
	s.wheels(a.Build.Vehicle)
	for i, c := range a.Build.Chassis {
		if shape, err := assess.ChassisShape(c); err == nil {
			id := ""
			if i < len(a.Clearances) {
				id = a.Clearances[i].ID
			}
			s.shape(Part{ID: id, Name: c.Name, Role: RoleChassis}, shape)
			s.opening(id, c)
		}
	}
	for _, l := range a.Build.Lines {
		s.suspension(l)
	}
}

// rail draws a rail as one bar from each of its points to the next; side is -1
// for the left one and 1 for the right one. Without a section it is the line
// that is known of it.
func (s *Scene) rail(name string, r project.Rail, side float64) {
	points := assess.RailPoints(r)
	h, w := r.Height.Or(0), r.Width.Or(0)
	out, down := r3.Vec{Y: side * w}, r3.Vec{Z: -h}
	p := Part{ID: "rails." + name, Role: RoleRail}
	if h <= 0 || w <= 0 {
		p.Name, p.Line = name+" rail", points
		s.add(p)
		return
	}
	ring := func(q r3.Vec) []r3.Vec {
		return []r3.Vec{q, r3.Add(q, out), r3.Add(q, r3.Add(out, down)), r3.Add(q, down)}
	}
	for i := 1; i < len(points); i++ {
		bar, ok := solid.Loft(ring(points[i-1]), ring(points[i]))
		for k := range bar.Edges { // where it goes on into the next there is no edge
			if e := &bar.Edges[k]; e.Left == 0 && i > 1 || e.Left == 1 && i+1 < len(points) {
				e.Look = solid.Never
			}
		}
		p.Solid, p.Name = made(bar, ok), ""
		if i == (len(points)+1)/2 { // the middle one has the name
			p.Name = name + " rail"
		}
		s.add(p)
	}
}

// wheels draws the wheels of each axle, its line, and the ground. Without the
// track and the width of the tyre they are drawn as they are seen from the side,
// which is all that is known of where they stand.
func (s *Scene) wheels(v project.Vehicle) {
	front := v.FrontAxle.Or(0)
	stations := []float64{front}
	if wb, ok := v.Wheelbase.Get(); ok && wb > 0 {
		stations = append(stations, front+wb)
	}
	height, level := v.AxleHeight.Get()
	tyre, err := wheel.Parse(v.Tyre)
	d, known := v.WheelDiameter.Get()
	if !known && err == nil {
		d, _ = tyre.Diameter()
	}
	if !(d > 0) {
		return
	}
	rim := 25.4 * float64(tyre.Rim)
	if err != nil || rim >= d {
		rim = 0
	}
	for i, x := range stations {
		id := "axle." + [2]string{"front", "rear"}[i]
		half := 500.0 // mm of axle line to each side
		if track := [2]float64{v.FrontTrack.Or(0), v.RearTrack.Or(0)}[i]; track > 0 && err == nil && tyre.Section > 0 {
			s.wheel(id, r3.Vec{X: x, Y: -track / 2, Z: height}, -1, float64(tyre.Section), d, rim)
			s.wheel(id, r3.Vec{X: x, Y: track / 2, Z: height}, 1, float64(tyre.Section), d, rim)
			half = track / 2
		} else {
			at := r3.Vec{X: x, Z: height}
			s.add(Part{ID: id, Role: RoleWheel, Line: circle(at, d/2), Side: 'y'})
			if rim > 0 {
				s.add(Part{ID: id, Role: RoleWheel, Line: circle(at, rim/2), Side: 'y'})
			}
		}
		s.add(Part{ID: id, Role: RoleWheel, Kind: Chain, Plain: true, Line: []r3.Vec{{X: x, Y: -half, Z: height}, {X: x, Y: half, Z: height}}})
	}
	if level {
		s.Ground = assess.Exact(height - d/2)
	}
}

// wheel draws a tyre and, on its outer side, its rim; out is -1 on the left and 1
// on the right.
func (s *Scene) wheel(id string, at r3.Vec, out, width, diameter, rim float64) {
	const sides = 32
	half := r3.Vec{Y: out * width / 2}
	tyre := made(solid.Rod(r3.Sub(at, half), r3.Add(at, half), diameter/2, sides))
	s.add(Part{ID: id, Role: RoleWheel, Solid: tyre})
	if rim > 0 {
		s.add(Part{ID: id, Role: RoleWheel, Line: circle(r3.Add(at, half), rim/2)})
	}
}

// circle goes once round a place in the plane of the side view.
func circle(at r3.Vec, radius float64) []r3.Vec {
	const sides = 48
	out := make([]r3.Vec, sides+1)
	for i := range out {
		sin, cos := math.Sincos(2 * math.Pi * float64(i%sides) / sides)
		out[i] = r3.Add(at, r3.Vec{X: radius * cos, Z: radius * sin})
	}
	return out
}

// roundSides is how many sides a rod is drawn with.
const roundSides = 16

// shape draws a solid of any kind in vehicle axes.
func (s *Scene) shape(p Part, shape clear.Shape) {
	switch x := shape.(type) {
	case clear.Point:
		s.Marks = append(s.Marks, Mark{ID: p.ID, Role: p.Role, At: x.At, Label: p.Name})
		return
	case clear.Sphere:
		p.Ball = &hidden.Ball{At: x.At, Radius: x.R}
	case clear.Segment:
		if rod, ok := solid.Rod(x.A, x.B, x.R, roundSides); ok {
			p.Solid, p.Line, p.Thick = &rod, []r3.Vec{x.A, x.B}, 2*x.R
		} else if x.A == x.B && x.R > 0 {
			p.Ball = &hidden.Ball{At: x.A, Radius: x.R}
		} else {
			p.Line = []r3.Vec{x.A, x.B}
		}
	case clear.Box:
		p.Solid = made(solid.Box(x.Pose, x.Half))
	case clear.Plane:
		p.Line, p.Kind = surface(x), Dashed
	}
	s.add(p)
}

// surfaceSize is how far a flat surface is drawn to each side of its point, mm.
const surfaceSize = 250

// surface is drawn as a square about its point.
func surface(x clear.Plane) []r3.Vec {
	pose, ok := solid.Along(x.Normal)
	if !ok {
		return nil
	}
	pose.At = x.On
	var out []r3.Vec
	for _, c := range [][2]float64{{-1, -1}, {1, -1}, {1, 1}, {-1, 1}, {-1, -1}} {
		out = append(out, pose.Point(r3.Vec{Y: c[0] * surfaceSize, Z: c[1] * surfaceSize}))
	}
	return out
}

// suspension draws springs, links and the pieces of an axle at ride height.
func (s *Scene) suspension(l project.Line) {
	u, id := l.Suspension, "line."+l.Name+".axle"
	for _, x := range u.Part {
		if shape, err := assess.PartShape(project.Part(x)); err == nil {
			s.shape(Part{ID: id, Name: x.Name, Role: RoleChassis}, shape)
		}
	}
	s.join(Part{ID: id, Name: "leaf spring", Role: RoleChassis}, u.FixedEye, u.Seat, u.ShackleEye, u.ShacklePivot)
	for _, k := range u.Link {
		s.join(Part{ID: id, Name: k.Name, Role: RoleChassis}, k.Chassis, k.Axle)
	}
	for _, k := range u.Strap {
		s.join(Part{ID: id, Name: k.Name + " strap", Role: RoleChassis}, k.Chassis, k.Axle)
	}
}

// join draws a run of lines through points that are all known.
func (s *Scene) join(p Part, points ...project.Point) {
	for _, q := range points {
		if !q.Known {
			return
		}
		p.Line = append(p.Line, q.At)
	}
	s.add(p)
}

// footOn is the place across from a pad on a rail's inner top edge; false
// where the rail does not reach.
func footOn(pad r3.Vec, rail []r3.Vec) (r3.Vec, bool) {
	for i := 1; i < len(rail); i++ {
		p, q := rail[i-1], rail[i]
		if pad.X >= p.X && pad.X <= q.X && q.X > p.X {
			return r3.Add(p, r3.Scale((pad.X-p.X)/(q.X-p.X), r3.Sub(q, p))), true
		}
	}
	return r3.Vec{}, false
}

// railSection draws a rail cut through at a place of its inner top edge; side
// is -1 for the left rail and 1 for the right one.
func (s *Scene) railSection(foot r3.Vec, name string, r project.Rail, side float64) {
	out, down := r3.Vec{Y: side * r.Width.Or(0)}, r3.Vec{Z: -r.Height.Or(0)}
	s.add(Part{ID: "rails." + name, Name: name + " rail", Role: RoleRail, Side: 'x', Plain: true,
		Line: []r3.Vec{foot, r3.Add(foot, out), r3.Add(foot, r3.Add(out, down)), r3.Add(foot, down), foot}})
}

// direction is a way given by slope and heading, rad.
func direction(slope, heading float64) r3.Vec {
	return geom.Direction(geom.Angle(slope), geom.Angle(heading))
}
