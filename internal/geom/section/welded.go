package section

import (
	"math"

	"fitup/internal/geom"

	"gonum.org/v1/gonum/spatial/r2"
)

// WeldedBox is a box of four plates with a fillet outside each of its four corners: two
// upright sides between a cover on top and one underneath, both as wide as the box. mm;
// x across, y up, its middle at 0, 0.
type WeldedBox struct {
	Name        string
	Width       float64 // of the covers
	Depth       float64 // over both covers
	Cover, Side float64 // thickness of a cover and of a side
	Inset       float64 // of the sides' outer faces from the covers' edges: the shelf that the fillet lies on
}

// Inside is how wide the room between its sides is, mm.
func (b WeldedBox) Inside() float64 { return b.Width - 2*(b.Inset+b.Side) }

func (b WeldedBox) bad(format string, args ...any) error {
	return geom.PartFault("box", b.Name, format, args...)
}

func (b WeldedBox) check() error {
	if !geom.LengthOK(b.Width) || !geom.LengthOK(b.Depth) || !geom.LengthOK(b.Cover) || !geom.LengthOK(b.Side) || !(b.Inset >= 0 && b.Inset <= geom.LimitLength) {
		return b.bad("%g by %g mm of plates %g and %g mm thick is no box; more than 0 is wanted of each", b.Width, b.Depth, b.Cover, b.Side)
	}
	if b.Inside() < 1 {
		return b.bad("its two sides of %.1f mm, set in by %.1f mm, meet under a cover of %.1f mm; make the cover wider, or the sides thinner", b.Side, b.Inset, b.Width)
	}
	if b.Depth-2*b.Cover < 1 {
		return b.bad("a depth of %.1f mm leaves nothing between two covers of %.1f mm; make it deeper", b.Depth, b.Cover)
	}
	return nil
}

// sideAt is how far the middle of a side is from that of the box, mm.
func (b WeldedBox) sideAt() float64 { return b.Width/2 - b.Inset - b.Side/2 }

// Built is the box as one section: its four plates, and their middle lines.
func (b WeldedBox) Built() (Built, error) {
	if err := b.check(); err != nil {
		return Built{}, err
	}
	out := Built{Name: b.Name}
	w, d, x := b.Width/2, b.Depth/2, b.sideAt()
	y := d - b.Cover/2
	for _, k := range []float64{-1, 1} {
		out.Regions = append(out.Regions,
			Region{Outer: plateAt(r2.Vec{Y: k * y}, b.Width, b.Cover)},
			Region{Outer: plateAt(r2.Vec{X: k * x}, b.Side, b.Depth-2*b.Cover)})
		out.Walls = append(out.Walls,
			Wall{A: r2.Vec{X: -x, Y: k * y}, B: r2.Vec{X: x, Y: k * y}, T: b.Cover},
			Wall{A: r2.Vec{X: k * x, Y: -y}, B: r2.Vec{X: k * x, Y: y}, T: b.Side})
		if b.Inset > 0 {
			for _, j := range []float64{-1, 1} {
				out.Walls = append(out.Walls, Wall{A: r2.Vec{X: j * x, Y: k * y}, B: r2.Vec{X: j * w, Y: k * y}, T: b.Cover})
			}
		}
	}
	return out, nil
}

func plateAt(c r2.Vec, w, h float64) []r2.Vec {
	return rounded(r2.Vec{X: c.X - w/2, Y: c.Y - h/2}, r2.Vec{X: c.X + w/2, Y: c.Y + h/2}, 0)
}

// Properties are the figures of the box, which screen stresses: the axis y-y is across.
// Shear along it is carried by the covers between the sides, shear up by the sides, at their peak.
func (b WeldedBox) Properties() (Properties, error) {
	built, err := b.Built()
	if err != nil {
		return Properties{}, err
	}
	f, err := built.Figures()
	if err != nil {
		return Properties{}, err
	}
	x, y := b.sideAt(), b.Depth/2-b.Cover/2
	return Properties{
		Area: f.Area, Iy: f.Ix, Iz: f.Iy, Wy: f.Ix / (b.Depth / 2), Wz: f.Iy / (b.Width / 2), It: f.J, Wt: f.Wt,
		Avy: f.ShearX * 2 / 3, Avz: f.Ix * 2 * b.Side / b.above(), Mass: f.Mass, Wall: min(b.Cover, b.Side),
		CellArea: 4 * x * y, Density: SteelDensity,
	}, nil
}

// above is the first moment of all metal above mid-depth about it, mm³: the shear in the
// sides is largest there, V·S/(I·t) with the thickness of both.
func (b WeldedBox) above() float64 {
	half := b.Depth/2 - b.Cover
	return b.Width*b.Cover*(b.Depth-b.Cover)/2 + 2*b.Side*half*half/2
}

// Seam is the most that one of the four corner fillets carries along it, N/mm, under
// forces on the section, all added as if they met in one corner, on the safe side: of
// shear up the part that a cover hands to the sides, V·S/I halved, of shear across the
// same of a side, of torsion Bredt's flow (Timoshenko, Strength of Materials, built-up
// beams, from memory).
func (b WeldedBox) Seam(f Forces) (float64, error) {
	p, err := b.Properties()
	if err != nil {
		return 0, err
	}
	cover := b.Width * b.Cover * (b.Depth - b.Cover) / 2
	side := b.Side * (b.Depth - 2*b.Cover) * b.sideAt()
	return math.Abs(f.ShearZ)*cover/(2*p.Iy) + math.Abs(f.ShearY)*side/(2*p.Iz) + math.Abs(f.Torsion)/(2*p.CellArea), nil
}
