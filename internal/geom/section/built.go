package section

import (
	"math"

	"fitup/internal/geom"

	"gonum.org/v1/gonum/spatial/r2"
)

// Region is solid metal in the plane of the section: a closed polygon, the first
// point not repeated, with holes that lie inside it. Either way round. x right, y up,
// mm.
type Region struct {
	Outer []r2.Vec
	Holes [][]r2.Vec
}

// Wall is a straight thin plate by its middle line. Where walls meet their ends are
// the same place, to a thousandth of a mm.
type Wall struct {
	A, B r2.Vec
	T    float64
}

// Built is a section put together from plates and outlines that act as one. Regions
// are all of its metal and must not overlap; walls are the same metal as middle
// lines, for what regions cannot tell: torsion, the shear centre, shear areas.
type Built struct {
	Name    string
	Regions []Region
	Walls   []Wall
	// J is the torsion constant (mm⁴) where it is known better than from the walls;
	// zero leaves it to them.
	J float64
}

// Figures are those of a built section, x right and y up, mm and powers of mm.
type Figures struct {
	Area        float64
	Centroid    r2.Vec
	Ix, Iy, Ixy float64 // about the centroid: ∫y², ∫x², ∫xy
	// I1 and I2 are the largest and the smallest second moment; Turn is the angle from
	// x to the axis about which I1 is, within ±90°.
	I1, I2 float64
	Turn   geom.Angle
	// Wx is the least modulus for bending about x, all of the skew counted: moment
	// over the largest stress anywhere. Wy likewise.
	Wx, Wy   float64
	J        float64 // torsion constant
	Wt       float64 // torsion modulus: torque over the largest shear in a wall; 0 without walls
	Closed   bool    // some of it is a closed cell
	Cell     float64 // part of J that is a closed cell's; 0 of an open section
	Thickest float64 // wall, mm
	Thinnest float64 // wall of a cell, mm; 0 without one
	// ShearX and ShearY are the areas of the walls as they look along x and along y:
	// what a mean shear stress goes by.
	ShearX, ShearY float64
	ShearCentre    r2.Vec
	HasShearCentre bool // walls are given, and they hang together
	Corners        []r2.Vec
	Mass           float64 // kg per m, steel
}

// JAccuracy says in words how good a torsion constant is.
func (f *Figures) JAccuracy() string {
	if f.Closed {
		return "torsion by Bredt's cell and its walls, some 3 % low; warping is not counted"
	}
	return "torsion by Σbt³/3 less the free ends, within 5 %, up to 20 % low with fillets or tapered flanges; warping is not counted"
}

// Figures returns the figures of the section. Area and second moments are those of
// the polygons (Green's theorem), so exact for straight edges; the rest rests on the
// walls as middle lines. Fails, naming the section, on a polygon without area and on
// sizes that are none.
func (b Built) Figures() (Figures, error) {
	if len(b.Regions) == 0 {
		return Figures{}, b.bad("nothing is in it")
	}
	var f Figures
	var sx, sy, ixx, iyy, ixy float64
	from := b.Regions[0].first()
	add := func(pts []r2.Vec, sign float64) error {
		if len(pts) < 3 {
			return b.bad("an outline has %d points; want three or more", len(pts))
		}
		for _, p := range pts {
			if !(math.Abs(p.X) <= geom.LimitLength && math.Abs(p.Y) <= geom.LimitLength) {
				return b.bad("a point of an outline is not a usable number")
			}
		}
		a, mx, my, xx, yy, xy := moments(pts, from)
		if math.Abs(a) < geom.Tiny {
			return b.bad("an outline has no area")
		}
		if a < 0 {
			sign = -sign
		}
		f.Area += sign * a
		sx, sy = sx+sign*mx, sy+sign*my
		ixx, iyy, ixy = ixx+sign*xx, iyy+sign*yy, ixy+sign*xy
		return nil
	}
	for _, r := range b.Regions {
		if err := add(r.Outer, 1); err != nil {
			return Figures{}, err
		}
		for _, h := range r.Holes {
			if err := add(h, -1); err != nil {
				return Figures{}, err
			}
		}
		f.Corners = append(f.Corners, r.Outer...)
	}
	if f.Area < geom.Tiny {
		return Figures{}, b.bad("its holes leave no metal")
	}
	c := r2.Vec{X: sx / f.Area, Y: sy / f.Area}
	f.Centroid = r2.Add(from, c)
	f.Ix = yyAbout(iyy, f.Area, c.Y)
	f.Iy = yyAbout(ixx, f.Area, c.X)
	f.Ixy = ixy - f.Area*c.X*c.Y
	f.Mass = f.Area * SteelDensity * 1000
	if !(f.Ix > 0 && f.Iy > 0) || f.Ix*f.Iy-f.Ixy*f.Ixy <= 0 {
		return Figures{}, b.bad("its outlines overlap or leave nothing that can be bent")
	}
	f.principal()
	f.Wx, f.Wy = f.modulus(1, 0), f.modulus(0, 1)
	if err := b.walls(&f); err != nil {
		return Figures{}, err
	}
	if b.J > 0 {
		f.Wt *= b.J / f.J
		f.J = b.J
	}
	return f, nil
}

