package scene

import (
	"math"

	"fitup/internal/assess"
	"fitup/internal/geom"
	"fitup/internal/geom/bracket"
	"fitup/internal/geom/section"
	"fitup/internal/scene/solid"

	"gonum.org/v1/gonum/spatial/r3"
)

// bracket draws a leg from its pad to its rail, with the plates at its ends and
// the line of the isolator that stands on it.
func (s *Scene) bracket(b *assess.Bracket) {
	p := Part{ID: "bracket." + b.Name, Role: RoleLeg}
	if b.Members != nil {
		s.members(b, p)
		return
	}
	if b.Plates != nil {
		s.folded(b, p)
		return
	}
	if !b.HasCut {
		return
	}
	tube := p
	tube.Name = b.Label + " leg"
	corner := 2 // points to each rounded corner: it is too small to be seen round
	if k := b.Leg.Shape.Kind; k == section.RoundTube || k == section.RoundBar {
		corner = 4
	}
	s.cutPiece(tube, &b.Cut, corner)
	if edge := saddleEdge(b); edge != nil {
		p.Line = append(edge, edge[0])
		s.add(p)
		p.Line = nil
	}
	s.plate(p, b.PadPlate, bracket.Face{Point: b.Leg.Pad.Point, Normal: b.Leg.Pad.Normal}, b.Leg.Up)
	s.plate(p, b.RailPlate, bracket.Face{Point: b.Cut.Foot, Normal: b.Leg.Rail.Normal}, r3.Vec{})
}

// members draws a mount of several members: each with its cuts, and the plates.
func (s *Scene) members(b *assess.Bracket, p Part) {
	for i := range b.Members.Solved.Parts {
		m := &b.Members.Solved.Parts[i]
		corner := 2
		if k := m.Shape.Kind; k == section.RoundTube || k == section.RoundBar {
			corner = 4
		}
		tube := p
		tube.Name = b.Label + " " + m.Name
		strips := m.Strips(copedStrips, corner)
		for _, x := range strips {
			s.slice(tube, x.First, x.Second, x.Inside)
			tube.Name = "" // the first slice is named
		}
		if strips == nil {
			s.cutPiece(tube, &m.Cut, corner)
		}
	}
	for i := range b.Members.Sheets {
		sheet := p
		sheet.Name = b.Label + " " + b.Members.Sheets[i].Name
		sheet.Solid = made(solid.Loft(b.Members.Sheets[i].Corners(false), b.Members.Sheets[i].Corners(true)))
		s.add(sheet)
	}
	for _, x := range b.ThroughBolts() {
		pin := p
		pin.Name, pin.Line, pin.Thick = b.Label+" through bolt", []r3.Vec{x.From, x.To}, x.Diameter
		pin.Solid = made(solid.Rod(x.From, x.To, x.Diameter/2, pinSides))
		s.add(pin)
	}
	for _, x := range b.SleeveRods() { // seen where their ends come out of the tube
		sleeve := p
		sleeve.Name = b.Label + " sleeve"
		proud := r3.Scale(sleeveProud, r3.Unit(r3.Sub(x.To, x.From)))
		sleeve.Solid = made(solid.Rod(r3.Sub(x.From, proud), r3.Add(x.To, proud), x.Diameter/2, sleeveSides))
		s.add(sleeve)
	}
	pad := b.Members.Pad
	s.plate(p, b.PadPlate, bracket.Face{Point: pad.Point, Normal: r3.Scale(-1, pad.Normal)}, r3.Vec{})
	for _, f := range b.Members.Feet {
		s.plate(p, b.RailPlate, f.Face, r3.Vec{})
	}
}

// cutPiece draws a piece of stock between its two cuts.
func (s *Scene) cutPiece(p Part, c *bracket.Cut, corner int) {
	second := c.Pieces(true, corner)
	for i, first := range c.Pieces(false, corner) {
		p.Solid = made(solid.Loft(first, second[i]))
		s.add(p)
		p.Name = "" // of a channel and an angle the first piece is named
	}
}

// copedStrips is in how many slices a coped member is drawn.
const copedStrips = 8

// slice draws a lengthwise slice of a member between its two ends, which goes on into the
// next one at the sides that are inside.
func (s *Scene) slice(p Part, first, second []r3.Vec, inside []bool) {
	p.Solid = made(solid.Loft(first, second))
	if p.Solid == nil {
		return
	}
	n := len(first)
	for i, on := range inside {
		if !on {
			continue
		}
		for _, e := range []int{i, n + i, 2*n + i, 2*n + (i+1)%n} { // at its two ends, and its own two edges
			p.Solid.Edges[e].Look = solid.Never
		}
	}
	s.add(p)
}

