package fold

import (
	"math"

	"fitup/internal/geom"
	"fitup/internal/geom/section"

	"gonum.org/v1/gonum/spatial/r3"
)

// Station is a section of a cantilever of plate: where its middle is, the way to the
// free end, and its two axes across, U along its width and V along its height (unit,
// vehicle axes).
type Station struct {
	At, Along, U, V r3.Vec
	Section         section.Properties
	// Curved is what bending about U is more at the inside of a bend than in a straight
	// bar; 1 where it is straight.
	Curved float64
	Where  string
	// Counts is the length of the cantilever that it stands for in how far the end
	// goes, mm; 0 where it is only looked at for its stress.
	Counts float64
}

// Cantilever is a mount of plate that one end holds, as sections from that end to the
// other. It is statically determinate: what a section carries follows from the force
// alone.
type Cantilever struct {
	Name     string
	Stations []Station
}

// Forces are what a force at a place beyond the station, both in vehicle axes, puts on
// its section.
func (s *Station) Forces(force, at r3.Vec) section.Forces {
	m := r3.Cross(r3.Sub(at, s.At), force)
	return section.Forces{
		Axial: r3.Dot(force, s.Along), ShearY: r3.Dot(force, s.U), ShearZ: r3.Dot(force, s.V),
		MomentY: r3.Dot(m, s.U), MomentZ: r3.Dot(m, s.V), Torsion: r3.Dot(m, s.Along),
	}
}

// Stress is the worst of a force at a place, against an allowable stress, and the
// station it is at. A screening figure.
func (c *Cantilever) Stress(force, at r3.Vec, allowable float64) (worst section.MemberStress, station int, err error) {
	if len(c.Stations) == 0 {
		return worst, 0, geom.PartFault("plate", c.Name, "it has no section to look at")
	}
	for i := range c.Stations {
		s := &c.Stations[i]
		f := s.Forces(force, at)
		f.MomentY *= max(1, s.Curved)
		got, err := s.Section.Screen(c.Name, f, allowable, section.TorsionModulus)
		if err != nil {
			return worst, i, err
		}
		if i == 0 || got.Equivalent > worst.Equivalent {
			worst, station = got, i
		}
	}
	return worst, station, nil
}

// Gives is how far a place beyond the last station goes under a force there, mm, vehicle
// axes, the first end held: by virtual work, with bending, torsion, shear and axial
// strain of every station that counts.
func (c *Cantilever) Gives(force, at r3.Vec) r3.Vec {
	const e = section.SteelE
	const g = section.SteelG
	var out [3]float64
	units := [3]r3.Vec{{X: 1}, {Y: 1}, {Z: 1}}
	for i := range c.Stations {
		s := &c.Stations[i]
		if s.Counts == 0 {
			continue
		}
		p, f := &s.Section, s.Forces(force, at)
		ay, az := p.Area*shearShare, p.Area*shearShare
		if p.CellArea > 0 { // of a box by its walls
			ay, az = p.Avy, p.Avz
		}
		for k, u := range units {
			v := s.Forces(u, at)
			out[k] += s.Counts * (f.MomentY*v.MomentY/(e*p.Iy) + f.MomentZ*v.MomentZ/(e*p.Iz) + f.Torsion*v.Torsion/(g*p.It) +
				f.Axial*v.Axial/(e*p.Area) + f.ShearY*v.ShearY/(g*ay) + f.ShearZ*v.ShearZ/(g*az))
		}
	}
	return r3.Vec{X: out[0], Y: out[1], Z: out[2]}
}

// shearShare is the part of a rectangle's area that carries shear, in how far it gives
// (5/6: Timoshenko, Strength of Materials, from memory).
const shearShare = 5.0 / 6

// CurvedFactor is what the inside of a bend of rectangular section is stressed more by
// bending than a straight bar: Winkler and Bach, with the neutral axis of a rectangle at
// t/ln(outside radius/inside radius) (Timoshenko, Strength of Materials, part II; Shigley,
// ch. 3, curved beams, from memory). inside is the inside radius, t the thickness, mm.
func CurvedFactor(inside, t float64) float64 {
	if !(inside > 0 && t > 0) {
		return math.Inf(1)
	}
	neutral := t / math.Log1p(t/inside)
	e := inside + t/2 - neutral
	if !(e > 1e-9*t) { // as good as straight
		return 1
	}
	return (neutral - inside) / (e * inside) * t / 6
}

