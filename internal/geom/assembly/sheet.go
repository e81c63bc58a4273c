package assembly

import (
	"fitup/internal/geom"
	"fitup/internal/geom/bracket"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// Sheet is a flat plate of an assembly that is cut out along an outline: a gusset.
type Sheet struct {
	Name string
	// Pose is the plate's middle plane: its outline lies in the pose's x and y.
	Pose  geom.Pose
	Plate bracket.Plate // convex
	Host  int           // the part that it stands on
	End   int           // and the end of that in whose corner it is
	// Rail and Member are its welded edges, from the corner out, in the pose's x and y.
	Rail, Member [2]r2.Vec
	Corner       geom.Angle // between them
}

// Corners are those of one of its two faces, in vehicle axes: the front one looks along
// the pose's Z.
func (s *Sheet) Corners(front bool) []r3.Vec {
	z := -s.Plate.Thickness / 2
	if front {
		z = -z
	}
	out := make([]r3.Vec, len(s.Plate.Outline))
	for i, p := range s.Plate.Outline {
		out[i] = s.Pose.Point(r3.Vec{X: p.X, Y: p.Y, Z: z})
	}
	return out
}

func (s *Sheet) solid() convex {
	a, b := s.Corners(false), s.Corners(true)
	c := convex{corners: append(append([]r3.Vec{}, a...), b...), faces: []r3.Vec{s.Pose.Z}, edges: []r3.Vec{s.Pose.Z}}
	for i := range a {
		edge := r3.Sub(a[(i+1)%len(a)], a[i])
		c.edges = append(c.edges, edge)
		c.faces = append(c.faces, r3.Cross(edge, s.Pose.Z))
	}
	return c
}

// Gusset is a plate in the corner between a member and the face it stands on, mm.
type Gusset struct {
	On          string  // the member
	Over        bool    // on the side that looks the way the pad does, and not on the other
	Along, Down float64 // from the corner: along the member, and along the face
	Thickness   float64
	Snipe       float64 // cut off the corner, for the weld between the two
	Inward      float64 // its middle from the middle of the member's side; two of them where it is more than 0
	Up          r3.Vec  // the way the pad looks
}

// Gussets are the plates at each end of a member on a rail, from the corner of what is
// welded there. A gusset that reaches past the member, or into another one, is refused.
func (s *Solved) Gussets(g Gusset) ([]Sheet, error) {
	i := -1
	for k := range s.Parts {
		if s.Parts[k].Name == g.On {
			i = k
		}
	}
	if i < 0 {
		return nil, geom.PartFault("gusset", s.Name, "it is to stand on %q, which is no member of this mount", g.On)
	}
	p := &s.Parts[i]
	fault := func(format string, args ...any) error {
		return geom.PartFault("gusset", "on the "+p.Name, format, args...)
	}
	if _, _, err := facing(p, g.Up); err != nil {
		return nil, err
	}
	if !geom.LengthOK(g.Along) || !geom.LengthOK(g.Down) || !geom.LengthOK(g.Thickness) || !(g.Snipe >= 0) {
		return nil, fault("%g mm along the member, %g mm along the rail and %g mm thick; more than 0 is wanted of each", g.Along, g.Down, g.Thickness)
	}
	if g.Snipe > min(g.Along, g.Down)/2 {
		return nil, fault("%g mm cut off its corner leaves too little of %g by %g mm", g.Snipe, g.Along, g.Down)
	}
	way := r3.Scale(-1, g.Up)
	if g.Over {
		way = g.Up
	}
	var sheets []Sheet
	for e := range p.Ends {
		if p.Ends[e].Kind != Rail {
			continue
		}
		if g.Along > p.Cut.Length-same {
			return nil, fault("it reaches %.1f mm along the member, which is %.1f mm long", g.Along, p.Cut.Length)
		}
		sheet, angle := p.corner(e, way, &g)
		if angle < 25*geom.Deg || angle > 155*geom.Deg {
			return nil, fault("the corner is %.0f°, too flat or too sharp for a gusset", angle.Degrees())
		}
		sheet.Host, sheet.End, sheet.Corner = i, e, angle
		middle, places := sheet.Pose.At, []float64{0}
		if g.Inward > 0 {
			places = []float64{-g.Inward, g.Inward}
		}
		for _, z := range places {
			sheet.Pose.At = r3.Add(middle, r3.Scale(z, sheet.Pose.Z))
			if err := s.sheetRoom(&sheet); err != nil {
				return nil, err
			}
			sheets = append(sheets, sheet)
		}
	}
	if len(sheets) == 0 {
		return nil, fault("that member does not end on a rail")
	}
	return sheets, nil
}

// corner is a gusset in the middle of a member's side that looks a way, in the corner at
// one of its ends, and the angle of that corner.
func (p *Part) corner(e int, way r3.Vec, g *Gusset) (Sheet, geom.Angle) {
	side, out := p.Looking(way)
	n, a := r3.Unit(p.Ends[e].Face.Normal), p.Cut.Axis
	half := p.Half(side)
	from, to := p.Cut.Line(r3.Dot(out, p.Cut.U)*half, r3.Dot(out, p.Cut.V)*half)
	if e == 1 {
		a, from = r3.Scale(-1, a), to
	}
	at := r3.Add(p.Cut.Pad.At, r3.Add(r3.Scale(from, p.Cut.Axis), r3.Scale(half, out)))
	// Along the face in the plane of the member and the way its side looks.
	w := r2.Unit(r2.Vec{X: -r3.Dot(n, out) / r3.Dot(n, a), Y: 1})
	t := g.Thickness
	on := func(d float64) r2.Vec { return r2.Scale(d, w) }
	outline := []r2.Vec{{X: g.Snipe}, {X: g.Along}, r2.Add(r2.Vec{X: g.Along}, on(t)), r2.Add(on(g.Down), r2.Vec{X: t}), on(g.Down), on(g.Snipe)}
	if g.Snipe == 0 {
		outline = append([]r2.Vec{{}}, outline[1:5]...)
	}
	name := "gusset of the " + p.Name
	return Sheet{Name: name, Pose: geom.Pose{X: a, Y: out, Z: r3.Cross(a, out), At: at},
		Rail: [2]r2.Vec{on(g.Snipe), on(g.Down)}, Member: [2]r2.Vec{{X: g.Snipe}, {X: g.Along}},
		Plate: bracket.Plate{Name: name, Outline: outline, Thickness: t}}, geom.Between(r3.Add(r3.Scale(w.X, a), r3.Scale(w.Y, out)), a)
}

// sheetRoom refuses a plate that runs into a member other than the one it stands on.
func (s *Solved) sheetRoom(sheet *Sheet) error {
	own := sheet.solid()
	for k := range s.Parts {
		if k == sheet.Host {
			continue
		}
		other := s.Parts[k].solid()
		if deep := -apart(&own, &other); deep > through {
			return geom.PartFault("gusset", "on the "+s.Parts[sheet.Host].Name, "it runs %.1f mm into the %s; make it smaller", deep, s.Parts[k].Name)
		}
	}
	return nil
}
