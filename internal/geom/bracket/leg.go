package bracket

import (
	"math"

	"fitup/internal/geom"
	"fitup/internal/geom/section"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// Leg is a straight tube or bar between an isolator pad and a frame rail, in
// vehicle axes, mm. The pad's face looks to the leg, and so does the rail's:
// the leg stands between them.
type Leg struct {
	Name  string
	Shape section.Shape
	Pad   Face // where the axis starts; looks from the isolator to the leg
	Rail  Face // where the leg ends; looks from the rail to the leg

	// PadPlate and RailPlate are what lies between face and tube, mm: a plate
	// and its weld gap. They shorten the tube.
	PadPlate, RailPlate float64

	// Axis points from pad to rail, any length. Zero: straight to Rail.Point.
	Axis r3.Vec
	// Up is the way the side H of the section looks, as nearly as it can.
	// Zero: vehicle up, or forward for an upright leg.
	Up r3.Vec
	// Saw is what the saw can do. Nil: nothing is known of it, AnySaw.
	Saw *SawLimit
}

// Steepest is the angle from square beyond which a leg is refused: it would
// run along the face instead of standing on it.
const Steepest = 85 * geom.Deg

// Cut is a leg ready for the saw. Lengths are mm along the axis.
type Cut struct {
	Name       string
	Axis, U, V r3.Vec // unit vectors, see the package comment
	Foot       r3.Vec // where the axis meets the rail's face

	Length     float64 // along the axis, cut face to cut face
	LongPoint  float64 // longest line on the outside, along the axis
	ShortPoint float64 // shortest line on the outside
	Overall    float64 // tip to tip: the stock it is cut from, without kerf

	// Sides are the lengths along the middle of each side, indexed by Side; a
	// round section has its four quarter lines there. Corners are those along
	// the sharp corners of the envelope: top right, bottom right, bottom left,
	// top left, seen from the pad with V up.
	Sides, Corners [4]float64

	Pad, Rail End
	Twist     geom.Angle // Rail.Clock less Pad.Clock, in (-180°, 180°]
	Mass      float64    // kg
	Section   section.Properties
	// Centroid and ShearCentre lie off the axis along U and V, mm: the axis is the
	// middle of what a section is wide and high, which of a channel and an angle is not
	// where it is balanced.
	Centroid, ShearCentre r2.Vec

	outline outline
}

// End is one end of a cut leg.
type End struct {
	At     r3.Vec     // where the axis meets the cut, vehicle axes
	Normal r3.Vec     // of the cut, unit, along the axis from pad to rail
	Angle  geom.Angle // between the cut and a square cut: the saw swing for a round tube
	// Clock is where the long point of this end lies around the tube: from V
	// toward U, clockwise seen from the pad. Zero for a square cut.
	Clock geom.Angle
	// Saw holds the settings with each side down, in the order of Side; Best is
	// the one with the least tilt, then the least swing.
	Saw  [4]SawCut
	Best Side
	// Roll is the same cut without a tilt. Rolled: with no side flat on the
	// table does the saw reach the cut, but with the tube rolled it does.
	Roll   RollCut
	Rolled bool
	Steep  bool // the saw cannot make this cut, flat or rolled

	gu, gv float64 // rise of the cut along the axis per mm of U and of V
}

// Cut returns the lengths and saw settings of the leg, or why there is no such
// leg.
func (l Leg) Cut() (Cut, error) {
	sec, err := l.Shape.Properties()
	if err != nil {
		return Cut{}, &geom.PartError{Part: geom.PartName("leg", l.Name), Err: err}
	}
	f, err := l.frame()
	if err != nil {
		return Cut{}, err
	}
	c := Cut{Name: l.Name, Axis: f.d, Foot: r3.Add(l.Pad.Point, r3.Scale(f.run, f.d)), Section: sec}
	if c.V, err = across(f.d, l.Up); err != nil {
		return Cut{}, l.bad("the direction meant as up lies along the leg; choose one across it")
	}
	c.U = r3.Cross(f.d, c.V)
	c.outline = outlineOf(l.Shape, sec)
	if c.Centroid, c.ShearCentre, err = l.Shape.Centres(); err != nil {
		return Cut{}, &geom.PartError{Part: geom.PartName("leg", l.Name), Err: err}
	}

	saw := AnySaw
	if l.Saw != nil {
		saw = *l.Saw
	}
	start := l.PadPlate / r3.Dot(f.pad, f.d)
	end := f.run - l.RailPlate/r3.Dot(f.rail, f.d)
	c.Length = end - start
	if c.Length <= geom.Tiny {
		return Cut{}, l.bad("the plates take up all of the %.1f mm between pad and rail, so no leg is left; move the pad off the rail, or take thinner plates", f.run)
	}
	c.Pad = c.end(r3.Add(l.Pad.Point, r3.Scale(start, f.d)), f.pad, false, saw)
	c.Rail = c.end(r3.Add(l.Pad.Point, r3.Scale(end, f.d)), f.rail, true, saw)
	c.measure()
	if c.ShortPoint <= 0 {
		return Cut{}, l.bad("the two cuts meet inside the tube: at %.1f mm long it is too short for these angles; move its ends apart, or make its cuts less steep", c.Length)
	}
	return c, nil
}

func (l Leg) bad(format string, args ...any) error { return bad("leg", l.Name, format, args...) }

// legFrame is the axis of a leg and the two cut normals along it.
type legFrame struct {
	d, pad, rail r3.Vec
	run          float64 // pad point to rail face along the axis, mm
}

func (l Leg) frame() (legFrame, error) {
	var f legFrame
	if !finiteVec(l.Pad.Point, l.Pad.Normal, l.Rail.Point, l.Rail.Normal, l.Axis, l.Up) ||
		!(l.PadPlate >= 0 && l.RailPlate >= 0) || !geom.LoadOK(l.PadPlate, l.RailPlate) {
		return f, l.bad("a point, direction or plate thickness is not a usable number")
	}
	span := r3.Sub(l.Rail.Point, l.Pad.Point)
	if r3.Norm(l.Pad.Point) > geom.LimitLength || r3.Norm(l.Rail.Point) > geom.LimitLength {
		return f, l.bad("pad or rail lies beyond any vehicle")
	}
	axis := l.Axis
	if axis == (r3.Vec{}) {
		axis = span
	}
	var err error
	if f.d, err = geom.Unit(axis); err != nil {
		return f, l.bad("pad and rail are the same point, so the leg has no length; move one of the two")
	}
	if f.pad, err = geom.Unit(l.Pad.Normal); err != nil {
		return f, l.bad("the pad's face does not say which way it looks")
	}
	rail, err := geom.Unit(l.Rail.Normal)
	if err != nil {
		return f, l.bad("the rail's face does not say which way it looks")
	}
	f.rail = r3.Scale(-1, rail)
	for _, c := range []struct {
		what string
		n    r3.Vec
	}{{"pad", f.pad}, {"rail", f.rail}} {
		a := geom.Between(c.n, f.d)
		switch {
		case a > 180*geom.Deg-Steepest && c.what == "pad":
			return f, l.bad("the rail lies behind the pad: the leg would run into the isolator; turn the pad or move the rail")
		case a > 180*geom.Deg-Steepest:
			return f, l.bad("the leg comes at the rail from inside: the rail's face must look to the leg")
		case a > Steepest:
			return f, l.bad("the leg runs along the %s's face (%.1f° from square); it cannot stand on it: move its other end off that face", c.what, a.Degrees())
		}
	}
	f.run = r3.Dot(f.rail, span) / r3.Dot(f.rail, f.d)
	switch {
	case f.run < -geom.Tiny:
		return f, l.bad("the rail's face lies %.1f mm behind the pad along the axis", -f.run)
	case f.run <= geom.Tiny:
		return f, l.bad("the pad lies on the rail's face, so the leg has no length; move the pad off it")
	}
	return f, nil
}

// end describes a cut through at with the unit normal n along the axis.
func (c *Cut) end(at, n r3.Vec, rail bool, limit SawLimit) End {
	nd := r3.Dot(n, c.Axis)
	e := End{At: at, Normal: n, Angle: geom.Between(n, c.Axis)}
	e.gu, e.gv = -r3.Dot(n, c.U)/nd, -r3.Dot(n, c.V)/nd
	out := 1.0 // the tip is where the cut lies farther out
	if !rail {
		out = -1
	}
	if math.Hypot(e.gu, e.gv) > 1e-12 {
		e.Clock = geom.Angle(math.Atan2(out*e.gu, out*e.gv))
	}
	e.setSaw(c, rail, limit)
	return e
}

// measure fills in the lengths from the two ends.
func (c *Cut) measure() {
	gu, gv := c.Rail.gu-c.Pad.gu, c.Rail.gv-c.Pad.gv
	c.LongPoint, c.ShortPoint = c.Length+c.outline.reach(gu, gv), c.Length-c.outline.reach(-gu, -gv)
	c.Overall = c.Length + c.outline.reach(c.Rail.gu, c.Rail.gv) + c.outline.reach(-c.Pad.gu, -c.Pad.gv)
	u, v := c.outline.b/2, c.outline.h/2
	for i, k := range [4][2]float64{{1, 1}, {1, -1}, {-1, -1}, {-1, 1}} {
		c.Corners[i] = c.Length + gu*u*k[0] + gv*v*k[1]
	}
	for i, k := range [4][2]float64{Bottom: {0, -1}, Left: {-1, 0}, Top: {0, 1}, Right: {1, 0}} {
		c.Sides[i] = c.Length + gu*u*k[0] + gv*v*k[1]
	}
	c.Twist = wrap(c.Rail.Clock - c.Pad.Clock)
	c.Mass = c.Section.Mass * c.Length / 1000
}

// Line returns where the line of the tube at u, v (mm from the axis along U
// and V) starts and ends, mm along the axis from Pad.At.
func (c Cut) Line(u, v float64) (from, to float64) {
	return c.Pad.gu*u + c.Pad.gv*v, c.Length + c.Rail.gu*u + c.Rail.gv*v
}

// Forces returns what a force (N, vehicle axes) that acts at a point (mm) on
// the pad's side does to the leg where its axis meets the rail's cut: the part
// beyond the section pulls on the section: bending about its centroid, torsion about its
// shear centre. Screening only.
func (c Cut) Forces(force, at r3.Vec) (section.Forces, error) {
	if !finiteVec(force, at) || r3.Norm(force) > geom.LimitLoad || r3.Norm(at) > geom.LimitLength {
		return section.Forces{}, bad("leg", c.Name, "the force or its place is not a usable number")
	}
	m := r3.Cross(r3.Sub(at, c.Off(c.Rail.At, c.Centroid)), force)
	twist := r3.Cross(r3.Sub(at, c.Off(c.Rail.At, c.ShearCentre)), force)
	return section.Forces{
		Axial:  -r3.Dot(force, c.Axis), // the axis points at the rail: away from it is tension
		ShearY: r3.Dot(force, c.U), ShearZ: r3.Dot(force, c.V),
		MomentY: r3.Dot(m, c.U), MomentZ: r3.Dot(m, c.V), Torsion: r3.Dot(twist, c.Axis),
	}, nil
}

// Off is a place beside one on the axis, by mm along U and V.
func (c Cut) Off(axis r3.Vec, by r2.Vec) r3.Vec {
	return r3.Add(axis, r3.Add(r3.Scale(by.X, c.U), r3.Scale(by.Y, c.V)))
}

// wrap brings an angle into (-180°, 180°].
func wrap(a geom.Angle) geom.Angle {
	r := geom.Angle(math.Remainder(a.Rad(), 2*math.Pi))
	if r <= -math.Pi {
		r += 2 * math.Pi
	}
	return r
}
