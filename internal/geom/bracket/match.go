package bracket

import (
	"fmt"
	"math"

	"fitup/internal/geom"

	"gonum.org/v1/gonum/spatial/r3"
)

// Site is where the leg of the other side has to go: its pad and its rail as
// they were measured, looking as those of a Leg do.
type Site struct {
	Pad, Rail Face
	// SameMark says that Rail.Point is the same mark on both rails (a hole, a
	// scribed line): the foot then keeps its place from the mark. Otherwise
	// only the plane of the rail is taken and the foot stays as near as it can
	// to the mirror image of the first one.
	SameMark bool
}

// Difference is one line of the table that holds the leg made for its own side
// against the plain mirror image of the first leg. An angle is in rad.
type Difference struct {
	Name          string
	Mirror, Other float64
	IsAngle       bool
}

// By is Other less Mirror; angles are brought into (-180°, 180°].
func (d Difference) By() float64 {
	if d.IsAngle {
		return wrap(geom.Angle(d.Other - d.Mirror)).Rad()
	}
	return d.Other - d.Mirror
}

// Matched is the other side's leg.
type Matched struct {
	Leg         Leg // for the other side, cut it as any leg
	Cut         Cut
	Mirror      Leg // the plain mirror image of the first leg
	MirrorCut   Cut
	Differences []Difference
	// PadMiss and RailMiss are how far the plain mirror image, set on nothing
	// but the centreline, would stand off the faces at its worst corner, mm.
	PadMiss, RailMiss float64
}

// Mirrored returns the mirror image of the leg about the plane Y = centre (mm).
func (l Leg) Mirrored(centre float64) Leg {
	m := l
	m.Pad, m.Rail = mirrorFace(l.Pad, centre), mirrorFace(l.Rail, centre)
	m.Axis, m.Up = mirrorDir(l.Axis), mirrorDir(l.Up)
	return m
}

func mirrorDir(d r3.Vec) r3.Vec { return r3.Vec{X: d.X, Y: 0 - d.Y, Z: d.Z} }

func mirrorFace(f Face, centre float64) Face {
	return Face{
		Point:  r3.Vec{X: f.Point.X, Y: 2*centre - f.Point.Y, Z: f.Point.Z},
		Normal: mirrorDir(f.Normal),
	}
}

// Match returns the leg for the other side: the first leg, as it was finished,
// mirrored about Y = centre (mm) and corrected so that it lands on the pad and
// the rail that are really there. On mirrored rails it is the mirror image
// exactly. The leg is named name.
func Match(name string, first Leg, centre float64, site Site) (Matched, error) {
	bad := func(format string, args ...any) error { return bad("leg", name, format, args...) }
	if !geom.Finite(centre) || math.Abs(centre) > geom.LimitLength {
		return Matched{}, bad("the centreline is not a usable number")
	}
	if _, err := first.Cut(); err != nil {
		return Matched{}, fmt.Errorf("the finished side does not make a leg: %w", err)
	}
	m := Matched{Mirror: first.Mirrored(centre)}
	m.Mirror.Name = geom.PartName(name, "(mirror image)")
	var err error
	if m.MirrorCut, err = m.Mirror.Cut(); err != nil {
		return Matched{}, err
	}
	foot, err := m.foot(site)
	if err != nil {
		return Matched{}, bad("the rail of its side does not say where it is and which way it looks")
	}
	m.Leg = m.Mirror
	m.Leg.Name = name
	m.Leg.Pad, m.Leg.Rail = site.Pad, site.Rail
	m.Leg.Axis = r3.Sub(foot, site.Pad.Point)
	// Turn the section with the axis, so that its sides keep their places.
	m.Leg.Up = carry(m.MirrorCut.Axis, m.Leg.Axis, m.MirrorCut.V)
	if m.Leg.Axis == (r3.Vec{}) {
		return Matched{}, bad("the foot falls on the pad, so the leg has no length")
	}
	if m.Cut, err = m.Leg.Cut(); err != nil {
		return Matched{}, err
	}
	m.compare()
	m.PadMiss = worst(site.Pad, m.Leg.PadPlate, m.MirrorCut.Outline(false, 9))
	m.RailMiss = worst(site.Rail, m.Leg.RailPlate, m.MirrorCut.Outline(true, 9))
	return m, nil
}

// foot returns where the leg's axis is to meet the rail of its own side.
func (m Matched) foot(site Site) (r3.Vec, error) {
	n, err := geom.Unit(site.Rail.Normal)
	if err != nil || !finiteVec(site.Rail.Point, site.Rail.Normal, site.Pad.Point, site.Pad.Normal) {
		return r3.Vec{}, geom.ErrNoDirection
	}
	foot := m.MirrorCut.Foot
	if site.SameMark {
		from := carry(m.Mirror.Rail.Normal, site.Rail.Normal, r3.Sub(foot, m.Mirror.Rail.Point))
		foot = r3.Add(site.Rail.Point, from)
	}
	return r3.Sub(foot, r3.Scale(r3.Dot(n, r3.Sub(foot, site.Rail.Point)), n)), nil
}

