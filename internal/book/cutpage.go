package book

import (
	"fmt"
	"math"

	"fitup/internal/book/paper"
	"fitup/internal/scene"

	"gonum.org/v1/gonum/spatial/r2"
)

// PaperSize is a sheet upright, mm.
type PaperSize struct {
	Name       string
	Wide, High float64
}

// PaperSizes are the sheets that can be printed on: ISO 216, and ASME Y14.1 size
// A for Letter.
func PaperSizes() []PaperSize { return []PaperSize{{"a4", 210, 297}, {"letter", 215.9, 279.4}} }

// Around a template on its page, mm: the page's edge, the words at its head, the
// bars at its foot and right, what neighbours share, and the map of the tiles.
const (
	tileEdge  = 9.0
	tileHead  = 44.0
	tileFoot  = 13.0
	tileBars  = 22.0
	overlap   = 12.0
	mapSize   = 26.0
	factSize  = 2.9
	leastFact = 1.0 // at which names of any length that a file may have go in
	factLead  = 1.33
	barMetric = 100.0
	barInch   = 4 * 25.4
)

// measureFirst is said on every page of a template.
const measureFirst = "Print at 100 %, not fitted to the page. Measure the bars both ways before you cut."

// tiling is how a template is divided among sheets.
type tiling struct {
	wide, high float64 // of a sheet
	room       r2.Vec  // for the template on each
	cols, rows int
	box        r2.Box // of the template
}

func roomOn(wide, high float64) r2.Vec {
	return r2.Vec{X: wide - 2*tileEdge - tileBars, Y: high - 2*tileEdge - tileHead - tileFoot}
}

// tile divides a template: on one sheet if it can be, upright or across, and
// otherwise on as few as can be.
func tile(box r2.Box, size PaperSize) tiling {
	need := r2.Add(r2.Sub(box.Max, box.Min), r2.Vec{X: 1, Y: 1}) // half a line's width
	var best tiling
	for i, s := range [2][2]float64{{size.Wide, size.High}, {size.High, size.Wide}} {
		t := tiling{wide: s[0], high: s[1], room: roomOn(s[0], s[1]), box: box}
		count := func(need, room float64) int {
			if need <= room {
				return 1
			}
			return int(math.Ceil((need - overlap) / (room - overlap)))
		}
		t.cols, t.rows = count(need.X, t.room.X), count(need.Y, t.room.Y)
		if i == 0 || t.cols*t.rows < best.cols*best.rows {
			best = t
		}
	}
	return best
}

// window is what of the template's plane a tile shows; rows run down.
func (t tiling) window(col, row int) r2.Box {
	middle := r2.Scale(0.5, r2.Add(t.box.Min, t.box.Max))
	step := r2.Sub(t.room, r2.Vec{X: overlap, Y: overlap})
	all := r2.Vec{X: step.X*float64(t.cols) + overlap, Y: step.Y*float64(t.rows) + overlap}
	lo := r2.Vec{X: middle.X - all.X/2 + step.X*float64(col), Y: middle.Y + all.Y/2 - t.room.Y - step.Y*float64(row)}
	return r2.Box{Min: lo, Max: r2.Add(lo, t.room)}
}

// Pages are a template on sheets of a size, in true size, with at their foot
// which build they are of.
func (c *Cutout) Pages(size PaperSize, from Origin) []*paper.Page {
	t := tile(c.box(), size)
	var out []*paper.Page
	for row := range t.rows {
		for col := range t.cols {
			p := &paper.Page{Wide: t.wide, High: t.high}
			if len(out) == 0 {
				p.Marks = []paper.Bookmark{{Text: capital(c.Title)}}
			}
			c.page(p, t, col, row, from)
			out = append(out, p)
		}
	}
	return out
}

// Page is a template on a sheet of its own that is as large as it wants.
func (c *Cutout) Page(from Origin) *paper.Page {
	size := r2.Sub(c.box().Max, c.box().Min)
	t := tiling{cols: 1, rows: 1, box: c.box()}
	t.wide = max(size.X+2*tileEdge+tileBars+2, 180)
	t.high = max(size.Y+2*tileEdge+tileHead+tileFoot+2, barInch+2*tileEdge+tileFoot)
	t.room = roomOn(t.wide, t.high)
	p := &paper.Page{Wide: t.wide, High: t.high}
	c.page(p, t, 0, 0, from)
	return p
}

