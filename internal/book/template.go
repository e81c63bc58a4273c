package book

import (
	"fmt"
	"strconv"

	"fitup/internal/assess"
	"fitup/internal/project/quantity"
	"fitup/internal/scene"

	"gonum.org/v1/gonum/spatial/r2"
)

// wraps are the templates of a mount's leg, and the leg.
func wraps(a *assess.Assessment, mount string, places int) (assess.Bracket, []assess.Wrap, error) {
	b, ok := a.Bracket(mount)
	if !ok {
		return b, nil, fmt.Errorf("there is no leg [mount.%s.leg] in the file", mount)
	}
	w, err := b.Wraps(places)
	return b, w, err
}

// Template is the wrap-around template of a round leg as a table, with so many
// places around (12 to 360). It fails where the mount has no round leg.
func Template(a *assess.Assessment, mount string, places int) (Sheet, error) {
	var s Sheet
	b, wraps, err := wraps(a, mount, places)
	if err != nil {
		return s, err
	}
	u := a.Build.Units
	if len(wraps) == 0 {
		s.add("", text(0, fmt.Sprintf("Both ends of the %s leg are cut square: there is nothing to wrap.", b.Label))...)
	}
	for _, w := range wraps {
		items := text(1,
			fmt.Sprintf("square line: %s from the pad's end of the axis; once around: %s", Magnitude(quantity.Length, w.Ring, u), Magnitude(quantity.Length, w.Around, u)),
			fmt.Sprintf("place 0: %s clockwise from the top of the tube, seen from the pad", Magnitude(quantity.Angle, w.Zero, u)))
		if w.Fitted != "" {
			items = append(items, text(1, "fitted: "+w.Fitted)...)
		}
		rows := [][]string{{"place", "angle", "around", "toward the " + w.End + " end"}}
		for j, p := range w.Points {
			rows = append(rows, []string{strconv.Itoa(j), Magnitude(quantity.Angle, p.Angle, u),
				Magnitude(quantity.Length, p.Around, u), Magnitude(quantity.Length, p.Toward, u)})
		}
		s.add(fmt.Sprintf("%s leg, %s end", b.Label, w.End), append(items, table(1, 5, rows))...)
	}
	return s.clean(), nil
}

// smooth is how many places a drawn template has.
const smooth = 180

// TemplateSVG is the template of one end of a leg, "pad" or "rail", as an SVG
// drawing of true size. It fails where there is nothing to wrap.
func TemplateSVG(a *assess.Assessment, mount, end string) (string, error) {
	b, wraps, err := wraps(a, mount, smooth)
	if err != nil {
		return "", err
	}
	for _, w := range wraps {
		if w.End == end {
			pen := scene.NewSVG(pageOf(w))
			drawWrap(pen, b.Label, w, a.Build.Units)
			return pen.String(), nil
		}
	}
	return "", fmt.Errorf("the %s end of the %s leg is cut square: there is nothing to wrap", end, b.Label)
}

// Room on the page round a template, mm: round it, under it, and for the line
// of 100 mm.
const (
	pageEdge  = 10.0
	pageFoot  = 25.0
	pageWidth = 130.0
)

// pageOf is the page of a template, mm; the upper left corner is at 0, 0.
func pageOf(w assess.Wrap) r2.Box {
	width, height := max(w.Around+2*pageEdge, pageWidth), w.Deepest+2*pageEdge+pageFoot
	return r2.Box{Min: r2.Vec{Y: -height}, Max: r2.Vec{X: width}}
}

// drawWrap draws a template as it is wrapped, print outside: the square line at
// the top, the cut below it, and a line of 100 mm to see that the print is of
// true size. With the pad's end upward, clockwise as seen from the pad runs to
// the left on the side that faces you; with it downward, to the right.
func drawWrap(pen scene.Pen, label string, w assess.Wrap, u quantity.Units) {
	thin := scene.Style{Role: scene.RolePaper}
	begin, way, side := pageEdge, 1.0, "left"
	if w.End == "rail" {
		begin, way, side = pageEdge+w.Around, -1, "right"
	}
	edge := []r2.Vec{{X: begin, Y: -pageEdge}}
	for _, p := range w.Points {
		edge = append(edge, r2.Vec{X: begin + way*p.Around, Y: -pageEdge - p.Toward})
	}
	pen.Polygon(append(edge, r2.Vec{X: begin + way*w.Around, Y: -pageEdge}), thin)

	const left, right = pageEdge, pageEdge + 100
	base := -(w.Deepest + pageEdge + pageFoot - 6)
	pen.Line([]r2.Vec{{X: left, Y: base}, {X: right, Y: base}}, thin)
	for _, x := range []float64{left, right} {
		pen.Line([]r2.Vec{{X: x, Y: base + 2}, {X: x, Y: base - 2}}, thin)
	}
	write := func(y float64, format string, args ...any) {
		pen.Text(scene.Note{At: r2.Vec{X: left, Y: y}, Text: fmt.Sprintf(format, args...), Style: thin})
	}
	write(-4, "%s leg, %s end, print outside; top edge square round the tube, %s from the pad's end of the axis", label, w.End, Magnitude(quantity.Length, w.Ring, u))
	write(-8, "%s edge %s clockwise from the tube's top, seen from the pad", side, Magnitude(quantity.Angle, w.Zero, u))
	write(base-5, "print at 100 %%: this line is 100 mm long")
}
