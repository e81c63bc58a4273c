package frame

import (
	"fitup/internal/geom/section"

	"gonum.org/v1/gonum/spatial/r2"
)

// Stock returns a stock shape as the section of a member: the shape stands as its
// data sheet draws it, H along z and, seen along the member's x, B to the right,
// which is −y. Area, second moments, torsion and shear are Properties'; the product of
// inertia, the shear centre and the corners of a channel and an angle are those of
// its outline. Errors as Properties.
func Stock(shape section.Shape) (Section, error) {
	p, err := shape.Properties()
	if err != nil {
		return Section{}, err
	}
	s := Section{Area: p.Area, Iy: p.Iy, Iz: p.Iz, It: p.It, Wt: p.Wt, Avy: p.Avy, Avz: p.Avz}
	switch shape.Kind {
	case section.RoundTube, section.RoundBar:
		s.Radius = shape.H / 2
		return s, nil
	case section.Channel, section.Angle:
		built, err := shape.Built()
		if err != nil {
			return Section{}, err
		}
		f, err := built.Figures()
		if err != nil {
			return Section{}, err
		}
		s.Iyz = -f.Ixy
		if shape.Kind == section.Channel {
			s.Iyz = 0 // of a shape that is the same above and below; what is left is rounding
		}
		if f.HasShearCentre {
			d := r2.Sub(f.ShearCentre, f.Centroid)
			s.Shear = r2.Vec{X: -d.X, Y: d.Y}
		}
		for _, c := range f.Corners {
			d := r2.Sub(c, f.Centroid)
			s.Corners = append(s.Corners, r2.Vec{X: -d.X, Y: d.Y})
		}
		return s, nil
	}
	for _, y := range [2]float64{-shape.B / 2, shape.B / 2} {
		for _, z := range [2]float64{-shape.H / 2, shape.H / 2} {
			s.Corners = append(s.Corners, r2.Vec{X: y, Y: z})
		}
	}
	return s, nil
}