func (c *Cutout) page(p *paper.Page, t tiling, col, row int, from Origin) {
	c.head(p, t, col, row)
	corner := r2.Vec{X: tileEdge, Y: tileEdge + tileFoot}
	w := t.window(col, row)
	many := t.cols*t.rows > 1
	if many {
		p.Clip(r2.Box{Min: corner, Max: r2.Add(corner, t.room)})
	}
	moved := scene.Reduced{Pen: p, By: 1, To: r2.Sub(corner, w.Min)}
	c.draw(moved)
	if many {
		t.register(moved)
		p.Unclip()
	}
	bars(p)
	foot := from.within(2.2, t.wide-2*tileEdge-barInch-8-tileBars)
	p.Type(r2.Vec{X: tileEdge + barInch + 8, Y: tileEdge + 1}, foot, 2.2, false)
}

// head writes what the template is, and draws the map of the tiles.
func (c *Cutout) head(p *paper.Page, t tiling, col, row int) {
	wide := t.wide - 2*tileEdge
	many := t.cols*t.rows > 1
	title := capital(c.Title)
	if many {
		wide -= mapSize + 4
		title = fmt.Sprintf("%s: sheet %d of %d", title, row*t.cols+col+1, t.cols*t.rows)
		t.drawMap(p, c, col, row)
	}
	y := t.high - tileEdge - 4
	p.Type(r2.Vec{X: tileEdge, Y: y}, paper.Regular().Fit(title, 4.2, wide), 4.2, true)
	says := append([]string{measureFirst}, c.Facts...)
	if many {
		says = append(says, fmt.Sprintf("Neighbouring sheets share %g mm: lay the crosses of one on those of the other.", overlap))
	}
	// All of it has to stand there: smaller where it must.
	var lines []string
	letters := factSize
	for ; letters > leastFact; letters *= 0.95 {
		lines = nil
		for _, f := range says {
			lines = append(lines, paper.Regular().Wrap(settled(f), letters, wide)...)
		}
		if float64(len(lines))*letters*factLead <= tileHead-7 {
			break
		}
	}
	for i, l := range lines {
		y -= letters * factLead
		p.Type(r2.Vec{X: tileEdge, Y: y}, l, letters, i == 0)
	}
}

// drawMap draws all sheets small, with the template on them and a cross on this one.
func (t tiling) drawMap(p *paper.Page, c *Cutout, col, row int) {
	first, last := t.window(0, 0), t.window(t.cols-1, t.rows-1)
	all := r2.Box{Min: r2.Vec{X: first.Min.X, Y: last.Min.Y}, Max: r2.Vec{X: last.Max.X, Y: first.Max.Y}}
	size := r2.Sub(all.Max, all.Min)
	by := mapSize / max(size.X, size.Y)
	corner := r2.Vec{X: t.wide - tileEdge - mapSize, Y: t.high - tileEdge - mapSize}
	pen := scene.Reduced{Pen: p, By: by, To: r2.Sub(corner, r2.Scale(by, all.Min))}
	thin := scene.Style{Role: scene.RolePaper}
	for i := range t.rows {
		for j := range t.cols {
			w := t.window(j, i)
			pen.Polygon(corners(w), thin)
		}
	}
	w := t.window(col, row)
	pen.Line([]r2.Vec{w.Min, w.Max}, thin)
	pen.Line([]r2.Vec{{X: w.Min.X, Y: w.Max.Y}, {X: w.Max.X, Y: w.Min.Y}}, thin)
	for _, e := range c.Edges {
		pen.Polygon(e, heavy)
	}
}

func corners(b r2.Box) []r2.Vec {
	return []r2.Vec{b.Min, {X: b.Max.X, Y: b.Min.Y}, b.Max, {X: b.Min.X, Y: b.Max.Y}}
}

// heavy is the style of what is cut along.
var heavy = scene.Style{Role: scene.RoleBody}

// register draws crosses in the middle of what neighbouring tiles share, on the
// template's own plane, so that both sheets have the same ones.
func (t tiling) register(pen scene.Pen) {
	thin := scene.Style{Role: scene.RolePaper}
	const arm = 4.0
	cross := func(at r2.Vec) {
		pen.Line([]r2.Vec{{X: at.X - arm, Y: at.Y}, {X: at.X + arm, Y: at.Y}}, thin)
		pen.Line([]r2.Vec{{X: at.X, Y: at.Y - arm}, {X: at.X, Y: at.Y + arm}}, thin)
		pen.Arc(at, arm/2, 0, 2*math.Pi, thin)
	}
	for row := range t.rows {
		for col := range t.cols {
			w := t.window(col, row)
			middle := r2.Scale(0.5, r2.Add(w.Min, w.Max))
			if col+1 < t.cols {
				x := w.Max.X - overlap/2
				cross(r2.Vec{X: x, Y: middle.Y - t.room.Y/4})
				cross(r2.Vec{X: x, Y: middle.Y + t.room.Y/4})
			}
			if row+1 < t.rows {
				y := w.Min.Y + overlap/2
				cross(r2.Vec{X: middle.X - t.room.X/4, Y: y})
				cross(r2.Vec{X: middle.X + t.room.X/4, Y: y})
			}
		}
	}
}

