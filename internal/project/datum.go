package project

import (
	"fmt"
	"slices"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"
)

// The datums that are no point.
const (
	datumFloor     = "floor"
	datumLeftRail  = "rails.left.top"
	datumRightRail = "rails.right.top"
	chassisPrefix  = "chassis."
)

// Datums lists what a point of this build can be measured from.
func (b *Build) Datums() []string {
	out := append(b.PointPaths(), datumLeftRail, datumRightRail, datumFloor)
	for _, p := range b.Chassis {
		for _, f := range faces {
			if _, _, ok := p.face(f.name); ok && p.Name != "" {
				out = append(out, strings.TrimSuffix(chassisPrefix+p.Name+"."+f.name, "."))
			}
		}
	}
	return out
}

// faces are those of a box, and "" is a flat surface itself.
var faces = []struct {
	name string
	axis int
	far  bool // the larger coordinate of the two corners
}{{"front", 0, false}, {"rear", 0, true}, {"left", 1, false}, {"right", 1, true}, {"bottom", 2, false}, {"top", 2, true}, {"", 0, false}}

// face returns the axis on which a face of the part has its place and the key of
// the point that it goes by; false when the part has no such face.
func (p ChassisPart) face(name string) (axis int, key string, ok bool) {
	if name == "" {
		axis, ok = map[Facing]int{"front": 0, "rear": 0, "left": 1, "right": 1, "up": 2, "down": 2}[p.Facing]
		return axis, "on", ok && p.On.given()
	}
	if !p.From.given() || !p.To.given() || p.Radius.Known() {
		return 0, "", false
	}
	for _, f := range faces {
		if f.name == name {
			from, to := coordinates(p.From.At)[f.axis], coordinates(p.To.At)[f.axis]
			if (to > from) == f.far {
				return f.axis, "to", true
			}
			return f.axis, "from", true
		}
	}
	return 0, "", false
}

// given reports whether the file says where the point is, by numbers or by name.
func (p Point) given() bool { return p.Known || p.Ref != "" }

// faceNamed finds the part and the face that a datum such as chassis.bonnet or
// chassis.crossmember.rear names.
func (b *Build) faceNamed(datum string) (part int, face string, ok bool) {
	name, ok := strings.CutPrefix(datum, chassisPrefix)
	if !ok {
		return 0, "", false
	}
	for i, p := range b.Chassis {
		for _, f := range faces {
			if _, _, has := p.face(f.name); has && name == strings.TrimSuffix(p.Name+"."+f.name, ".") {
				return i, f.name, true
			}
		}
	}
	return 0, "", false
}

// placer works out where the points of a build lie. Points may be measured from
// each other, and rails and parts be given by points, so each is asked for as it
// is needed.
type placer struct {
	b     *Build
	done  map[string]PlacedPoint // by path
	stack []string               // what is being worked out
	loop  []string               // a circle that was met
}

// place works out a point.
func (r *placer) place(path string) PlacedPoint {
	if p, ok := r.done[path]; ok {
		return p
	}
	i := slices.IndexFunc(r.b.Points, func(m MeasuredPoint) bool { return m.Path() == path })
	if i < 0 {
		return PlacedPoint{Why: "there is no [" + path + "] in the file"}
	}
	m := r.b.Points[i]
	if !r.enter(path) {
		return PlacedPoint{Name: m.Name, Why: "it is measured from itself"}
	}
	p := r.placeFrom(m)
	r.leave()
	r.done[path] = p
	return p
}

// enter notes what is being worked out, and refuses a circle.
func (r *placer) enter(path string) bool {
	if i := slices.Index(r.stack, path); i >= 0 {
		if r.loop == nil {
			r.loop = append(slices.Clone(r.stack[i:]), path)
		}
		return false
	}
	r.stack = append(r.stack, path)
	return true
}

func (r *placer) leave() { r.stack = r.stack[:len(r.stack)-1] }

func (r *placer) placeFrom(m MeasuredPoint) PlacedPoint {
	p := PlacedPoint{Name: m.Name}
	var missing []string
	var own [3]float64
	var terms []Term
	for axis, c := range []struct {
		key string
		Coordinate
	}{{"station", m.Station}, {"offset", m.Offset.Coordinate}, {"height", m.Height}} {
		mean, known := c.Get()
		if !known {
			missing = append(missing, c.key)
			continue
		}
		own[axis] = mean
		t := Term{Path: m.Path() + "." + c.key, Dir: along(axis, 1), Value: mean, Half: c.half, Tool: m.With}
		if len(c.Repeats) > 1 {
			t.Repeats = c.Repeats
		}
		terms = append(terms, t)
	}
	switch {
	case len(missing) == 3 && r.b.Surveys(m.Path()):
		return r.bySurvey(m)
	case len(missing) == 3:
		p.Why = "nothing of " + m.Path() + " is measured yet"
		return p
	case len(missing) > 0:
		p.Why = "not in the file yet: " + m.Path() + "." + strings.Join(missing, ", "+m.Path()+".")
		return p
	}
	base := r.datum(m.From, own[0], terms[0])
	if !base.Known {
		p.Why, p.Waits = base.Why, base.Waits
		return p
	}
	p.Known, p.Assumes = true, base.Assumes
	p.At = r3.Add(base.At, r3.Vec{X: own[0], Y: own[1], Z: own[2]})
	p.Terms = append(slices.Clone(base.Terms), terms...)
	return p
}

