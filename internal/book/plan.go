package book

import (
	"fmt"
	"math"

	"fitup/internal/assess"
	"fitup/internal/book/paper"
	"fitup/internal/project"
	"fitup/internal/project/quantity"
	"fitup/internal/scene"
	"fitup/internal/scene/label"

	"gonum.org/v1/gonum/spatial/r2"
)

// exaggerated is by how much a plan shows errors larger than they are, as on the screen.
const exaggerated = 20

// plan draws points from above, the front at the left, with their errors exaggerated.
type plan struct {
	of    assess.FramePlan
	u     quantity.Units
	sheet *label.Sheet
	place r2.Box
	by    float64 // mm of the page for a mm
	lo    r2.Vec  // what stands at the lower left of the place, mm of the vehicle, y up
}

// at is where a point is drawn, before scale: the driver's right is below, the front at
// the left, as one looks down on the vehicle.
func (d *plan) at(i int) r2.Vec {
	p := d.of.Points[i]
	return r2.Vec{X: p.Ideal.X + exaggerated*(p.At.X-p.Ideal.X), Y: -(p.Ideal.Y + exaggerated*(p.At.Y-p.Ideal.Y))}
}

func (d *plan) ideal(i int) r2.Vec {
	p := d.of.Points[i]
	return r2.Vec{X: p.Ideal.X, Y: -p.Ideal.Y}
}

func (d *plan) to(p r2.Vec) r2.Vec {
	return r2.Add(d.place.Min, r2.Scale(d.by, r2.Sub(p, d.lo)))
}

// Round a plan, mm of the page: for names.
const planEdge = 16.0

// planFigure is a survey or a subframe from above; false where nothing is placed.
func (m *maker) planFigure(name, title, square string, of assess.FramePlan) (Figure, bool) {
	if len(of.Points) == 0 {
		return Figure{}, false
	}
	d := &plan{of: of, u: m.u}
	lo, hi := r2.Vec{X: math.Inf(1), Y: math.Inf(1)}, r2.Vec{X: math.Inf(-1), Y: math.Inf(-1)}
	for i := range of.Points {
		for _, p := range []r2.Vec{d.at(i), d.ideal(i)} {
			lo, hi = r2.Vec{X: min(lo.X, p.X), Y: min(lo.Y, p.Y)}, r2.Vec{X: max(hi.X, p.X), Y: max(hi.Y, p.Y)}
		}
	}
	span := r2.Sub(hi, lo)
	const least, most = 55.0, 120.0
	wide := m.size.Wide - bookLeft - bookRight - 2*planEdge
	d.by = min(wide/max(span.X, 1), (most-2*planEdge)/max(span.Y, 1))
	high := max(d.by*span.Y+2*planEdge, least)
	return Figure{
		Name: name, High: high,
		Title: fmt.Sprintf("%s, the front at the left: errors %d times as large as they are. Broken: %s. Rings: ±, k = 2, as large. Long broken: what does not fit. Chain: what to measure next.", title, exaggerated, square),
		draw: func(p *paper.Page, place r2.Box) {
			e := *d
			e.place = place
			middle := r2.Scale(0.5, r2.Add(lo, hi))
			half := r2.Scale(0.5/e.by, r2.Sub(place.Max, place.Min))
			e.lo = r2.Sub(middle, half)
			p.Clip(place)
			e.draw(p)
			p.Unclip()
		},
	}, true
}

func (d *plan) line(p *paper.Page, a, b r2.Vec, s scene.Style) {
	a, b = d.to(a), d.to(b)
	p.Line([]r2.Vec{a, b}, s)
	ca, cb := d.cell(a), d.cell(b)
	d.sheet.Line(ca.X, ca.Y, cb.X, cb.Y)
}

// cell is a place of the page on the grid of letters, rows down.
func (d *plan) cell(at r2.Vec) r2.Vec {
	return r2.Vec{X: (at.X - d.place.Min.X) / planLetter, Y: (d.place.Max.Y - at.Y) / planRow}
}

// The room of a letter of a plan, mm.
const (
	planSize   = 2.4
	planLetter = 1.4
	planRow    = 3.2
)

func (d *plan) draw(p *paper.Page) {
	size := r2.Sub(d.place.Max, d.place.Min)
	d.sheet = label.New(int(size.X/planLetter), int(size.Y/planRow))
	for _, e := range d.of.Members {
		d.line(p, d.ideal(e[0]), d.ideal(e[1]), scene.Style{Role: scene.RolePaper, Kind: scene.Dashed})
	}
	for _, e := range d.of.Members {
		d.line(p, d.at(e[0]), d.at(e[1]), heavy)
	}
	for _, t := range d.of.Tapes {
		if t.Out || t.Suspect {
			d.line(p, d.at(t.From), d.at(t.To), scene.Style{Role: scene.RolePaper, Kind: scene.Phantom})
		}
	}
	for k := 1; k < len(d.of.Next); k++ {
		d.line(p, d.at(d.of.Next[k-1]), d.at(d.of.Next[k]), scene.Style{Role: scene.RolePaper, Kind: scene.Chain})
	}
	for i := range d.of.Points {
		d.point(p, i)
	}
	for i := range d.of.Points {
		d.name(p, i)
	}
}

func (d *plan) point(p *paper.Page, i int) {
	thin := scene.Style{Role: scene.RolePaper}
	at := d.to(d.at(i))
	const arm, k, steps = 1.2, 2.0, 36
	p.Line([]r2.Vec{{X: at.X - arm, Y: at.Y}, {X: at.X + arm, Y: at.Y}}, thin)
	p.Line([]r2.Vec{{X: at.X, Y: at.Y - arm}, {X: at.X, Y: at.Y + arm}}, thin)
	q := d.of.Points[i].Ellipse
	if q.Long <= 0 {
		return
	}
	sin, cos := math.Sincos(q.Direction)
	ring := make([]r2.Vec, steps)
	for s := range steps {
		b, a := math.Sincos(2 * math.Pi * float64(s) / steps)
		a, b = exaggerated*k*d.by*q.Long*a, exaggerated*k*d.by*q.Short*b
		ring[s] = r2.Vec{X: at.X + a*cos - b*sin, Y: at.Y - (a*sin + b*cos)}
	}
	p.Polygon(ring, thin)
}

// name writes a point's name near it, where there is room.
func (d *plan) name(p *paper.Page, i int) {
	text := project.Printable(d.of.Points[i].Name)
	if d.of.Points[i].Judged {
		text += " " + Magnitude(quantity.Length, d.of.Points[i].Off(), d.u)
	}
	text = paper.Regular().Fit(settled(text), planSize, 40)
	n := int(math.Ceil(paper.Regular().Width(text, planSize) / planLetter))
	at := d.cell(d.to(d.at(i)))
	spot, ok := d.sheet.Place(n, n, label.Around(int(at.X), int(at.Y), n, 4))
	if !ok {
		return // it stands in the table
	}
	p.Type(r2.Vec{X: d.place.Min.X + planLetter*float64(spot.Col), Y: d.place.Max.Y - planRow*float64(spot.Row+1) + 0.7}, text, planSize, false)
}
