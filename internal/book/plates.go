package book

import (
	"fmt"
	"math"

	"fitup/internal/assess"
	"fitup/internal/project/quantity"
	"fitup/internal/scene"

	"gonum.org/v1/gonum/spatial/r2"
)

// plateCutout is a plate laid flat, as it is cut out.
func plateCutout(b *assess.Bracket, w *assess.PlateWork, u quantity.Units) Cutout {
	mm := func(v float64) string { return Magnitude(quantity.Length, v, u) }
	count, of := 1, b.Label+" leg, "
	if b.Members != nil {
		of = b.Label + " mount, "
		if w.End == "rail" {
			count = max(len(b.Members.Feet), 1)
		}
	}
	c := Cutout{
		Name:  b.Name + "-" + w.End + "-plate",
		Title: fmt.Sprintf("%s%s plate, %s thick", of, w.End, mm(w.Plate.Thickness)),
		Facts: factsOf(w.End+" plate", b, count, "either one: the plate is the same from both sides. The lower edge is marked.",
			capital(plateLine(w, u))+"."),
		Edges: [][]r2.Vec{w.Plate.Outline},
	}
	for _, h := range w.Plate.Holes {
		c.Holes = append(c.Holes, Circle{h.At, h.Diameter})
	}
	half := w.Figures.Width / 2
	low := -w.Figures.Height / 2
	if w.Folded {
		for _, f := range w.Blank.Bends {
			for _, y := range []float64{f.From, f.To} {
				c.Marks = append(c.Marks, []r2.Vec{{X: -half, Y: low + y}, {X: half, Y: low + y}})
			}
			c.Bends = append(c.Bends, []r2.Vec{{X: -half, Y: low + f.Middle}, {X: half, Y: low + f.Middle}})
		}
		c.Facts = append(c.Facts, "Bend along the line between the two others, square; the short side is folded over the rail.")
	}
	c.Written = append(c.Written, scene.Note{At: r2.Vec{X: -half + 2, Y: low + 1.5}, Text: "lower edge"})
	return c
}

// Of a drilling jig, mm: what it has round the holes, and the pilot hole.
const (
	jigEdge  = 15.0
	jigPilot = 4.0
)

// jigCutouts is the jig for the holes of what the foot of a mount is bolted to, if it is:
// its bolts, with the lines that it is laid on by.
func jigCutouts(b *assess.Bracket, u quantity.Units) []Cutout {
	if d, ok := b.FootDrill(); ok {
		return []Cutout{jigCutout(b, d, u)}
	}
	return nil
}

func jigCutout(b *assess.Bracket, d assess.FootDrill, u quantity.Units) Cutout {
	mm := func(v float64) string { return Magnitude(quantity.Length, v, u) }
	box := r2.Box{Min: d.Pattern[0], Max: d.Pattern[0]}
	for _, p := range d.Pattern {
		box.Min = r2.Vec{X: min(box.Min.X, p.X), Y: min(box.Min.Y, p.Y)}
		box.Max = r2.Vec{X: max(box.Max.X, p.X), Y: max(box.Max.Y, p.Y)}
	}
	grow := r2.Vec{X: d.Hole/2 + jigEdge, Y: d.Hole/2 + jigEdge}
	low := min(box.Min.Y-grow.Y, -d.Below) // down to the lower edge of what is bolted on
	outer := r2.Box{Min: r2.Vec{X: box.Min.X - grow.X, Y: low}, Max: r2.Add(box.Max, grow)}
	onto, mind := "the rail", "Do not drill into a rail's flanges or beside what runs inside it; look behind first."
	switch {
	case d.Own:
		onto, mind = "what its foot lies on", "Look behind first."
	case d.Flange:
		onto, mind = "the rail's flange", "Its holes go through a flange of the rail, which weakens it most there: have that judged before anything is drilled, and look behind first."
	}
	count := 1
	if b.Members != nil && len(b.Members.Feet) > 1 {
		count = len(b.Members.Feet)
		onto += " at each foot"
	}
	of, edge := "rail plate", "plate's lower edge"
	if b.Plates != nil {
		of, edge = "foot", "foot's free end"
	}
	c := Cutout{
		Name:  b.Name + "-rail-jig",
		Title: fmt.Sprintf("%s mount, drilling jig for %s", b.Label, onto),
		Facts: factsOf(fmt.Sprintf("drilling jig of the %s, for use %s", of, times(count)), b, 1, "either one: the holes are the same from both sides. The "+edge+" is marked.",
			fmt.Sprintf("Lay the cross on the middle of the foot, and the line of the %s %s below it. Drill %s through the jig, check with the %s, then open to %s.", edge, mm(d.Below), mm(jigPilot), of, mm(d.Hole)),
			mind+" Holes in a frame are for qualified people, under local rules."),
		Edges: [][]r2.Vec{corners(outer)},
	}
	for _, p := range d.Pattern {
		c.Holes = append(c.Holes, Circle{p, jigPilot})
		c.Rings = append(c.Rings, Circle{p, d.Hole})
	}
	c.Marks = append(c.Marks,
		[]r2.Vec{{X: outer.Min.X}, {X: outer.Max.X}}, []r2.Vec{{Y: outer.Min.Y}, {Y: outer.Max.Y}},
		[]r2.Vec{{X: outer.Min.X, Y: -d.Below}, {X: outer.Max.X, Y: -d.Below}})
	c.Written = append(c.Written, scene.Note{At: r2.Vec{X: outer.Min.X + 2, Y: -d.Below + 1}, Text: edge})
	return c
}

// times is how often something is done.
func times(n int) string {
	if n == 1 {
		return "once"
	}
	return fmt.Sprintf("%d times", n)
}

// leastTaper is a lean that no shim is made for, mm.
const leastTaper = 0.2

// sheetCutout is another flat plate of a mount, as it is cut out.
func sheetCutout(b *assess.Bracket, w *assess.SheetWork, i int, u quantity.Units) Cutout {
	c := Cutout{Name: fmt.Sprintf("%s-sheet-%d", b.Name, i+1), Title: b.Label + " mount, " + w.Name, Edges: [][]r2.Vec{w.Plate.Outline}}
	up := "either side; both are alike."
	if w.Up != "" {
		up = w.Up + "."
	}
	c.Facts = factsOf(w.Name, b, w.Count, up, Magnitude(quantity.Length, w.Plate.Thickness, u)+" thick.")
	for _, h := range w.Plate.Holes {
		c.Holes = append(c.Holes, Circle{h.At, h.Diameter})
	}
	return c
}

// taperCutout is the profile of the shim that makes up for a pad that leans.
func taperCutout(b *assess.Bracket, u quantity.Units) (Cutout, bool) {
	k, err := b.CheckOf()
	if err != nil || !k.Wedge.Known || !k.Lean.Known {
		return Cutout{}, false
	}
	rise := math.Abs(k.Wedge.V)
	run := rise / math.Tan(math.Abs(k.Lean.V))
	if !(rise >= leastTaper) || math.IsInf(run, 0) {
		return Cutout{}, false
	}
	return Cutout{
		Name:  b.Name + "-pad-taper",
		Title: b.Label + " mount, taper under the pad",
		Facts: facts("tapered shim, seen from its side", b, "either one.",
			fmt.Sprintf("%s more at the thick end over %s of length, an angle of %s. Add the thickness of the thin end along the long side.",
				Magnitude(quantity.Length, rise, u), Magnitude(quantity.Length, run, u), Magnitude(quantity.Angle, math.Abs(k.Lean.V), u))),
		Edges: [][]r2.Vec{{{}, {X: run}, {X: run, Y: rise}}},
	}, true
}
