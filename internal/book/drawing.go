package book

import (
	"fmt"
	"strings"

	"fitup/internal/assess"
	"fitup/internal/project"
	"fitup/internal/project/quantity"
	"fitup/internal/scene"
	"fitup/internal/scene/view"

	"gonum.org/v1/gonum/spatial/r2"
)

// views are those that a drawing can be of, by the words for them.
var views = []struct {
	word string
	view view.View
}{{"side", view.FromLeft}, {"plan", view.FromAbove}, {"front", view.FromBehind}, {"three-quarter", view.ThreeQuarter}}

// DrawingViews are the words for what a drawing can be of.
func DrawingViews() []string {
	var out []string
	for _, v := range views {
		out = append(out, v.word)
	}
	return out
}

// A4 across (ISO 216) with its margin, the rows of words at its foot, and the
// room of a letter, mm.
const (
	sheetWide, sheetHigh = 297.0, 210.0
	sheetEdge            = 10.0
	sheetFoot            = 12.0
	letterWide           = 1.8
	letterHigh           = 4.2
	finest               = 0.3
)

// scales are those of ISO 5455 that a vehicle can want, as 1 to so many.
var scales = []float64{1, 2, 5, 10, 20, 50, 100}

// Drawing is one view of the build on A4, as an SVG drawing at the largest scale
// of ISO 5455 at which it has room. It fails where there is nothing to draw, or
// no view of that name.
func Drawing(a *assess.Assessment, of string) (string, error) {
	for _, v := range views {
		if v.word == of {
			return drawView(a, v.view)
		}
	}
	return "", fmt.Errorf("there is no view %q; a drawing is of %s", of, strings.Join(DrawingViews(), ", "))
}

// viewScale is the largest scale of ISO 5455 at which a view has room, as 1 to
// so many; ok is false where there is nothing to draw.
func viewScale(s *scene.Scene, v view.View, room r2.Vec) (to float64, box r2.Box, ok bool) {
	box, ok = s.Bounds(v, scene.Whole)
	const around = 15 // mm of the page for texts on every side
	to = scales[len(scales)-1]
	for _, n := range scales {
		if (box.Max.X-box.Min.X)/n <= room.X-2*around && (box.Max.Y-box.Min.Y)/n <= room.Y-2*around {
			to = n
			break
		}
	}
	return to, box, ok
}

// drawIn draws a view at a scale into a place on the page.
func drawIn(pen scene.Pen, s *scene.Scene, v view.View, to float64, box, place r2.Box, w scene.Words) {
	room := r2.Sub(place.Max, place.Min)
	middle, half := r2.Scale(0.5, r2.Add(box.Min, box.Max)), r2.Scale(to/2, room)
	centre := r2.Scale(0.5, r2.Add(place.Min, place.Max))
	s.Draw(scene.Reduced{Pen: pen, By: 1 / to, To: r2.Sub(centre, r2.Scale(1/to, middle))}, scene.Look{
		View: v, Window: r2.Box{Min: r2.Sub(middle, half), Max: r2.Add(middle, half)},
		Letter: r2.Vec{X: to * letterWide, Y: to * letterHigh}, Dot: to * finest, Bar: true, Sizes: true,
	}, w)
}

func drawView(a *assess.Assessment, v view.View) (string, error) {
	s := scene.Of(a)
	room := r2.Vec{X: sheetWide - 2*sheetEdge, Y: sheetHigh - 2*sheetEdge - sheetFoot}
	to, box, ok := viewScale(s, v, room)
	if !ok {
		return "", fmt.Errorf("there is nothing to draw yet: no rails, and the powertrain is not placed")
	}
	svg := scene.NewSVG(r2.Box{Max: r2.Vec{X: sheetWide, Y: sheetHigh}})
	corner := r2.Vec{X: sheetEdge, Y: sheetEdge + sheetFoot}
	drawIn(svg, s, v, to, box, r2.Box{Min: corner, Max: r2.Add(corner, room)}, paperWords(a))
	name := a.Build.Name
	if name == "" {
		name = "a build without a name"
	}
	for i, text := range []string{
		fmt.Sprintf("%s: %s, 1:%g on A4 printed at 100 %%. Parallel projection; what stands before the powertrain is looked through.", name, v, to),
		"Made from the numbers of the build file: planned, but for joint angles that were read. Measure on the vehicle and not on this sheet.",
	} {
		svg.Text(scene.Note{At: r2.Vec{X: sheetEdge, Y: sheetEdge + sheetFoot - 5*float64(i+1)}, Text: text})
	}
	return svg.String(), nil
}

// paperWords are the texts of a drawing on paper, which has room for all.
func paperWords(a *assess.Assessment) scene.Words {
	u := a.Build.Units
	return scene.Words{
		Joint: func(m scene.Mark) []string {
			name := m.Label
			if len(a.Lines) > 1 {
				name = a.Lines[m.Line].Name + " " + name
			}
			if !m.Angle.Known {
				return []string{name + " not known", name}
			}
			return []string{name + " " + Magnitude(quantity.Angle, m.Angle.V, u) + " " + m.Status.String(), name}
		},
		Figure: func(d scene.Dimension) []string {
			text := Magnitude(d.Kind, d.Value.V, u)
			if !d.Kind.Signed() && d.Value.V < 0 {
				text = "-" + strings.TrimPrefix(text, "-")
			}
			for _, more := range []string{Sense(d.Kind, d.Value.V, u), d.Of} {
				if more != "" {
					text += " " + more
				}
			}
			if d.Verdict {
				text += ", " + d.Status.String()
			}
			return []string{text}
		},
		Name:  project.Printable,
		Lit:   project.Printable,
		Width: func(s string) int { return len([]rune(s)) },
		Unit:  u.For(quantity.Length).Name(),
		Size:  1 / quantity.InUnit(quantity.Length, 1, u),
	}
}