func yyAbout(i, a, c float64) float64 { return i - a*c*c }

func (r Region) first() r2.Vec {
	if len(r.Outer) == 0 {
		return r2.Vec{}
	}
	return r.Outer[0]
}

func (b Built) bad(format string, args ...any) error {
	return geom.PartFault("section", b.Name, format, args...)
}

// moments are ∫1, ∫x, ∫y, ∫x², ∫y², ∫xy over a closed polygon from a place of its
// own, positive anticlockwise (Green's theorem).
func moments(pts []r2.Vec, from r2.Vec) (a, mx, my, xx, yy, xy float64) {
	for i := range pts {
		p, q := r2.Sub(pts[i], from), r2.Sub(pts[(i+1)%len(pts)], from)
		c := r2.Cross(p, q)
		a += c / 2
		mx += c * (p.X + q.X) / 6
		my += c * (p.Y + q.Y) / 6
		xx += c * (p.X*p.X + p.X*q.X + q.X*q.X) / 12
		yy += c * (p.Y*p.Y + p.Y*q.Y + q.Y*q.Y) / 12
		xy += c * (2*p.X*p.Y + p.X*q.Y + q.X*p.Y + 2*q.X*q.Y) / 24
	}
	return a, mx, my, xx, yy, xy
}

// principal sets the principal moments and the turn of their axes: Mohr's circle.
func (f *Figures) principal() {
	mid, half := (f.Ix+f.Iy)/2, (f.Ix-f.Iy)/2
	r := math.Hypot(half, f.Ixy)
	f.I1, f.I2 = mid+r, mid-r
	if r > 1e-12*mid {
		f.Turn = geom.Angle(math.Atan2(-f.Ixy, half) / 2)
	}
}

// Stress is the bending stress in MPa at a place of the section, tension positive,
// under moments about the axes x and y through the centroid in N·mm: mx pulls at the
// top, my at the right. The axes need not be principal ones (Gere, Mechanics of
// Materials, unsymmetric bending, from memory).
func (f *Figures) Stress(mx, my float64, at r2.Vec) float64 {
	p := r2.Sub(at, f.Centroid)
	det := f.Ix*f.Iy - f.Ixy*f.Ixy
	return (mx*(f.Iy*p.Y-f.Ixy*p.X) + my*(f.Ix*p.X-f.Ixy*p.Y)) / det
}

// Worst is the largest size of the bending stress (MPa) anywhere, and where.
func (f *Figures) Worst(mx, my float64) (stress float64, at r2.Vec) {
	for _, p := range f.Corners {
		if s := math.Abs(f.Stress(mx, my, p)); s > stress {
			stress, at = s, p
		}
	}
	return stress, at
}

func (f *Figures) modulus(mx, my float64) float64 {
	s, _ := f.Worst(mx, my)
	if s <= 0 {
		return 0
	}
	return 1 / s
}
