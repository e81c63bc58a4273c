package fold

import (
	"math"

	"fitup/internal/geom"
	"fitup/internal/geom/bracket"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// Plate is a strip of plate folded about lines across it, before it is laid flat.
type Plate struct {
	Name             string
	Width, Thickness float64
	// Radius is that inside every bend, K the place of the neutral line as a fraction
	// of the thickness.
	Radius, K float64
	// Pose has the bends along its Z; the strip's profile lies in its X and Y.
	Pose geom.Pose
	// Line is the profile along the middle of the thickness: the first end, the places
	// where the middles of neighbouring flats meet, the last end. The upper face is on
	// the left of one who goes along it, Z toward him.
	Line []r2.Vec
	// Holes are round, through one flat each.
	Holes   []Hole
	Density float64 // kg/mm³, zero for steel
}

// Hole is a hole in a flat.
type Hole struct {
	Flat     int
	Along    float64 // from where the flat's middle line begins in the profile, mm
	Across   float64 // from the middle of the width, along the pose's Z
	Diameter float64
}

// Flat is a straight stretch of a folded strip.
type Flat struct {
	From, To float64 // on the blank, from its first end
	Outside  float64 // its size over the outside corners of its bends, mm
	At       r2.Vec  // where it begins in the profile, behind the bend before it
	Way      r2.Vec  // along it, unit
}

// Length is that of the straight part, mm.
func (f *Flat) Length() float64 { return f.To - f.From }

// Bend is a bend between two flats.
type Bend struct {
	From, Middle, To float64 // on the blank, from its first end
	Turn             geom.Angle
	Up               bool    // seen on the upper face
	Between          float64 // the angle between the two flats, rad: 90° is square, 180° straight on
	Deduction        float64 // what it takes from the outside sizes of its two flats, mm
	Setback          float64 // from its outside corner to where its flats begin, mm
}

// Folded is a strip that can be made, flat and folded.
type Folded struct {
	Plate
	Flats  []Flat
	Bends  []Bend
	Length float64       // of the blank, mm
	Blank  bracket.Plate // flat, its middle at 0, 0; x across, y along
}

func (p *Plate) bad(format string, args ...any) error {
	return geom.PartFault("plate", p.Name, format, args...)
}

// straight is a turn that is no bend, rad.
const straight = 1e-6

// Fold lays the strip flat: K factor and setbacks as bracket.Strip has them. It fails
// where a flat has no length between its bends, a bend is a full turn, or a hole lies
// in a bend or off the plate.
func (p Plate) Fold() (*Folded, error) {
	if err := p.check(); err != nil {
		return nil, err
	}
	f := &Folded{Plate: p}
	n := len(p.Line) - 1
	ways, sizes := make([]r2.Vec, n), make([]float64, n)
	for i := range n {
		d := r2.Sub(p.Line[i+1], p.Line[i])
		if sizes[i] = r2.Norm(d); sizes[i] < 1 {
			return nil, p.bad("its flat %d has no length: its two ends lie at the same place; move the bends apart", i+1)
		}
		ways[i] = r2.Unit(d)
	}
	strip := bracket.Strip{Name: p.Name, Width: p.Width, Thickness: p.Thickness, Radius: p.Radius, K: p.K, Density: p.Density, Outside: sizes}
	turns := make([]geom.Angle, n-1)
	for i := range turns {
		turns[i] = geom.Angle(math.Atan2(r2.Cross(ways[i], ways[i+1]), r2.Dot(ways[i], ways[i+1])))
		if turns[i].Abs().Rad() < straight {
			return nil, p.bad("its bend %d turns through nothing: the two flats beside it run straight on; leave the bend out", i+1)
		}
		more := p.Thickness / 2 * math.Tan(turns[i].Abs().Rad()/2) // from the middles' corner to the outside one
		strip.Outside[i] += more
		strip.Outside[i+1] += more
	}
	strip.Bends = turns
	blank, err := strip.Develop()
	if err != nil {
		return nil, err
	}
	f.Length = blank.Length
	before := 0.0
	for i, flat := range blank.Flats {
		f.Flats = append(f.Flats, Flat{From: flat[0], To: flat[1], Outside: strip.Outside[i], Way: ways[i], At: r2.Add(p.Line[i], r2.Scale(before, ways[i]))})
		if f.Flats[i].Length() < geom.Tiny {
			return nil, p.bad("its flat %d has no length between its bends; make it longer, or the radius smaller", i+1)
		}
		if i < len(turns) {
			a := turns[i].Abs().Rad()
			before = (p.Radius + p.Thickness/2) * math.Tan(a/2)
			b := blank.Bends[i]
			f.Bends = append(f.Bends, Bend{From: b.From, Middle: b.Middle, To: b.To, Turn: turns[i], Up: turns[i] > 0, Between: math.Pi - a,
				Deduction: b.Deduction, Setback: (p.Radius + p.Thickness) * math.Tan(a/2)})
		}
	}
	f.Blank = bracket.Plate{Name: p.Name, Outline: bracket.Rectangle(p.Width, f.Length), Thickness: p.Thickness, Density: p.Density}
	for i, h := range p.Holes {
		at, err := f.onBlank(i)
		if err != nil {
			return nil, err
		}
		f.Blank.Holes = append(f.Blank.Holes, bracket.Hole{At: at, Diameter: h.Diameter})
	}
	if _, err := f.Blank.Figures(); err != nil {
		return nil, err
	}
	return f, nil
}

func (p *Plate) check() error {
	switch {
	case len(p.Line) < 2:
		return p.bad("it has no flats")
	case !geom.LengthOK(p.Width) || !geom.LengthOK(p.Thickness):
		return p.bad("%g mm wide and %g mm thick is no plate; more than 0 is wanted of both", p.Width, p.Thickness)
	case len(p.Line) > 2 && !(p.Radius >= p.Thickness/4 && p.Radius <= geom.LimitLength):
		return p.bad("an inside radius of %g mm is a knife edge in a plate of %g mm; want its thickness or more", p.Radius, p.Thickness)
	}
	for _, q := range p.Line {
		if !geom.Finite(q.X, q.Y) || math.Abs(q.X) > geom.LimitLength || math.Abs(q.Y) > geom.LimitLength {
			return p.bad("a corner at %g, %g mm is not usable", q.X, q.Y)
		}
	}
	return nil
}

// onBlank is where a hole lies on the blank, from its middle.
func (f *Folded) onBlank(i int) (r2.Vec, error) {
	h := f.Holes[i]
	if h.Flat < 0 || h.Flat >= len(f.Flats) {
		return r2.Vec{}, f.bad("hole %d is in flat %d, and it has %d", i+1, h.Flat+1, len(f.Flats))
	}
	flat := &f.Flats[h.Flat]
	y := h.Along - r2.Norm(r2.Sub(flat.At, f.Line[h.Flat])) // from where the flat begins
	if !(y-h.Diameter/2 >= 0 && y+h.Diameter/2 <= flat.Length()) {
		return r2.Vec{}, f.bad("a hole of %.1f mm lies in a bend or off the end of its flat %d: its middle is %.1f mm from where a flat of %.1f mm begins; move it, or make the flat longer",
			h.Diameter, h.Flat+1, y, flat.Length())
	}
	return r2.Vec{X: h.Across, Y: flat.From + y - f.Length/2}, nil
}

// Upper is the way the upper face of a flat looks, vehicle axes.
func (f *Folded) Upper(flat int) r3.Vec {
	w := f.Flats[flat].Way
	return f.Pose.Dir(r3.Vec{X: -w.Y, Y: w.X})
}

// At is a place of a flat: along from where its straight part begins, across from the
// middle of the width, up from the middle of the thickness; vehicle axes.
func (f *Folded) At(flat int, along, across, up float64) r3.Vec {
	w := f.Flats[flat].Way
	q := r2.Add(f.Flats[flat].At, r2.Add(r2.Scale(along, w), r2.Scale(up, r2.Vec{X: -w.Y, Y: w.X})))
	return f.Pose.Point(r3.Vec{X: q.X, Y: q.Y, Z: across})
}

// Ring is the outline of the strip's section across a flat at a place along it.
func (f *Folded) Ring(flat int, along float64) []r3.Vec {
	w, t := f.Width/2, f.Thickness/2
	return []r3.Vec{f.At(flat, along, -w, -t), f.At(flat, along, w, -t), f.At(flat, along, w, t), f.At(flat, along, -w, t)}
}

// Piece is a convex piece of a folded strip: the solid between two rings.
type Piece struct {
	A, B   []r3.Vec
	Curved bool // of a bend
}

// Pieces are the flats, and each bend in so many.
func (f *Folded) Pieces(each int) (out []Piece) {
	for i := range f.Flats {
		out = append(out, Piece{A: f.Ring(i, 0), B: f.Ring(i, f.Flats[i].Length())})
		if i == len(f.Bends) {
			break
		}
		from := f.Ring(i, f.Flats[i].Length())
		for k := 1; k <= each; k++ {
			to := f.turned(i, float64(k)/float64(each))
			out = append(out, Piece{from, to, true})
			from = to
		}
	}
	return out
}

// turned is the section of the strip within a bend, part of the way through it.
func (f *Folded) turned(bend int, part float64) []r3.Vec {
	ring := f.Ring(bend, f.Flats[bend].Length())
	if part >= 1 {
		return f.Ring(bend+1, 0)
	}
	centre := f.centre(bend)
	a := f.Bends[bend].Turn.Rad() * part
	sin, cos := math.Sincos(a)
	for i, p := range ring {
		o := f.Pose.Own(p)
		x, y := o.X-centre.X, o.Y-centre.Y
		ring[i] = f.Pose.Point(r3.Vec{X: centre.X + cos*x - sin*y, Y: centre.Y + sin*x + cos*y, Z: o.Z})
	}
	return ring
}

// centre is that of a bend, in the profile.
func (f *Folded) centre(bend int) r2.Vec {
	flat := &f.Flats[bend]
	r, w := f.Radius+f.Thickness/2, flat.Way
	if f.Bends[bend].Turn < 0 {
		r = -r
	}
	end := r2.Add(flat.At, r2.Scale(flat.Length(), w))
	return r2.Add(end, r2.Scale(r, r2.Vec{X: -w.Y, Y: w.X}))
}
