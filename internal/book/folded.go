package book

import (
	"fmt"
	"strings"

	"fitup/internal/assess"
	"fitup/internal/project/quantity"
	"fitup/internal/scene"

	"gonum.org/v1/gonum/spatial/r2"
)

// FoldNote says how a plate that is folded lies before it is bent, and what the figures
// of its bends count from.
const FoldNote = `The plate lies flat with its upper face up: the face that does not go on the rail. Its
foot's free end is the lower edge, from which all bend lines count, on the middle line
of each bend. Up means that the far part comes up toward you. The turn counts from
flat; the angle between two flats is what an angle gauge shows inside the bend. The
flat length holds for the K factor and the radius that are printed: bend a strip of
scrap with the same tools first, and measure what it grew.`

// BoxNote says how the plates of a box go together.
const BoxNote = `Tack the two sides under the upper plate first, set in from its edges as printed, their
slanting edge away from it; then the plate underneath. A nut for the pad's bolt goes in
before the box is closed. Weld the corners in short runs from the middle outward, opposite
corners in turn, or the box bends; then fit its foot to the rail.`

// ClampNote says how a tab goes on its clamp.
const ClampNote = `Bore or roll the clamp to the tube and split it, leave a gap between its halves, and bolt it
up before the tab is tacked on. Weld the tab with the clamp on a piece of the same tube,
away from the vehicle, and let it cool there. The clamp's ears and their bolts are not
drawn. Tighten in turn on both sides; look again after the first drive. A clamp marks a thin
tube: what the tube takes is not judged here.`

// folded is a mount that is plate, for the person who cuts, folds or welds it.
func (s *Sheet) folded(u quantity.Units, b *assess.Bracket) {
	var rows [][]string
	for _, r := range b.PlateRows() {
		rows = append(rows, []string{r.Label, Magnitude(r.Kind, r.V, u), strings.TrimSpace(Sense(r.Kind, r.V, u) + " " + r.Words)})
	}
	items := []Item{table(1, labels+6, rows)}
	for i := range b.Sheets {
		items = append(items, text(1, sheetLine(&b.Sheets[i], u))...)
	}
	if b.Plates.Clip != nil {
		items = append(items, text(0, ClampNote)...)
	}
	if b.Plates.Box != nil {
		items = append(items, text(0, BoxNote)...)
	}
	if b.Plates.Fold != nil && len(b.Plates.Fold.Bends) > 0 {
		items = append(items, text(1, fmt.Sprintf("K factor %.2f, of the thickness from the inside: %s", b.Plates.Fold.K, kSource))...)
		items = append(items, text(0, FoldNote)...)
	}
	items = append(append(items, boltItems(u, b)...), weldItems(u, b)...)
	s.add(capital(b.Label)+" mount, "+string(b.Plates.Kind), items...)
	rows = nil
	for _, r := range b.PlateMatches() {
		rows = append(rows, []string{r.Label, Magnitude(r.Kind, r.Made, u), "the plain mirror image has " + Magnitude(r.Kind, r.Mirror, u)})
	}
	if len(rows) > 0 {
		s.add(capital(b.Label)+" mount against the mirrored "+strings.ReplaceAll(b.Spec.Match, "_", " ")+" one", table(1, labels, rows))
	}
}

// kSource is where the usual K factor is from.
const kSource = "0.41 as Machinery's Handbook has it for mild steel, from memory, or the file's own"

// foldCutout is a mount that is one plate, laid flat.
func foldCutout(b *assess.Bracket, u quantity.Units) Cutout {
	f := b.Plates.Fold
	mm := func(v float64) string { return Magnitude(quantity.Length, v, u) }
	c := Cutout{
		Name:  b.Name + "-plate",
		Title: fmt.Sprintf("%s mount, %s, %s thick", b.Label, b.Plates.Kind, mm(f.Thickness)),
		Facts: facts(string(b.Plates.Kind), b, "the face that does not go on the rail. The free end of its foot is the lower edge."),
		Edges: [][]r2.Vec{f.Blank.Outline},
	}
	for _, h := range f.Blank.Holes {
		c.Holes = append(c.Holes, Circle{h.At, h.Diameter})
	}
	half, low := f.Width/2, -f.Length/2
	across := func(y float64) []r2.Vec { return []r2.Vec{{X: -half, Y: low + y}, {X: half, Y: low + y}} }
	for i := range f.Bends {
		x := &f.Bends[i]
		c.Marks = append(c.Marks, across(x.From), across(x.To))
		c.Bends = append(c.Bends, across(x.Middle))
		way := "down"
		if x.Up {
			way = "up"
		}
		note := fmt.Sprintf("%s %s", way, Magnitude(quantity.Angle, x.Turn.Abs().Rad(), u))
		c.Written = append(c.Written, scene.Note{At: r2.Vec{X: -half + 2, Y: low + x.Middle + 0.7}, Text: note})
		c.Facts = append(c.Facts, fmt.Sprintf("Bend %d: %s from flat, inside radius %s, its middle line %s from the lower edge, between the two lines beside it.", i+1, note, mm(f.Radius), mm(x.Middle)))
	}
	c.Written = append(c.Written, scene.Note{At: r2.Vec{X: -half + 2, Y: low + 1.5}, Text: "foot"}, scene.Note{At: r2.Vec{X: -half + 2, Y: -low - 5}, Text: b.Label + " pad"})
	return c
}

// blankFigures are the plates of a mount that is plate, laid flat, in the book.
func (m *maker) blankFigures(b *assess.Bracket) (out []Item) {
	if b.Plates.Fold != nil {
		out = append(out, figure(m.blankFigure(b)))
	}
	for i := range b.Sheets {
		out = append(out, figure(m.cutoutFigure(fmt.Sprintf("plate-%s-%d", b.Name, i+1), capital(b.Sheets[i].Name)+", flat", sheetCutout(b, &b.Sheets[i], i, m.u))))
	}
	return out
}

// blankFigure is one strip.
func (m *maker) blankFigure(b *assess.Bracket) Figure {
	return m.cutoutFigure("plate-"+b.Name, "Plate laid flat, its upper face up, the foot below", foldCutout(b, m.u))
}