// datum is what is measured from, for a point at that station: 0 along the axes
// on which it has no place.
func (r *placer) datum(from string, station float64, stationTerm Term) PlacedPoint {
	switch from {
	case "":
		return PlacedPoint{Known: true}
	case datumFloor:
		return r.floor()
	case datumLeftRail:
		return r.edge("left", r.b.Rails.Left, station, stationTerm)
	case datumRightRail:
		return r.edge("right", r.b.Rails.Right, station, stationTerm)
	}
	if strings.HasPrefix(from, pointPrefix) {
		return r.place(from)
	}
	i, face, ok := r.b.faceNamed(from)
	if !ok {
		return PlacedPoint{Why: "there is no " + from + " to measure from"}
	}
	if !r.enter(from) {
		return PlacedPoint{Why: "it is measured from itself"}
	}
	defer r.leave()
	part := r.b.Chassis[i]
	part.From, part.To, part.On = r.found(part.From), r.found(part.To), r.found(part.On)
	axis, key, _ := part.face(face)
	at := map[string]Point{"on": part.On, "from": part.From, "to": part.To}[key]
	if !at.Known {
		return PlacedPoint{Why: "where " + from + " lies is not known yet", Waits: r.waits(at)}
	}
	return PlacedPoint{Known: true, At: along(axis, coordinates(at.At)[axis]),
		Terms: r.terms(fmt.Sprintf("chassis[%d].%s", i, key), at, along(axis, 1))}
}

// found is a point with its place, where it is given by name.
func (r *placer) found(p Point) Point {
	if p.Ref != "" {
		at := r.place(p.Ref)
		p.At, p.Known, p.Half, p.By = r3.Add(at.At, p.Off), at.Known, r.b.HalfWidths(at), nil
		for _, t := range at.Terms {
			if t.Survey {
				p.By = append(p.By, t)
			}
		}
	}
	return p
}

// terms is what the place of a point rests on, as far as that moves along dir
// something that moves with it along the coordinates of by.
func (r *placer) terms(path string, p Point, by r3.Vec) []Term {
	var out []Term
	if p.Ref != "" {
		for _, t := range r.place(p.Ref).Terms {
			t.Dir = r3.Vec{X: by.X * t.Dir.X, Y: by.Y * t.Dir.Y, Z: by.Z * t.Dir.Z}
			if t.Dir != (r3.Vec{}) {
				out = append(out, t)
			}
		}
		return out
	}
	value, half, c := coordinates(p.At), coordinates(p.Half), coordinates(by)
	for axis := range 3 {
		if c[axis] != 0 {
			out = append(out, Term{Path: fmt.Sprintf("%s[%d]", path, axis), Dir: along(axis, c[axis]), Value: value[axis], Half: half[axis]})
		}
	}
	return out
}

// floor is the plane that the vehicle stands on, as far as the file says where.
func (r *placer) floor() PlacedPoint {
	v := r.b.Vehicle
	axle, ok1 := v.AxleHeight.Get()
	tyre, ok2 := v.WheelDiameter.Get()
	if !ok1 || !ok2 {
		return PlacedPoint{Why: "where the floor is takes vehicle.axle_height and vehicle.tyre_diameter"}
	}
	up := func(path string, by, value, half float64) Term {
		return Term{Path: path, Dir: r3.Vec{Z: by}, Value: value, Half: half}
	}
	axleHalf, _ := v.AxleHeight.HalfWidth()
	tyreHalf, _ := v.WheelDiameter.HalfWidth()
	return PlacedPoint{
		Known: true, At: r3.Vec{Z: axle - tyre/2},
		Terms:   []Term{up("vehicle.axle_height", 1, axle, axleHalf), up("vehicle.tyre_diameter", -0.5, tyre, tyreHalf)},
		Assumes: []string{"the floor lies half a tyre's diameter below the axle centres, and along the vehicle's axes"},
	}
}

// edge is the inner top edge of a rail at a station: straight between two of its
// points. How sure the stations of those points are does not count: a rail rises
// by a few thousandths of its length.
func (r *placer) edge(side string, rail Rail, station float64, stationTerm Term) PlacedPoint {
	from := "rails." + side + ".top"
	if !r.enter(from) {
		return PlacedPoint{Why: "it is measured from itself"}
	}
	defer r.leave()
	points := make([]Point, len(rail.Points))
	for i, p := range rail.Points {
		if points[i] = r.found(p); !points[i].Known {
			return PlacedPoint{Why: fmt.Sprintf("rails.%s.points[%d] is not known yet", side, i), Waits: r.waits(p)}
		}
	}
	for i := 1; i < len(points); i++ {
		a, b := points[i-1].At, points[i].At
		if station < a.X || station > b.X || b.X <= a.X {
			continue
		}
		t := (station - a.X) / (b.X - a.X)
		slope := r3.Scale(1/(b.X-a.X), r3.Sub(b, a)) // per mm of station
		at := r3.Add(r3.Scale(1-t, a), r3.Scale(t, b))
		out := PlacedPoint{Known: true, At: r3.Vec{Y: at.Y, Z: at.Z}}
		path := fmt.Sprintf("rails.%s.points", side)
		for j, w := range []float64{1 - t, t} {
			k := i - 1 + j
			out.Terms = append(out.Terms, r.terms(fmt.Sprintf("%s[%d]", path, k), points[k], r3.Vec{Y: w, Z: w})...)
		}
		// the station itself also says where along the edge
		if slope.Y != 0 || slope.Z != 0 {
			stationTerm.Dir = r3.Vec{Y: slope.Y, Z: slope.Z}
			out.Terms = append(out.Terms, stationTerm)
		}
		return out
	}
	if len(points) < 2 {
		return PlacedPoint{Why: fmt.Sprintf("rails.%s.points is not in the file yet", side)}
	}
	return PlacedPoint{Why: fmt.Sprintf("the %s rail runs from station %g to %g mm, and the point lies at %g", side, points[0].At.X, points[len(points)-1].At.X, station)}
}
