package book

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"fitup/internal/assess"
	"fitup/internal/assess/finding"
	"fitup/internal/book/paper"
	"fitup/internal/project/quantity"
	"fitup/internal/scene"

	"gonum.org/v1/gonum/spatial/r2"
)

const noLeg = "No leg is in the file yet: [mount.left_front.leg] with a section begins one."

func (m *maker) mounts(s *Sheet) {
	if len(m.a.Brackets) == 0 && len(m.a.Adapters) == 0 {
		s.add("", text(0, noLeg)...)
		return
	}
	for i := range m.a.Brackets {
		b := &m.a.Brackets[i]
		head := capital(b.Label) + " mount"
		if b.Section != "" {
			head += ", " + b.Section
		}
		if b.Members != nil {
			s.members(m.u, b)
			m.verdictsOn(s, b.Name)
			continue
		}
		if b.Plates != nil {
			s.add("", m.blankFigures(b)...)
			s.folded(m.u, b)
			m.verdictsOn(s, b.Name)
			continue
		}
		if !b.HasCut {
			s.add(head, text(0, "No cut. "+b.Why)...)
			continue
		}
		items := []Item{figure(m.legFigure(b))}
		var rows [][]string
		for _, r := range b.Rows() {
			rows = append(rows, []string{r.Label, Magnitude(r.Kind, r.V, m.u), strings.TrimSpace(Sense(r.Kind, r.V, m.u) + " " + r.Words)})
		}
		items = append(items, Item{Table: &Table{Rows: rows}})
		for _, w := range []*assess.PlateWork{b.PadPlate, b.RailPlate} {
			if w != nil {
				items = append(items, figure(m.plateFigure(b, w)))
				items = append(items, plateItems(w, m.u)...)
			}
		}
		s.add(head, items...)
		m.verdictsOn(s, b.Name)
	}
	m.adapters(s)
	s.add("", text(0, "Templates of true size: `fitup template FILE -o DIR`.")...)
}

// adapters are the plates between the block and the isolators.
func (m *maker) adapters(s *Sheet) {
	for _, x := range m.a.Adapters {
		if x.Why == "" {
			s.add("", figure(m.cutoutFigure("adapter-"+x.Name, capital(x.Label)+" adapter plate, seen from the isolator", adapterCutout(x, m.u))))
		}
		s.adapter(m.u, x)
		if !slices.ContainsFunc(m.a.Brackets, func(b assess.Bracket) bool { return b.Name == x.Name }) {
			m.verdictsOn(s, x.Name)
		}
	}
}

// verdictsOn are the findings on the bracket of a mount, and on its adapter.
func (m *maker) verdictsOn(s *Sheet, mount string) {
	var rows [][]string
	for _, f := range m.a.Findings {
		if finding.AboutBracket(f.ID, mount) {
			rows = append(rows, []string{f.Title, f.Status.String(), m.value(f), m.limit(f)})
		}
	}
	if len(rows) > 0 {
		s.add("", grid([]string{"finding", "verdict", "value", "limit"}, rows))
	}
}

// legFigure is a leg from its side and from above, with its cuts.
func (m *maker) legFigure(b *assess.Bracket) Figure {
	side, top := legOutline(b, false), legOutline(b, true)
	box := r2.Box{Min: r2.Vec{X: math.Inf(1)}, Max: r2.Vec{X: math.Inf(-1)}}
	for _, p := range append(side.near, top.near...) {
		box.Min.X, box.Max.X = min(box.Min.X, p.X), max(box.Max.X, p.X)
	}
	const wide, high = 138.0, 32.0
	to := scales[len(scales)-1]
	for _, n := range scales {
		if (box.Max.X-box.Min.X)/n <= wide && side.deep/n <= high && top.deep/n <= high {
			to = n
			break
		}
	}
	each := max(side.deep, top.deep)/to + 16
	return Figure{
		Name:  "leg-" + b.Name,
		Title: fmt.Sprintf("%s leg, 1:%g: above from its side, below from above; the pad's end is on the left. Broken lines are behind.", capital(b.Label), to),
		High:  2 * each,
		draw: func(p *paper.Page, place r2.Box) {
			for i, o := range []outline{side, top} {
				middle := r2.Vec{X: (place.Min.X+place.Max.X)/2 - (box.Min.X+box.Max.X)/2/to, Y: place.Max.Y - each*(float64(i)+0.5) + 3}
				pen := scene.Reduced{Pen: p, By: 1 / to, To: middle}
				pen.Polygon(o.near, heavy)
				pen.Polygon(o.far, scene.Style{Role: scene.RolePaper, Kind: scene.Dashed})
				pen.Line([]r2.Vec{{X: box.Min.X - 4*to, Y: 0}, {X: box.Max.X + 4*to, Y: 0}}, scene.Style{Role: scene.RolePaper, Kind: scene.Chain})
				low := middle.Y - o.deep/2/to - 6
				lo, hi := o.ends()
				sized(p, r2.Vec{X: middle.X + lo/to, Y: low}, r2.Vec{X: middle.X + hi/to, Y: low}, Magnitude(quantity.Length, hi-lo, m.u))
				right := middle.X + hi/to + 6
				sized(p, r2.Vec{X: right, Y: middle.Y - o.deep/2/to}, r2.Vec{X: right, Y: middle.Y + o.deep/2/to}, Magnitude(quantity.Length, o.deep, m.u))
			}
		},
	}
}

