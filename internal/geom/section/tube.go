package section

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// A spandrel is what a rounded corner takes from (or a fillet adds to) a sharp
// one: the square on the radius less its quarter circle. Area, distance of its
// centroid from the sharp corner, and second moment about its own centroid,
// for radius 1.
const (
	spandrelArea = 1 - math.Pi/4
	spandrelArm  = (10 - 3*math.Pi) / (12 - 3*math.Pi)
	spandrelOwn  = 1.0/3 - math.Pi/16 - 1/(3*(12-3*math.Pi))
)

// rectTube is EN 10219-2 and EN 10210-2, annex with the section properties.
func (s Shape) rectTube() Properties {
	t, ro, ri := s.wall()
	p := Properties{Wall: t, Outer: ro, Inner: ri}
	p.Area = rectTubeArea(s.B, s.H, t, ro, ri)
	p.Iy = rectTubeI(s.B, s.H, t, ro, ri)
	p.Iz = rectTubeI(s.H, s.B, t, ro, ri)
	p.Wy, p.Wz = 2*p.Iy/s.H, 2*p.Iz/s.B

	rc := (ro + ri) / 2
	h := 2*((s.B-t)+(s.H-t)) - 2*rc*(4-math.Pi)
	ah := (s.B-t)*(s.H-t) - rc*rc*(4-math.Pi)
	k := 2 * ah * t / h
	p.CellArea = ah
	p.It = t*t*t*h/3 + 2*k*ah
	p.Wt = p.It / (t + k/t)
	if s.Corner == CornerHSS {
		// AISC prints the closed cell alone, and C = 2 t Ah; its masses are
		// those of the nominal wall.
		p.It = 2 * k * ah
		p.Wt = 2 * t * ah
		p.Mass = rectTubeArea(s.B, s.H, s.T, 2*s.T, s.T)
	}
	// EN 1993-1-1, 6.2.6(3): rolled rectangular hollow sections.
	p.Avz = p.Area * s.H / (s.B + s.H)
	p.Avy = p.Area * s.B / (s.B + s.H)
	return p
}

func rectTubeArea(b, h, t, ro, ri float64) float64 {
	return 2*t*(b+h-2*t) - (4-math.Pi)*(ro*ro-ri*ri)
}

// rectTubeI is the second moment about the axis parallel to b.
func rectTubeI(b, h, t, ro, ri float64) float64 {
	return roundedI(b, h, ro) - roundedI(b-2*t, h-2*t, ri)
}

// roundedI is the second moment of a full rectangle with rounded corners.
func roundedI(b, h, r float64) float64 {
	arm := h/2 - spandrelArm*r
	return b*h*h*h/12 - 4*(spandrelOwn*r*r*r*r+spandrelArea*r*r*arm*arm)
}

func (s Shape) roundTube() Properties {
	t := s.T
	if s.Corner == CornerHSS {
		t = designWall(s.T)
	}
	d, in := s.H, s.H-2*t
	p := Properties{Wall: t, Outer: d / 2, Inner: in / 2, RoundShape: true}
	p.Area = math.Pi / 4 * (d*d - in*in)
	p.Iy = math.Pi / 64 * (d*d*d*d - in*in*in*in)
	p.Iz = p.Iy
	p.Wy = 2 * p.Iy / d
	p.Wz = p.Wy
	p.It, p.Wt = 2*p.Iy, 2*p.Wy
	p.CellArea = math.Pi / 4 * (d - t) * (d - t)
	p.Avy = 2 * p.Area / math.Pi // EN 1993-1-1, 6.2.6(3)
	p.Avz = p.Avy
	if s.Corner == CornerHSS {
		in = d - 2*s.T
		p.Mass = math.Pi / 4 * (d*d - in*in)
	}
	return p
}

func roundBar(d float64) Properties {
	p := Properties{Wall: d, Outer: d / 2, RoundShape: true}
	p.Area = math.Pi / 4 * d * d
	p.Iy = math.Pi / 64 * d * d * d * d
	p.Iz = p.Iy
	p.Wy = 2 * p.Iy / d
	p.Wz = p.Wy
	p.It, p.Wt = 2*p.Iy, 2*p.Wy
	p.Avy = 0.75 * p.Area // peak shear is 4/3 of the mean
	p.Avz = p.Avy
	return p
}

// flatBar is a full rectangle. Torsion is St Venant's series (Timoshenko and
// Goodier, Theory of Elasticity, torsion of a rectangular bar, from memory).
func flatBar(b, h float64) Properties {
	p := Properties{Area: b * h, Iy: b * h * h * h / 12, Iz: h * b * b * b / 12}
	p.Wy, p.Wz = 2*p.Iy/h, 2*p.Iz/b
	p.Avy = 2.0 / 3 * p.Area // peak shear is 3/2 of the mean
	p.Avz = p.Avy
	long, thin := math.Max(b, h), math.Min(b, h)
	p.Wall = thin
	sum, edge := 0.0, 0.0
	for n := 1.0; n < 60; n += 2 {
		x := n * math.Pi * long / (2 * thin)
		sum += math.Tanh(x) / math.Pow(n, 5)
		if x < 300 { // beyond, the term is nothing and Cosh overflows
			edge += 1 / (n * n * math.Cosh(x))
		}
	}
	p.It = long * thin * thin * thin / 3 * (1 - 192/math.Pow(math.Pi, 5)*thin/long*sum)
	p.Wt = p.It / (thin * (1 - 8/(math.Pi*math.Pi)*edge))
	return p
}