// bars draws 100 mm and 4 in, across at the foot and upright at the right.
func bars(p *paper.Page) {
	thin := scene.Style{Role: scene.RolePaper}
	for i, b := range []struct {
		size float64
		name string
	}{{barMetric, "100 mm"}, {barInch, "4 in"}} {
		y := tileEdge + 2 + 5*float64(i)
		bar(p, r2.Vec{X: tileEdge, Y: y}, r2.Vec{X: 1}, b.size, thin)
		p.Type(r2.Vec{X: tileEdge + 42, Y: y + 0.6}, b.name, 2.4, false)
		x := p.Wide - tileEdge - 12 + 10*float64(i)
		low := tileEdge + 2.0
		bar(p, r2.Vec{X: x, Y: low}, r2.Vec{Y: 1}, b.size, thin)
		p.Type(r2.Vec{X: x - 1 - paper.Regular().Width(b.name, 2.2), Y: low + 48}, b.name, 2.2, false)
	}
}

// bar draws a line of a size with its two ends.
func bar(p scene.Pen, at, way r2.Vec, size float64, s scene.Style) {
	end, side := r2.Add(at, r2.Scale(size, way)), r2.Scale(1.5, r2.Vec{X: -way.Y, Y: way.X})
	p.Line([]r2.Vec{at, end}, s)
	for _, q := range []r2.Vec{at, end} {
		p.Line([]r2.Vec{r2.Sub(q, side), r2.Add(q, side)}, s)
	}
}

// draw draws the template itself.
func (c *Cutout) draw(pen scene.Pen) {
	c.layers(func(string) scene.Pen { return pen })
}

// The layers of a DXF.
const (
	LayerCut     = "CUT"
	LayerHoles   = "HOLES"
	LayerBend    = "BEND"
	LayerScribe  = "ENGRAVE"
	LayerMeasure = "MEASURE"
)

// centreArm is how far the cross of a hole reaches past its edge, mm.
const centreArm = 2.0

func (c *Cutout) layers(on func(layer string) scene.Pen) {
	for _, e := range c.Edges {
		on(LayerCut).Polygon(e, heavy)
	}
	for _, h := range c.Holes {
		on(LayerHoles).Arc(h.At, h.Diameter/2, 0, 2*math.Pi, heavy)
	}
	thin := scene.Style{Role: scene.RolePaper}
	for _, h := range c.Holes { // a cross to centre the punch on
		arm := h.Diameter/2 + centreArm
		centre := scene.Style{Role: scene.RolePaper, Kind: scene.Chain}
		on(LayerScribe).Line([]r2.Vec{{X: h.At.X - arm, Y: h.At.Y}, {X: h.At.X + arm, Y: h.At.Y}}, centre)
		on(LayerScribe).Line([]r2.Vec{{X: h.At.X, Y: h.At.Y - arm}, {X: h.At.X, Y: h.At.Y + arm}}, centre)
	}
	for _, h := range c.Rings {
		on(LayerScribe).Arc(h.At, h.Diameter/2, 0, 2*math.Pi, thin)
	}
	for _, l := range c.Bends {
		on(LayerBend).Line(l, scene.Style{Role: scene.RolePaper, Kind: scene.Phantom})
	}
	for _, l := range c.Marks {
		on(LayerScribe).Line(l, thin)
	}
	for _, n := range c.Written {
		on(LayerScribe).Text(n)
	}
}

// DXF is the template for a cutting table: outlines, holes, bends and what is
// scribed on layers of their own, and a bar of 100 mm to see that the table
// takes a unit for a mm. The kerf is the table's.
func (c *Cutout) DXF() string {
	d := scene.NewDXF(LayerCut, LayerHoles, LayerBend, LayerScribe, LayerMeasure)
	c.layers(d.On)
	pen, low := d.On(LayerMeasure), c.box().Min
	at := r2.Vec{X: low.X, Y: low.Y - 12}
	bar(pen, at, r2.Vec{X: 1}, barMetric, scene.Style{})
	pen.Text(scene.Note{At: r2.Add(at, r2.Vec{X: 2, Y: 2}), Text: "100 mm"})
	return d.String()
}