// carry turns v by the shortest turn that brings direction a to direction b.
// Where there is no such turn it leaves v as it is.
func carry(a, b, v r3.Vec) r3.Vec {
	axis := r3.Cross(a, b)
	turn, err := geom.Turn(r3.Vec{}, axis, geom.Between(a, b))
	if err != nil {
		return v
	}
	return turn.Dir(v)
}

// worst returns the largest distance of points from a face shifted by plate.
func worst(f Face, plate float64, pts []r3.Vec) float64 {
	w := 0.0
	for _, p := range pts {
		if off, err := f.Off(p); err == nil {
			w = math.Max(w, math.Abs(off-plate))
		}
	}
	return w
}

// compare fills the table. The saw is set with the same side down for both
// legs, the side that suits the mirror image best.
func (m *Matched) compare() {
	a, b := m.MirrorCut, m.Cut
	length := func(name string, x, y float64) {
		m.Differences = append(m.Differences, Difference{name, x, y, false})
	}
	angle := func(name string, x, y geom.Angle) {
		m.Differences = append(m.Differences, Difference{name, x.Rad(), y.Rad(), true})
	}
	length("length on the axis", a.Length, b.Length)
	length("long point", a.LongPoint, b.LongPoint)
	length("short point", a.ShortPoint, b.ShortPoint)
	length("overall", a.Overall, b.Overall)
	for _, e := range []struct {
		name string
		x, y End
	}{{"pad", a.Pad, b.Pad}, {"rail", a.Rail, b.Rail}} {
		side := e.x.Best
		angle(e.name+" cut from square", e.x.Angle, e.y.Angle)
		angle(fmt.Sprintf("%s mitre, %s down", e.name, side), e.x.Saw[side].Mitre, e.y.Saw[side].Mitre)
		angle(fmt.Sprintf("%s tilt, %s down", e.name, side), e.x.Saw[side].Tilt, e.y.Saw[side].Tilt)
	}
	angle("slope of the axis", geom.Slope(a.Axis), geom.Slope(b.Axis))
	angle("heading of the axis", geom.Heading(a.Axis), geom.Heading(b.Axis))
	length("foot station", a.Foot.X, b.Foot.X)
	length("foot offset", a.Foot.Y, b.Foot.Y)
	length("foot height", a.Foot.Z, b.Foot.Z)
}

// Built is how a made mount stands against the one that was wanted.
type Built struct {
	Off    float64    // the built point off the wanted face, toward where it looks positive, mm
	Along  r3.Vec     // what is left: shift within the wanted face, vehicle axes, mm
	Shift  float64    // size of Along
	Lean   geom.Angle // between the two faces
	Within bool       // all three within the tolerances given
	// Wedge is the taper that would make up for Lean over the pad's length,
	// mm; it goes thick toward Low, the way (in the built face) it falls away.
	Wedge float64
	Low   r3.Vec
}

// CheckBuilt holds a measured pad against the wanted one: length is the pad's
// length for the wedge (mm), place and lean the tolerances (mm, rad).
func CheckBuilt(part string, wanted, measured Face, length, place float64, lean geom.Angle) (Built, error) {
	n, err := geom.Unit(wanted.Normal)
	if err != nil || !finiteVec(wanted.Point, wanted.Normal) {
		return Built{}, bad("mount", part, "the wanted pad does not say which way it looks")
	}
	q, err := geom.Unit(measured.Normal)
	if err != nil || !finiteVec(measured.Point, measured.Normal) {
		return Built{}, bad("mount", part, "the measured pad does not say where it is and which way it looks; measure three points on it")
	}
	if !geom.LengthOK(length) || !(place > 0) || !(lean > 0) {
		return Built{}, bad("mount", part, "the pad's length and both tolerances must be above zero")
	}
	d := r3.Sub(measured.Point, wanted.Point)
	b := Built{Off: r3.Dot(n, d), Lean: geom.Between(n, q)}
	if b.Lean >= 80*geom.Deg {
		return Built{}, bad("mount", part, "the measured pad looks %.0f° away from the wanted one; check which way its direction was taken", b.Lean.Degrees())
	}
	b.Along = r3.Sub(d, r3.Scale(b.Off, n))
	b.Shift = r3.Norm(b.Along)
	b.Within = math.Abs(b.Off) <= place && b.Shift <= place && b.Lean <= lean
	// The built face falls away where it leans: along q less its part on n.
	if low, err := geom.Unit(r3.Sub(q, r3.Scale(r3.Dot(q, n), n))); err == nil {
		b.Low = carry(n, q, low)
		b.Wedge = length * math.Tan(b.Lean.Rad())
	}
	return b, nil
}
