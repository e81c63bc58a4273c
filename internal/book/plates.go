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
	if w.Figures.Height > 20 {
		c.Written = append(c.Written, scene.Note{At: r2.Vec{X: -half + 2, Y: -low - 5}, Text: b.Label + " " + w.End})
	}
	return c
}

// Of a drilling jig, mm: what it has round the holes, and the pilot hole.
const (
	jigEdge  = 15.0
	jigPilot = 4.0
)

// jigCutouts is the jig for the holes of what the plate at the rail is bolted to, if it is:
// its bolts, with the lines that it is laid on by.
func jigCutouts(b *assess.Bracket, u quantity.Units) []Cutout {
	if w := b.RailPlate; w != nil && len(w.Pattern) > 0 && len(w.Plate.Holes) > 0 {
		return []Cutout{jigCutout(b, w, u)}
	}
	return nil
}

func jigCutout(b *assess.Bracket, w *assess.PlateWork, u quantity.Units) Cutout {
	mm := func(v float64) string { return Magnitude(quantity.Length, v, u) }
	hole := w.Plate.Holes[0].Diameter
	box := r2.Box{Min: w.Pattern[0], Max: w.Pattern[0]}
	for _, p := range w.Pattern {
		box.Min = r2.Vec{X: min(box.Min.X, p.X), Y: min(box.Min.Y, p.Y)}
		box.Max = r2.Vec{X: max(box.Max.X, p.X), Y: max(box.Max.Y, p.Y)}
	}
	grow := r2.Vec{X: hole/2 + jigEdge, Y: hole/2 + jigEdge}
	low := min(box.Min.Y-grow.Y, -w.Middle) // down to the plate's lower edge
	outer := r2.Box{Min: r2.Vec{X: box.Min.X - grow.X, Y: low}, Max: r2.Add(box.Max, grow)}
	count, onto := 1, "the rail"
	if b.Members != nil && len(b.Members.Feet) > 1 {
		count, onto = len(b.Members.Feet), "the rail at each foot"
	}
	c := Cutout{
		Name:  b.Name + "-" + w.End + "-jig",
		Title: fmt.Sprintf("%s mount, drilling jig for %s", b.Label, onto),
		Facts: factsOf(fmt.Sprintf("drilling jig of the %s plate, for use %s", w.End, times(count)), b, 1, "either one: the holes are the same from both sides. The lower edge is marked.",
			fmt.Sprintf("Lay the middle cross on the middle of the plate and the plate's lower edge line %s below it. Drill %s through the jig, check with the plate, then open to %s.", mm(w.Middle), mm(jigPilot), mm(hole)),
			"Do not drill into a rail's flanges or beside what runs inside it; look behind first. Holes in a frame are for qualified people, under local rules."),
		Edges: [][]r2.Vec{corners(outer)},
	}
	for _, p := range w.Pattern {
		c.Holes = append(c.Holes, Circle{p, jigPilot})
		c.Rings = append(c.Rings, Circle{p, hole})
	}
	c.Marks = append(c.Marks,
		[]r2.Vec{{X: outer.Min.X}, {X: outer.Max.X}}, []r2.Vec{{Y: outer.Min.Y}, {Y: outer.Max.Y}},
		[]r2.Vec{{X: outer.Min.X, Y: -w.Middle}, {X: outer.Max.X, Y: -w.Middle}})
	c.Written = append(c.Written, scene.Note{At: r2.Vec{X: outer.Min.X + 2, Y: -w.Middle + 1}, Text: "plate's lower edge"})
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