// gauss are the places and weights of Gauss's rule of three points on 0 to 1, exact for
// the squares of moments that run straight.
var gauss = [3][2]float64{{0.5 - 0.3872983346207417, 5.0 / 18}, {0.5, 8.0 / 18}, {0.5 + 0.3872983346207417, 5.0 / 18}}

// Held says from where on a folded strip is looked at, and to where.
type Held struct {
	// From is on the first flat, from its beginning, mm: the row of bolts that is nearest
	// to the bend, or the bend where it is welded round its foot. Net is what the holes
	// there take of the width, mm.
	From, Net float64
	FromWhere string
	// To is on the last flat, from its beginning, mm: the middle of the pad, with what
	// the holes there take of the width.
	To, ToNet float64
}

// Cantilever are the sections of a folded strip: at its first row of bolts, at both ends
// and the middle of each bend, and at the pad.
func (f *Folded) Cantilever(h Held) (*Cantilever, error) {
	c := &Cantilever{Name: f.Name}
	whole, err := section.Shape{Name: f.Name, Kind: section.FlatBar, B: f.Width, H: f.Thickness}.Properties()
	if err != nil {
		return nil, err
	}
	net := func(less float64) (section.Properties, error) {
		if less == 0 {
			return whole, nil
		}
		if less >= f.Width-1 {
			return whole, f.bad("its holes leave nothing of its width of %.1f mm", f.Width)
		}
		return section.Shape{Name: f.Name, Kind: section.FlatBar, B: f.Width - less, H: f.Thickness}.Properties()
	}
	at := func(flat int, along float64) Station {
		w := f.Flats[flat].Way
		return Station{At: f.At(flat, along, 0, 0), Along: f.Pose.Dir(r3.Vec{X: w.X, Y: w.Y}), U: f.Pose.Z, V: f.Upper(flat), Section: whole, Curved: 1}
	}
	first := at(0, h.From)
	first.Where = h.FromWhere
	if first.Section, err = net(h.Net); err != nil {
		return nil, err
	}
	c.Stations = append(c.Stations, first)
	last := len(f.Flats) - 1
	factor := CurvedFactor(f.Radius, f.Thickness)
	for i := range f.Flats {
		from, to := 0.0, f.Flats[i].Length()
		if i == 0 {
			from = h.From
		}
		if i == last {
			to = h.To
		}
		for _, g := range gauss {
			s := at(i, from+g[0]*(to-from))
			s.Counts = g[1] * (to - from)
			s.Where = f.flatWords(i)
			c.Stations = append(c.Stations, s)
		}
		if i < len(f.Bends) {
			c.Stations = append(c.Stations, f.bendStations(i, factor, whole)...)
		}
	}
	s := at(last, h.To)
	s.Where = "at its pad"
	if s.Section, err = net(h.ToNet); err != nil {
		return nil, err
	}
	c.Stations = append(c.Stations, s)
	return c, nil
}

func (f *Folded) flatWords(i int) string {
	switch {
	case len(f.Flats) == 1:
		return "between its foot and its pad"
	case i == 0:
		return "on its foot"
	case i == len(f.Flats)-1:
		return "on the flat of its pad"
	}
	return "on its web"
}

// bendStations are both ends of a bend, its middle, and those between that count.
func (f *Folded) bendStations(bend int, factor float64, whole section.Properties) (out []Station) {
	const pieces = 8
	where := "at its bend"
	if len(f.Bends) > 1 {
		where = [...]string{"at its bend by the foot", "at its bend by the pad", "at a bend of its"}[min(bend, 2)]
	}
	long := (f.Radius + f.Thickness/2) * f.Bends[bend].Turn.Abs().Rad()
	add := func(part, counts float64) {
		ring := f.turned(bend, part)
		sin, cos := math.Sincos(f.Bends[bend].Turn.Rad() * part)
		w := f.Flats[bend].Way
		way := r3.Vec{X: cos*w.X - sin*w.Y, Y: sin*w.X + cos*w.Y}
		middle := r3.Scale(0.25, r3.Add(r3.Add(ring[0], ring[1]), r3.Add(ring[2], ring[3])))
		out = append(out, Station{At: middle, Along: f.Pose.Dir(way), U: f.Pose.Z, V: f.Pose.Dir(r3.Vec{X: -way.Y, Y: way.X}),
			Section: whole, Curved: factor, Where: where, Counts: counts})
	}
	add(0, 0)
	for k := range pieces {
		add((float64(k)+0.5)/pieces, long/pieces)
	}
	add(1, 0)
	return out
}
