package bracket

import (
	"math"

	"fitup/internal/geom"
	"fitup/internal/geom/section"

	"gonum.org/v1/gonum/spatial/r2"
)

// Hole is a round hole or a slot in a plate, mm. Slot is the distance between
// the centres of a slot's two round ends, zero for a round hole; Along is the
// direction of the slot from the plate's x.
type Hole struct {
	At       r2.Vec
	Diameter float64
	Slot     float64
	Along    geom.Angle
}

func (h Hole) ends() (a, b r2.Vec) {
	s, c := math.Sincos(h.Along.Rad())
	half := r2.Vec{X: c * h.Slot / 2, Y: s * h.Slot / 2}
	return r2.Sub(h.At, half), r2.Add(h.At, half)
}

func (h Hole) area() float64 { return math.Pi/4*h.Diameter*h.Diameter + h.Diameter*h.Slot }

// Plate is a flat plate: a closed outline in its own x and y (mm, either way
// around, first point not repeated) with holes.
type Plate struct {
	Name      string
	Outline   []r2.Vec
	Holes     []Hole
	Thickness float64
	Density   float64 // kg/mm³, zero for steel
}

// PlateFigures are what a plate comes to.
type PlateFigures struct {
	Area     float64 // mm², holes taken out
	Mass     float64 // kg
	Centroid r2.Vec
	Edge     float64 // least metal from a hole to the outline, mm; 0 without holes
	Web      float64 // least metal between two holes, mm; 0 with fewer than two
	Width    float64 // of the smallest upright box around the outline
	Height   float64
}

// EdgeRule is the least distance from the centre of a bolt hole to the edge of
// a plate, in hole diameters (EN 1993-1-8, table 3.3: 1.2 d0).
const EdgeRule = 1.2

// Figures returns area, mass and margins, or why the plate cannot be cut: an
// outline that crosses itself, a hole that breaks out, holes that overlap.
func (p Plate) Figures() (PlateFigures, error) {
	bad := func(format string, args ...any) error { return bad("plate", p.Name, format, args...) }
	if !geom.LengthOK(p.Thickness) || !(p.Density >= 0 && p.Density < 1) {
		return PlateFigures{}, bad("a thickness of %g mm is no plate", p.Thickness)
	}
	if len(p.Outline) < 3 || len(p.Outline) > 2000 || len(p.Holes) > 500 {
		return PlateFigures{}, bad("an outline has 3 to 2000 corners and up to 500 holes; this has %d and %d", len(p.Outline), len(p.Holes))
	}
	var f PlateFigures
	lo, hi := p.Outline[0], p.Outline[0]
	for _, q := range p.Outline {
		if !(math.Abs(q.X) <= geom.LimitLength && math.Abs(q.Y) <= geom.LimitLength) {
			return PlateFigures{}, bad("a corner at %g, %g mm is not usable", q.X, q.Y)
		}
		lo = r2.Vec{X: math.Min(lo.X, q.X), Y: math.Min(lo.Y, q.Y)}
		hi = r2.Vec{X: math.Max(hi.X, q.X), Y: math.Max(hi.Y, q.Y)}
	}
	f.Width, f.Height = hi.X-lo.X, hi.Y-lo.Y
	if i, j, crossed := crossing(p.Outline); crossed {
		return PlateFigures{}, bad("the outline crosses itself: the side from corner %d meets the side from corner %d", i+1, j+1)
	}
	area, first := polygon(p.Outline, lo)
	if area <= geom.Tiny {
		return PlateFigures{}, bad("the outline encloses nothing")
	}
	for i, h := range p.Holes {
		if err := p.hole(i, h, &f); err != nil {
			return PlateFigures{}, err
		}
		area -= h.area()
		first = r2.Sub(first, r2.Scale(h.area(), r2.Sub(h.At, lo)))
	}
	f.Area = area
	f.Centroid = r2.Add(lo, r2.Scale(1/area, first))
	f.Mass = area * p.Thickness * section.DensityOr(p.Density)
	return f, nil
}

// hole checks one hole against the outline and the holes before it.
func (p Plate) hole(i int, h Hole, f *PlateFigures) error {
	bad := func(format string, args ...any) error { return bad("plate", p.Name, format, args...) }
	if !geom.LengthOK(h.Diameter) || !(h.Slot >= 0 && h.Slot <= geom.LimitLength) ||
		!geom.Finite(h.At.X, h.At.Y, h.Along.Rad()) {
		return bad("hole %d has no usable size or place", i+1)
	}
	a, b := h.ends()
	edge := math.Inf(1)
	for k, q := range p.Outline {
		edge = math.Min(edge, segments(a, b, q, p.Outline[(k+1)%len(p.Outline)]))
	}
	edge -= h.Diameter / 2
	if !inside(h.At, p.Outline) || edge <= 0 {
		return bad("hole %d at %g, %g mm breaks out of the plate; make the plate larger, or bring its holes together", i+1, h.At.X, h.At.Y)
	}
	if i == 0 || edge < f.Edge {
		f.Edge = edge
	}
	for j, o := range p.Holes[:i] {
		c, d := o.ends()
		web := segments(a, b, c, d) - h.Diameter/2 - o.Diameter/2
		if web <= 0 {
			return bad("holes %d and %d run into each other; set them farther apart", j+1, i+1)
		}
		if i == 1 && j == 0 || web < f.Web {
			f.Web = web
		}
	}
	return nil
}

// Rectangle returns the outline of a plate w by h with its centre at the
// origin.
func Rectangle(w, h float64) []r2.Vec {
	return []r2.Vec{{X: -w / 2, Y: -h / 2}, {X: w / 2, Y: -h / 2}, {X: w / 2, Y: h / 2}, {X: -w / 2, Y: h / 2}}
}

// HoleGrid returns nx by ny round holes about the origin, px and py apart.
func HoleGrid(nx, ny int, px, py, diameter float64) []Hole {
	var out []Hole
	for j := range max(0, min(ny, 100)) {
		for i := range max(0, min(nx, 100)) {
			out = append(out, Hole{Diameter: diameter, At: r2.Vec{
				X: (float64(i) - float64(nx-1)/2) * px, Y: (float64(j) - float64(ny-1)/2) * py}})
		}
	}
	return out
}