// bendPieces is in how many flat pieces a bend is drawn.
const bendPieces = 4

// sleeveProud is how far a sleeve is drawn out of the sides that it is flush with, mm, so that
// they do not hide its ends; sleeveSides is in how many flats.
const (
	sleeveProud = 0.5
	sleeveSides = 12
)

// pinSides is in how many flats a bolt is drawn.
const pinSides = 8

// clampSides is in how many flats a clamp is drawn.
const clampSides = 16

// sheets draws the flat plates of a box or a tab, and the clamp it is on.
func (s *Scene) sheets(b *assess.Bracket, p Part) {
	for i := range b.Plates.Sheets() {
		x := &b.Plates.Sheets()[i]
		for _, pose := range x.Poses() {
			one := p
			one.Name = b.Label + " " + x.Name
			one.Solid = made(solid.Loft(x.Corners(pose, false), x.Corners(pose, true)))
			s.add(one)
		}
	}
	if c := b.Plates.Clip; c != nil {
		one := p
		one.Name = b.Label + " clamp"
		one.Solid = made(solid.Loft(c.Rings(clampSides)))
		s.add(one)
	}
}

// folded draws a mount that is one plate, with a line where each bend begins and ends.
func (s *Scene) folded(b *assess.Bracket, p Part) {
	if b.Plates.Fold == nil {
		s.sheets(b, p)
		return
	}
	for _, x := range b.Plates.Fold.Pieces(bendPieces) {
		one := p
		one.Name = b.Label + " plate"
		if one.Solid = made(solid.Loft(x.A, x.B)); one.Solid != nil && x.Curved {
			for i := range 2 * len(x.A) { // its two ends, where it goes on
				one.Solid.Edges[i].Look = solid.Never
			}
		}
		s.add(one)
	}
}

// plate draws a plate on a face that looks from what carries it to the leg. Its
// edge that is folded over a rail is left out.
func (s *Scene) plate(p Part, w *assess.PlateWork, face bracket.Face, up r3.Vec) {
	if w == nil {
		return
	}
	if up == (r3.Vec{}) {
		up = r3.Vec{Z: 1}
	}
	pose, err := bracket.FacePose("", face, up)
	if err != nil {
		if pose, err = bracket.FacePose("", face, r3.Vec{X: -1}); err != nil {
			return
		}
	}
	half := r3.Vec{X: w.Spec.Width.V() / 2, Y: w.Spec.Height.V() / 2, Z: w.Spec.Thickness.V() / 2}
	pose.At = pose.Point(r3.Vec{Y: half.Y - w.Middle, Z: half.Z})
	p.Solid = made(solid.Box(pose, half))
	s.add(p)
}

// saddleEdge is the outer edge of the saddle; nil where there is none.
func saddleEdge(b *assess.Bracket) []r3.Vec {
	if b.Saddle == nil {
		return nil
	}
	var out []r3.Vec
	r := b.Saddle.Saddle.Branch / 2
	pts := b.Saddle.Template.Points
	for _, p := range pts[:len(pts)-1] { // the last one is the first again
		sin, cos := math.Sincos(p.X/r + b.Saddle.Acute.Rad())
		side := r3.Add(r3.Scale(r*sin, b.Cut.U), r3.Scale(r*cos, b.Cut.V))
		out = append(out, r3.Add(r3.Add(b.Cut.Pad.At, side), r3.Scale(b.Cut.Length-p.Y, b.Cut.Axis)))
	}
	return out
}

// cutEnds are the places on a piece's axis across from its two tips, which are as
// far apart as it is long overall.
func cutEnds(c *bracket.Cut) (from, to r3.Vec) {
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, rail := range []bool{false, true} {
		for _, p := range c.Outline(rail, 3) {
			d := r3.Dot(r3.Sub(p, c.Pad.At), c.Axis)
			lo, hi = min(lo, d), max(hi, d)
		}
	}
	at := func(d float64) r3.Vec { return r3.Add(c.Pad.At, r3.Scale(d, c.Axis)) }
	return at(lo), at(hi)
}

// level is a direction with its height taken out.
func level(d r3.Vec) r3.Vec {
	u, err := geom.Unit(r3.Vec{X: d.X, Y: d.Y})
	if err != nil {
		return r3.Vec{X: 1}
	}
	return u
}