// outline is a leg as it is seen square to its axis, mm along it and across.
type outline struct {
	near, far []r2.Vec
	deep      float64
}

func (o outline) ends() (lo, hi float64) {
	lo, hi = math.Inf(1), math.Inf(-1)
	for _, p := range append(append([]r2.Vec{}, o.near...), o.far...) {
		lo, hi = min(lo, p.X), max(hi, p.X)
	}
	return lo, hi
}

// legOutline are the nearer and the farther edge of a leg. A round leg's are
// those of its middle plane and of its two sides.
func legOutline(b *assess.Bracket, fromAbove bool) outline {
	deep, half := b.Leg.Shape.H, b.Leg.Shape.B/2
	if fromAbove {
		deep, half = b.Leg.Shape.B, b.Leg.Shape.H/2
	}
	isRound := b.Leg.Shape.B == 0
	if isRound {
		deep, half = b.Leg.Shape.H, b.Leg.Shape.H/2
	}
	at := func(across, near float64) (from, to float64) {
		u, v := near, across
		if fromAbove {
			u, v = across, near
		}
		from, to = b.Cut.Line(u, v)
		if b.Saddle != nil {
			to = b.Cut.Length - saddleAt(b, math.Atan2(u, v))
		}
		return from, to
	}
	edge := func(side float64) []r2.Vec {
		const n = 24
		var left, right []r2.Vec
		for i := range n + 1 {
			across := deep * (float64(i)/n - 0.5)
			near := side * half
			if isRound { // on the round itself
				near = side * math.Sqrt(max(half*half-across*across, 0))
			}
			from, to := at(across, near)
			up := across
			if fromAbove { // U, to the right of one who looks from the pad, is below
				up = -across
			}
			left, right = append(left, r2.Vec{X: from, Y: up}), append(right, r2.Vec{X: to, Y: up})
		}
		for i := range right {
			left = append(left, right[len(right)-1-i])
		}
		return left
	}
	return outline{near: edge(1), far: edge(-1), deep: deep}
}

// saddleAt is how far a saddle's edge lies before the end of the axis, at an
// angle around the tube from its top, clockwise seen from the pad.
func saddleAt(b *assess.Bracket, clock float64) float64 {
	pts := b.Saddle.Template.Points
	n := len(pts) - 1
	turn := math.Mod(clock-b.Saddle.Acute.Rad()+6*math.Pi, 2*math.Pi) / (2 * math.Pi) * float64(n)
	i := min(int(turn), n-1)
	return pts[i].Y + (turn-float64(i))*(pts[i+1].Y-pts[i].Y)
}

// sized is a dimension line with oblique strokes (ISO 129-1) and its text in the
// middle: above a line across, to the right of an upright one.
func sized(p *paper.Page, a, b r2.Vec, text string) {
	thin := scene.Style{Role: scene.RolePaper}
	p.Line([]r2.Vec{a, b}, thin)
	for _, q := range []r2.Vec{a, b} {
		p.Line([]r2.Vec{r2.Sub(q, r2.Vec{X: 1, Y: 1}), r2.Add(q, r2.Vec{X: 1, Y: 1})}, thin)
	}
	middle := r2.Scale(0.5, r2.Add(a, b))
	at := r2.Vec{X: middle.X - paper.Regular().Width(text, 2.6)/2, Y: middle.Y + 0.9}
	if a.X == b.X {
		at = r2.Vec{X: middle.X + 1.5, Y: middle.Y - 0.9}
	}
	p.Type(at, text, 2.6, false)
}

// plateFigure is a plate laid flat, to a scale.
func (m *maker) plateFigure(b *assess.Bracket, w *assess.PlateWork) Figure {
	return m.cutoutFigure("plate-"+b.Name+"-"+w.End, capital(w.End)+" plate, the lower edge below", plateCutout(b, w, m.u))
}