// channel adds a web of full depth, two flanges whose thickness falls evenly
// from web to tip, and root fillets. Torsion with a known root is the junction
// formula of the steel designers' handbooks (from memory); it returns the
// published figures of the parallel flange channels in the table.
func (s Shape) channel() Properties {
	if s.OuterRadius > 0 {
		return s.pressed(s.channelEdge(), s.channelWalls())
	}
	b, h, tw, tf, r := s.B, s.H, s.T, s.Flange, s.Root
	a := b - tw // outstand of a flange
	fillet := spandrelArea * r * r
	own := spandrelOwn * r * r * r * r
	p := Properties{Wall: math.Max(tw, tf), Outer: r}
	p.Area = h*tw + 2*a*tf + 2*fillet

	// Height of the flange's inner face over mid-depth, at web and tip.
	q0, q1 := h/2-tf-s.Taper*a/2, h/2-tf+s.Taper*a/2
	flange := a * (h*h*h/8 - (q0*q0*q0+q0*q0*q1+q0*q1*q1+q1*q1*q1)/4) / 3
	armR := q0 - spandrelArm*r
	p.Iy = tw*h*h*h/12 + 2*flange + 2*(own+fillet*armR*armR)
	p.Wy = 2 * p.Iy / h

	// First and second moments of a flange about the web's inner face.
	m1 := tf*a*a/2 - s.Taper*a*a*a/12
	m2 := tf*a*a*a/3 - s.Taper*a*a*a*a/12
	xr := spandrelArm * r
	m := 2*m1 + 2*fillet*xr - h*tw*tw/2
	i := 2*m2 + 2*(own+fillet*xr*xr) + h*tw*tw*tw/3
	p.Iz = i - m*m/p.Area
	p.Back = tw + m/p.Area
	p.Wz = p.Iz / math.Max(p.Back, b-p.Back)

	if r > 0 {
		k := tw / tf
		c := -0.0908 + 0.2621*k + 0.1231*r/tf - 0.0752*k*r/tf - 0.0945*k*k
		d := 2 * ((3*r + tw + tf) - math.Sqrt(2*(2*r+tw)*(2*r+tf)))
		p.It = (2*b*tf*tf*tf+(h-2*tf)*tw*tw*tw)/3 + 2*c*d*d*d*d - 0.420*tf*tf*tf*tf
	}
	if p.It <= 0 { // no root, or one the fitted formula does not cover: middle lines
		p.It = (2*(b-tw/2)*tf*tf*tf + (h-tf)*tw*tw*tw) / 3
	}
	p.Wt = p.It / p.Wall
	p.Avz = h * tw
	p.Avy = 2 * b * tf * 2 / 3
	return p
}

// pressed are the figures of a channel pressed or an angle folded from plate: those of
// its outline, with the torsion of its walls.
func (s Shape) pressed(edge []r2.Vec, walls []Wall) Properties {
	f, err := Built{Name: s.Name, Regions: []Region{{Outer: edge}}, Walls: walls}.Figures()
	if err != nil { // check has seen its sizes
		return Properties{}
	}
	p := Properties{Area: f.Area, Iy: f.Ix, Iz: f.Iy, It: f.J, Back: f.Centroid.X, Wall: f.Thickest, Outer: s.OuterRadius, Inner: s.InnerRadius}
	p.Wy = f.Ix / max(f.Centroid.Y, s.H-f.Centroid.Y)
	p.Wz = f.Iy / max(f.Centroid.X, s.B-f.Centroid.X)
	p.Wt = p.It / p.Wall
	p.Avy, p.Avz = f.ShearX*2/3, f.ShearY
	if math.Abs(f.Ixy) > 1e-9*f.Ix {
		p.TrueWy, p.TrueWz, p.Iyz = f.Wx, f.Wy, f.Ixy
	}
	return p
}

// angle is a rolled angle with its root and toes (the shape of EN 10056-1), or a folded
// one. Torsion is the junction formula of El Darwish and Johnston as the steel
// designers' tables use it (from memory); it returns their figures.
func (s Shape) angle() Properties {
	t, r := s.T, s.Root
	walls := []Wall{{r2.Vec{X: t / 2, Y: t / 2}, r2.Vec{X: t / 2, Y: s.H}, t}, {r2.Vec{X: t / 2, Y: t / 2}, r2.Vec{X: s.B, Y: t / 2}, t}}
	p := s.pressed(s.angleEdge(), walls)
	if s.OuterRadius == 0 {
		k := -0.0908 + 0.2621 + 0.1231*r/t - 0.0752*r/t - 0.0945
		d := 2 * (3*r + 2*t - math.Sqrt2*(2*r+t))
		p.It = (s.B+s.H-t)*t*t*t/3 + k*d*d*d*d - 0.21*t*t*t*t
		p.Wt = p.It / t
	}
	if s.B == s.H {
		p.Iz, p.Wz = p.Iy, p.Wy
	}
	p.Outer, p.Inner = s.OuterRadius, r
	p.Avy, p.Avz = s.B*t*2/3, s.H*t*2/3
	return p
}
