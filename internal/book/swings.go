package book

import (
	"fmt"

	"fitup/internal/book/paper"
	"fitup/internal/project/quantity"
	"fitup/internal/scene"
	"fitup/internal/scene/view"

	"gonum.org/v1/gonum/spatial/r2"
)

// A cell of the figure of the modes, mm: three beside each other.
const (
	swingWide = 54.0
	swingHigh = 52.0
	swingFoot = 11.0 // for its words
)

// swingFigure is the powertrain at both ends of each way in which it swings.
func (m *maker) swingFigure() (Figure, bool) {
	sc := scene.Of(m.a)
	if len(sc.Swings) == 0 {
		return Figure{}, false
	}
	rows := float64((len(sc.Swings) + 2) / 3)
	views := make([]view.View, len(sc.Swings))
	boxes := make([]r2.Box, len(sc.Swings))
	to := 0.0 // not to a scale that could be measured by: what it shows is exaggerated
	for i := range sc.Swings {
		views[i] = sc.SwingView(i)
		boxes[i] = sc.SwingBounds(i, views[i])
		d := r2.Sub(boxes[i].Max, boxes[i].Min)
		to = max(to, d.X/(swingWide-6), d.Y/(swingHigh-swingFoot-4))
	}
	if !(to > 0) {
		return Figure{}, false
	}
	return Figure{
		Name: "modes",
		Title: "The powertrain at rest and, broken, at both ends of each way in which it swings; not to scale, and how far it goes is exaggerated. " +
			"Chain line: what it turns about; short line: the way its centre of mass goes; double chain line: the torque-roll axis.",
		High: rows * swingHigh,
		draw: func(p *paper.Page, place r2.Box) {
			for i := range sc.Swings {
				corner := r2.Vec{X: place.Min.X + float64(i%3)*swingWide, Y: place.Max.Y - float64(i/3+1)*swingHigh}
				cell := r2.Box{Min: r2.Add(corner, r2.Vec{Y: swingFoot}), Max: r2.Add(corner, r2.Vec{X: swingWide - 2, Y: swingHigh - 2})}
				middle := r2.Scale(0.5, r2.Add(boxes[i].Min, boxes[i].Max))
				centre := r2.Scale(0.5, r2.Add(cell.Min, cell.Max))
				p.Clip(cell)
				sc.DrawSwing(i, views[i], scene.Reduced{Pen: p, By: 1 / to, To: r2.Sub(centre, r2.Scale(1/to, middle))})
				p.Unclip()
				mode := &m.a.Shaking.Modes[sc.Swings[i].Mode]
				for k, text := range []string{
					fmt.Sprintf("%d: %s, %s", sc.Swings[i].Mode+1, mode.Main(), quantity.Format(quantity.Frequency, mode.Frequency.V, m.u, 1)),
					views[i].String(),
				} {
					p.Type(r2.Add(corner, r2.Vec{X: 1, Y: swingFoot - 4*float64(k+1)}), text, swingLetters, false)
				}
			}
		},
	}, true
}

// swingLetters is how high the words under a cell are, mm.
const swingLetters = 2.6