// cutoutFigure is a template at a scale, with its sizes.
func (m *maker) cutoutFigure(name, title string, c Cutout) Figure {
	c.Written = nil
	c.clean()
	box := c.box()
	size := r2.Sub(box.Max, box.Min)
	to := scales[len(scales)-1]
	for _, n := range scales {
		if size.X/n <= 110 && size.Y/n <= 60 {
			to = n
			break
		}
	}
	what, more, found := strings.Cut(title, ", ")
	title = fmt.Sprintf("%s, 1:%g", what, to)
	if found {
		title += ", " + more
	}
	return Figure{
		Name: name, Title: title + ".", High: size.Y/to + 14,
		draw: func(p *paper.Page, place r2.Box) {
			middle := r2.Add(r2.Scale(0.5, r2.Add(place.Min, place.Max)), r2.Vec{Y: 4})
			c.draw(scene.Reduced{Pen: p, By: 1 / to, To: r2.Sub(middle, r2.Scale(0.5/to, r2.Add(box.Min, box.Max)))})
			half := r2.Scale(0.5/to, size)
			sized(p, r2.Vec{X: middle.X - half.X, Y: middle.Y - half.Y - 5}, r2.Vec{X: middle.X + half.X, Y: middle.Y - half.Y - 5}, Magnitude(quantity.Length, size.X, m.u))
			sized(p, r2.Vec{X: middle.X + half.X + 6, Y: middle.Y - half.Y}, r2.Vec{X: middle.X + half.X + 6, Y: middle.Y + half.Y}, Magnitude(quantity.Length, size.Y, m.u))
			for i, h := range c.Holes {
				if i == 0 {
					at := r2.Add(middle, r2.Scale(1/to, r2.Sub(h.At, r2.Scale(0.5, r2.Add(box.Min, box.Max)))))
					p.Type(r2.Vec{X: at.X + h.Diameter/2/to + 2.5, Y: at.Y + 1}, "⌀ "+Magnitude(quantity.Length, h.Diameter, m.u), 2.6, false)
				}
			}
		},
	}
}

func (m *maker) cuts(s *Sheet) {
	sheet, err := Cuts(m.a)
	if err != nil {
		s.add("", text(0, noLeg)...)
		return
	}
	s.Sections = append(s.Sections, sheet.Sections...)
	for _, g := range m.a.CutPlans(assess.SearchAtEase) {
		if g.HasPlan && len(g.Plan.Bars) > 0 {
			s.add("", figure(m.nesting(g)))
		}
	}
	for i := range m.a.Sheets {
		if g := &m.a.Sheets[i]; g.HasPlan {
			s.add("", m.sheetNesting(g)...)
		}
	}
}

// nesting draws each bar with the pieces that are cut from it.
func (m *maker) nesting(g assess.CutGroup) Figure {
	const each, most = 11.0, 18
	longest := 0.0
	for _, b := range g.Plan.Bars {
		longest = max(longest, g.List.Stock[b.Stock].Length)
	}
	n := min(len(g.Plan.Bars), most)
	title := "Bars of " + g.Section + ", not to scale across; each piece as it is cut, from the left."
	if n < len(g.Plan.Bars) {
		title += fmt.Sprintf(" The first %d of %d bars.", n, len(g.Plan.Bars))
	}
	return Figure{Name: "bars-" + g.Section, Title: title, High: each * float64(n), draw: func(p *paper.Page, place r2.Box) {
		by := (place.Max.X - place.Min.X - 1) / longest
		for i, b := range g.Plan.Bars[:n] {
			low, high := place.Max.Y-each*float64(i+1)+2, place.Max.Y-each*float64(i)-3
			box := func(from, to float64) []r2.Vec {
				return corners(r2.Box{Min: r2.Vec{X: place.Min.X + by*from, Y: low}, Max: r2.Vec{X: place.Min.X + by*to, Y: high}})
			}
			p.Polygon(box(0, g.List.Stock[b.Stock].Length), scene.Style{Role: scene.RolePaper})
			for _, c := range b.Cuts {
				p.Polygon(box(c.From, c.To), heavy)
				name := g.List.Pieces[c.Piece].Name + ", " + Magnitude(quantity.Length, c.To-c.From, m.u)
				p.Type(r2.Vec{X: place.Min.X + by*c.From + 1, Y: low + 2}, paper.Regular().Fit(settled(name), 2.4, by*(c.To-c.From)-2), 2.4, false)
			}
		}
	}}
}
