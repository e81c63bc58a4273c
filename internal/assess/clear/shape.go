package clear

import (
	"errors"
	"math"
	"strings"

	"fitup/internal/geom"
	"fitup/internal/geom/clear"
	"fitup/internal/project"
	"fitup/internal/project/quantity"

	"gonum.org/v1/gonum/spatial/r3"
)

// lack is what of a piece is not in the file: what it is, its key, and more to say of it.
type lack struct{ what, key, more string }

func (l lack) Error() string { return l.what + " is not in the file yet: " + l.key + l.more }

// lacking says why a piece has no shape, with the path of what it lacks.
func lacking(name, path string, err error) string {
	var l lack
	if errors.As(err, &l) {
		l.key = path + "." + l.key
		err = l
	}
	return name + ": " + err.Error()
}

// PartShape returns a piece of the powertrain, own frame, mm; an error says
// what of it is not in the file.
func PartShape(p project.Part) (clear.Shape, error) {
	s, err := solidOf(p.From, p.To, p.At, p.Radius)
	if err == nil && p.Turned.By != 0 {
		s = clear.Moved(s, p.Turned.Pose())
	}
	return s, err
}

// ChassisShape returns a piece of the vehicle, vehicle axes, mm; an error says
// what of it is not in the file.
func ChassisShape(c project.ChassisPart) (clear.Shape, error) {
	if c.Facing == "" && !c.Normal.Known && !c.On.Known {
		return solidOf(c.From, c.To, c.At, c.Radius)
	}
	n, ok := c.Facing.Vector()
	if c.Normal.Known {
		n, ok = c.Normal.At, true
	}
	switch {
	case !c.On.Known:
		return nil, lack{"a point on it", "on", ""}
	case !ok:
		return nil, lack{"the way it faces", "facing", " = " + strings.Join(c.Facing.Words(), ", ")}
	}
	s := clear.Plane{On: c.On.At, Normal: n}
	return s, s.Check()
}

// beyondOpening is how far a sheet with an opening goes on round it, mm.
const beyondOpening = 3000

const openingSheet = "the surface is a sheet without thickness, and the powertrain may be on either side of it"

// ChassisShapes returns a piece of the vehicle as one shape, or a sheet with an opening as
// the plates round that, vehicle axes, mm; an error says what of it is not in the file.
func ChassisShapes(c project.ChassisPart) ([]clear.Shape, error) {
	s, err := ChassisShape(c)
	if err != nil || len(c.Opening) == 0 {
		return []clear.Shape{s}, err
	}
	middle, across, up, ok := c.OpeningAxes()
	if !ok {
		return nil, errors.New("its opening has no two corners yet: opening")
	}
	return clear.Opening(middle, across, up, beyondOpening), nil
}

func solidOf(from, to, at project.Point, radius quantity.LengthQ) (clear.Shape, error) {
	var s clear.Shape
	switch {
	case from.Known && to.Known && radius.Known():
		s = clear.Segment{A: from.At, B: to.At, R: radius.V()}
	case from.Known && to.Known:
		s = boxBetween(from.At, to.At)
	case from.Known:
		return nil, lack{"its other end", "to", ""}
	case to.Known:
		return nil, lack{"its other end", "from", ""}
	case at.Known && radius.Known():
		s = clear.Sphere{At: at.At, R: radius.V()}
	case at.Known:
		s = clear.Point{At: at.At}
	default:
		return nil, lack{"its place", "from", " and to, or at"}
	}
	return s, s.Check()
}

func boxBetween(from, to r3.Vec) clear.Box {
	d := r3.Scale(0.5, r3.Sub(to, from))
	p := geom.Identity()
	p.At = r3.Add(from, d)
	return clear.Box{Pose: p, Half: r3.Vec{X: math.Abs(d.X), Y: math.Abs(d.Y), Z: math.Abs(d.Z)}}
}
