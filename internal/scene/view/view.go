// Package view is how a drawing looks at the vehicle: parallel projection (ISO
// 5456-2), so that what lies in the plane of the drawing keeps its length and
// its angles.
package view

import (
	"fmt"
	"math"
	"strings"

	"fitup/internal/geom"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// View is one way to look at the vehicle. Turn is how far the eye stands round
// it, rad: 0 on the left, a quarter turn behind, half a turn on the right. Tilt is
// how far above it the eye stands, rad: 0 level with it, a quarter turn over it.
type View struct{ Turn, Tilt geom.Angle }

// The views of a drawing. The side view has the front at the left, the plan the
// driver's right up. The front mounts are looked at from behind, so that left
// and right are the driver's.
var (
	FromLeft     = View{}
	FromAbove    = View{Tilt: steps(6)}
	FromBehind   = View{Turn: steps(6)}
	ThreeQuarter = View{Turn: steps(-3), Tilt: steps(2)}
)

// Step is how far one step turns or tilts a view, rad: 15°.
const Step geom.Angle = math.Pi / 12

// steps is so many of them: the same number however one comes there.
func steps(n int) geom.Angle { return geom.Angle(n) * Step }

// Named returns the views of a drawing, in order.
func Named() []View { return []View{FromLeft, FromAbove, FromBehind, ThreeQuarter} }

// Turned is the view with the eye moved by steps round the vehicle and above
// it. It goes no further up or down than straight over or under it.
func (v View) Turned(round, up int) View {
	at := func(a geom.Angle) int { return int(math.Round(float64(a / Step))) }
	turn := (at(v.Turn) + round) % 24
	if turn > 12 {
		turn -= 24
	} else if turn <= -12 {
		turn += 24
	}
	tilt := max(-6, min(6, at(v.Tilt)+up))
	return View{Turn: steps(turn), Tilt: steps(tilt)}
}

// Along reports whether one looks along one of the vehicle's axes, so that the
// other two keep their lengths.
func (v View) Along() bool {
	_, _, toward := v.Axes()
	return max(math.Abs(toward.X), math.Abs(toward.Y), math.Abs(toward.Z)) > 1-1e-9
}

// Axes are the ways to the right of the drawing, up it, and out of it to the
// eye: unit vectors in vehicle axes, right-handed in that order.
func (v View) Axes() (right, up, toward r3.Vec) {
	sa, ca := math.Sincos(v.Turn.Rad())
	sb, cb := math.Sincos(v.Tilt.Rad())
	right = r3.Vec{X: ca, Y: sa}
	toward = r3.Vec{X: cb * sa, Y: -cb * ca, Z: sb}
	return right, r3.Cross(toward, right), toward
}

// Sight is a view made ready to look at many points.
type Sight struct{ right, up, toward r3.Vec }

// Sight makes the view ready.
func (v View) Sight() Sight {
	r, u, t := v.Axes()
	return Sight{r, u, t}
}

// See is a point or direction in vehicle axes as it is seen: x to the right of
// the drawing, y up it, z towards the eye, mm.
func (s Sight) See(p r3.Vec) r3.Vec {
	return r3.Vec{X: r3.Dot(p, s.right), Y: r3.Dot(p, s.up), Z: r3.Dot(p, s.toward)}
}

// At is a point in vehicle axes on the drawing, mm.
func (s Sight) At(p r3.Vec) r2.Vec { return r2.Vec{X: r3.Dot(p, s.right), Y: r3.Dot(p, s.up)} }

// String names a view.
func (v View) String() string {
	switch v {
	case FromLeft:
		return "side view, from the left"
	case FromAbove:
		return "plan view, from above"
	case FromBehind:
		return "seen from behind"
	}
	return v.from()
}

// from says where the eye of a turned view stands.
func (v View) from() string {
	_, _, t := v.Axes()
	level := math.Hypot(t.X, t.Y)
	deg := int(math.Round(math.Abs(v.Tilt.Degrees())))
	if level < 1e-9 {
		if t.Z > 0 {
			return "view from above, turned"
		}
		return "view from below"
	}
	var from []string
	switch {
	case t.X < -0.2*level:
		from = append(from, "front")
	case t.X > 0.2*level:
		from = append(from, "rear")
	}
	switch {
	case t.Y < -0.2*level:
		from = append(from, "left")
	case t.Y > 0.2*level:
		from = append(from, "right")
	}
	s := "view from the " + strings.Join(from, " ")
	switch {
	case v.Tilt > 0:
		s += fmt.Sprintf(", %d° above", deg)
	case v.Tilt < 0:
		s += fmt.Sprintf(", %d° below", deg)
	}
	return s
}
