package fold

import (
	"fmt"
	"math"

	"fitup/internal/geom"
	"fitup/internal/geom/bracket"
	"fitup/internal/geom/section"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// Box is a mount of four plates welded into a box, which stands on a face with its foot
// and carries its pad on the upper one.
type Box struct {
	Name string
	// Pose has its origin at the middle of the pad, on the upper face: X along the box
	// away from its foot, Y off the upper face, Z across.
	Pose geom.Pose
	// Foot and Off are a place of the face that it stands on, and the way that looks to
	// the box, in the pose's X and Y.
	Foot, Off        r2.Vec
	Width            float64        // of the upper plate and the one underneath
	FootDepth, Depth float64        // over both, square to the upper face: at the face it stands on, and at its free end
	Past             float64        // from the middle of the pad to its free end
	Cover, Side      float64        // thickness of upper and under plate, and of the two sides
	Inset            float64        // of the sides' outer faces from the edges of those
	Holes            []bracket.Hole // of the pad, from its middle: x across, y away from the foot
	Density          float64
}

// Sheet is a flat plate of a mount of plates, where it lies: the outline in its pose's X
// and Y, its thickness either way of that.
type Sheet struct {
	Name  string // upper plate
	Count int    // how many are alike; the others lie at Also
	Plate bracket.Plate
	Pose  geom.Pose
	Also  []geom.Pose
	Up    string   // which face is drawn, in words
	Drawn []r2.Vec // an outline without hollows in its stead, for a drawing; nil where it has none
}

// Corners are the corners of one face of the plate as it is drawn, vehicle axes: that at
// its pose's Z, or the other.
func (s *Sheet) Corners(pose geom.Pose, front bool) []r3.Vec {
	half := -s.Plate.Thickness / 2
	if front {
		half = -half
	}
	line := s.Plate.Outline
	if s.Drawn != nil {
		line = s.Drawn
	}
	out := make([]r3.Vec, len(line))
	for i, q := range line {
		out[i] = pose.Point(r3.Vec{X: q.X, Y: q.Y, Z: half})
	}
	return out
}

// Poses are where all that are alike lie.
func (s *Sheet) Poses() []geom.Pose { return append([]geom.Pose{s.Pose}, s.Also...) }

// Boxed is a box that can be made.
type Boxed struct {
	Box
	Start  float64 // where its foot begins at the upper face, along X; below zero
	Length float64 // of the upper plate, mm
	Taper  geom.Angle
	// Gap is what stays open at the foot, at most, where plates are cut square through
	// and the face is not square to them, mm.
	Gap    float64
	Sheets []Sheet // upper, under, side
}

func (b *Box) bad(format string, args ...any) error {
	return geom.PartFault("box", b.Name, format, args...)
}

// onFace is how far along X the face that it stands on is at a height.
func (b *Box) onFace(y float64) float64 { return b.Foot.X - (y-b.Foot.Y)*b.Off.Y/b.Off.X }

// Make cuts the plates of the box. It fails where the face and the pad look the same
// way, the box has no length, its plates leave no room, or a hole of the pad runs into
// a side.
func (b Box) Make() (*Boxed, error) {
	if !geom.LengthOK(b.Past) || !geom.LengthOK(b.FootDepth) {
		return nil, b.bad("%g mm past its pad and %g mm deep at its foot is no box; more than 0 is wanted of both", b.Past, b.FootDepth)
	}
	if !(b.Off.X > 0.2*math.Hypot(b.Off.X, b.Off.Y)) {
		return nil, b.bad("its pad looks almost the way the face does that it stands on, so a box from one to the other has no length; turn the pad, or take a folded plate")
	}
	out := &Boxed{Box: b, Start: b.onFace(0)}
	if !(-out.Start > 1) {
		return nil, b.bad("the middle of its pad lies %.1f mm behind the face it stands on, so it has no length; move the pad off the face", out.Start)
	}
	for _, d := range []float64{b.FootDepth, b.Depth} {
		if _, err := b.section(d).Properties(); err != nil {
			return nil, err
		}
	}
	if err := b.holes(); err != nil {
		return nil, err
	}
	if err := out.cut(); err != nil {
		return nil, err
	}
	return out, nil
}

// section is that of the box where it is so deep.
func (b *Box) section(depth float64) section.WeldedBox {
	return section.WeldedBox{Name: b.Name, Width: b.Width, Depth: depth, Cover: b.Cover, Side: b.Side, Inset: b.Inset}
}

// DepthAt is how deep the box is at a place along X, mm.
func (b *Boxed) DepthAt(x float64) float64 {
	return b.FootDepth + (b.Depth-b.FootDepth)*(x-b.Start)/(b.Past-b.Start)
}

// holes refuses holes of the pad that lie over a side.
func (b *Box) holes() error {
	room := b.section(b.Depth)
	for _, h := range b.Holes {
		if over := math.Abs(h.At.X) + h.Diameter/2 - room.Inside()/2; over > 0 {
			return b.bad("a hole of %.1f mm in its pad reaches %.1f mm over a side; the room between its sides is %.1f mm: make the box wider, or the pitch smaller", h.Diameter, over, room.Inside())
		}
	}
	return nil
}

// cut are the flat plates: those above and underneath cut square, short enough for the
// face and the free end.
func (b *Boxed) cut() error {
	slope := (b.FootDepth - b.Depth) / (b.Past - b.Start) // of the lower face, up to the free end
	b.Taper = geom.Angle(math.Atan(slope))
	sin, cos := math.Sincos(b.Taper.Rad())
	rise := b.Cover / cos // a cover that slopes is so high
	low := func(x float64) float64 { return -b.DepthAt(x) }
	// Where the lower face and the one inside it meet the face.
	meet := func(up float64) float64 {
		k := b.Off.Y / b.Off.X
		y0 := low(b.Start) + up - slope*b.Start
		return (b.Foot.X - (y0-b.Foot.Y)*k) / (1 + slope*k)
	}
	// Upper plate: x across, y from its edge at the foot.
	from := max(b.onFace(0), b.onFace(-b.Cover))
	b.Length = b.Past - from
	b.Gap = math.Abs(b.onFace(0) - b.onFace(-b.Cover))
	upper := Sheet{Name: "upper plate", Count: 1, Up: "the one that the pad is on", Plate: bracket.Plate{Name: b.Name + " upper plate", Outline: fromZero(b.Width, b.Length), Thickness: b.Cover, Density: b.Density}}
	for _, h := range b.Holes {
		upper.Plate.Holes = append(upper.Plate.Holes, bracket.Hole{At: r2.Vec{X: h.At.X, Y: h.At.Y - from}, Diameter: h.Diameter})
	}
	upper.Pose = geom.Pose{X: b.Pose.Z, Y: b.Pose.X, Z: b.Pose.Y, At: b.Pose.Point(r3.Vec{X: from, Y: -b.Cover / 2})}
	// The one underneath runs along its slope.
	along := func(x, y float64) float64 { return x*cos + y*sin }
	ends := func(up float64) (lo, hi float64) {
		x := meet(up)
		return along(x, low(x)+up), along(b.Past, low(b.Past)+up)
	}
	lo0, hi0 := ends(0)
	lo1, hi1 := ends(rise)
	lo, hi := max(lo0, lo1), min(hi0, hi1)
	b.Gap = max(b.Gap, math.Abs(lo0-lo1))
	if hi-lo < 1 {
		return b.bad("the plate underneath has no length: a depth of %.1f mm at its foot runs out before its free end; make it less deep there", b.FootDepth)
	}
	under := Sheet{Name: "under plate", Count: 1, Up: "the one inside the box", Plate: bracket.Plate{Name: b.Name + " under plate", Outline: fromZero(b.Width, hi-lo), Thickness: b.Cover, Density: b.Density}}
	way := r2.Vec{X: cos, Y: sin}
	up := r2.Vec{X: -sin, Y: cos}
	foot := r2.Vec{X: b.Past, Y: low(b.Past)} // on the lower face
	foot = r2.Add(foot, r2.Scale(lo-along(foot.X, foot.Y), way))
	foot = r2.Add(foot, r2.Scale(b.Cover/2, up))
	under.Pose = geom.Pose{X: b.Pose.Z, Y: b.Pose.Dir(r3.Vec{X: way.X, Y: way.Y}), Z: b.Pose.Dir(r3.Vec{X: up.X, Y: up.Y}), At: b.Pose.Point(r3.Vec{X: foot.X, Y: foot.Y})}
	// The sides stand between them.
	x := meet(rise)
	side := Sheet{Name: "side", Count: 2, Up: "either: the two are alike", Plate: bracket.Plate{Name: b.Name + " side", Thickness: b.Side, Density: b.Density}}
	at := b.Width/2 - b.Inset - b.Side/2
	origin := r2.Vec{X: min(x, b.onFace(-b.Cover)), Y: low(x) + rise}
	for _, q := range []r2.Vec{{X: x, Y: low(x) + rise}, {X: b.Past, Y: low(b.Past) + rise}, {X: b.Past, Y: -b.Cover}, {X: b.onFace(-b.Cover), Y: -b.Cover}} {
		side.Plate.Outline = append(side.Plate.Outline, r2.Sub(q, origin))
	}
	pose := func(z float64) geom.Pose {
		return geom.Pose{X: b.Pose.X, Y: b.Pose.Y, Z: b.Pose.Z, At: b.Pose.Point(r3.Vec{X: origin.X, Y: origin.Y, Z: z})}
	}
	side.Pose, side.Also = pose(at), []geom.Pose{pose(-at)}
	b.Sheets = []Sheet{upper, under, side}
	for i := range b.Sheets {
		if _, err := b.Sheets[i].Plate.Figures(); err != nil {
			return fmt.Errorf("box %s: %w", b.Name, err)
		}
	}
	return nil
}

// fromZero is the outline of a plate with the middle of its lower edge at 0, 0.
func fromZero(w, h float64) []r2.Vec {
	return []r2.Vec{{X: -w / 2}, {X: w / 2}, {X: w / 2, Y: h}, {X: -w / 2, Y: h}}
}

// FootLines are where the box meets the face it stands on, vehicle axes: the upper edge,
// the lower one, and the outside of each side.
func (b *Boxed) FootLines() [][]r3.Vec {
	k := b.Off.Y / b.Off.X
	slope := math.Tan(b.Taper.Rad())
	y0 := -b.FootDepth - slope*b.Start
	x := (b.Foot.X - (y0-b.Foot.Y)*k) / (1 + slope*k)
	lower := y0 + slope*x
	w, s := b.Width/2, b.Width/2-b.Inset
	at := func(x, y, z float64) r3.Vec { return b.Pose.Point(r3.Vec{X: x, Y: y, Z: z}) }
	out := [][]r3.Vec{{at(b.Start, 0, -w), at(b.Start, 0, w)}, {at(x, lower, -w), at(x, lower, w)}}
	for _, z := range []float64{-s, s} {
		out = append(out, []r3.Vec{at(b.Start, 0, z), at(x, lower, z)})
	}
	return out
}

// stations are in how many pieces a box is looked at between its foot and its pad.
const stations = 12

// Cantilever are the sections of the box from its foot to the middle of its pad. holes is
// what its holes there take of the upper plate's width, mm.
func (b *Boxed) Cantilever(holes float64) (*Cantilever, error) {
	c := &Cantilever{Name: b.Name}
	add := func(x, counts, less float64, where string) error {
		d := b.DepthAt(x)
		p, err := b.section(d).Properties()
		if err != nil {
			return err
		}
		if less > 0 { // what the holes take of the upper plate is taken of the one underneath too
			p = lessHoles(p, less, b.Cover, d)
		}
		c.Stations = append(c.Stations, Station{At: b.Pose.Point(r3.Vec{X: x, Y: -d / 2}), Along: b.Pose.X, U: b.Pose.Z, V: b.Pose.Y,
			Section: p, Curved: 1, Where: where, Counts: counts})
		return nil
	}
	if err := add(b.Start, 0, 0, "at its foot"); err != nil {
		return nil, err
	}
	step := -b.Start / stations
	for i := range stations {
		for _, g := range gauss {
			if err := add(b.Start+(float64(i)+g[0])*step, g[1]*step, 0, "between its foot and its pad"); err != nil {
				return nil, err
			}
		}
	}
	return c, add(0, 0, holes, "at its pad")
}

// lessHoles is a section with holes through its upper plate, and as many through the
// lower, so that its middle stays where it is, on the safe side.
func lessHoles(p section.Properties, less, cover, depth float64) section.Properties {
	area, arm := 2*less*cover, (depth-cover)/2
	i := p.Iy - area*(arm*arm+cover*cover/12)
	z := p.Iz - 2*cover*less*less*less/12
	p.Wy, p.Wz = p.Wy*i/p.Iy, p.Wz*z/p.Iz
	p.Iy, p.Iz, p.Area = i, z, p.Area-area
	return p
}

// Seam is the most that a fillet along the four corners carries, N/mm, under a force at
// a place, both in vehicle axes, anywhere between foot and pad.
func (b *Boxed) Seam(force, at r3.Vec) (most float64, err error) {
	for i := range stations + 1 {
		x := b.Start * float64(i) / stations
		d := b.DepthAt(x)
		s := Station{At: b.Pose.Point(r3.Vec{X: x, Y: -d / 2}), Along: b.Pose.X, U: b.Pose.Z, V: b.Pose.Y}
		q, err := b.section(d).Seam(s.Forces(force, at))
		if err != nil {
			return 0, err
		}
		most = max(most, q)
	}
	return most, nil
}

// BoxSeam is a fillet along one corner of a box: the way from its middle to that corner,
// up and across, unit vectors in vehicle axes, and how long it is, mm.
type BoxSeam struct {
	Up, Across r3.Vec
	Length     float64
}

// Seams are the four corner fillets of a box.
func (b *Boxed) Seams() (out []BoxSeam) {
	side := b.Sheets[2].Plate.Outline // its lower edge, its free end, its upper edge
	for _, across := range []r3.Vec{b.Pose.Z, r3.Scale(-1, b.Pose.Z)} {
		out = append(out, BoxSeam{b.Pose.Y, across, r2.Norm(r2.Sub(side[3], side[2]))}, BoxSeam{r3.Scale(-1, b.Pose.Y), across, r2.Norm(r2.Sub(side[1], side[0]))})
	}
	return out
}

// SeamLength is that of all four corner fillets together, mm.
func (b *Boxed) SeamLength() (sum float64) {
	for _, s := range b.Seams() {
		sum += s.Length
	}
	return sum
}
