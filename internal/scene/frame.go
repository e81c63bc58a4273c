package scene

import (
	"math"
	"strconv"

	"fitup/internal/scene/label"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// frame draws what belongs to the drawing and not to the vehicle: the ground, and
// a scale bar in the lower left corner.
func (d *drawing) frame() {
	if d.tiny() {
		return
	}
	if at := d.Ground.V; d.grounded() {
		d.pen.Line([]r2.Vec{{X: d.Window.Min.X, Y: at}, {X: d.Window.Max.X, Y: at}}, Style{Role: RoleGround})
	}
	if d.Title != "" {
		n := d.say.Width(d.Title)
		d.sheet.Take(0, 0, n+1)
		d.write(0, 0, d.Title, Style{Role: RoleFrame})
	}
	if d.Bar {
		d.scaleBar()
	}
}

// grounded reports whether the ground is known and seen from its edge.
func (d *drawing) grounded() bool {
	_, _, toward := d.View.Axes()
	return d.Ground.Known && math.Abs(toward.Z) < 1e-9
}

// offGround keeps names off the ground.
func (d *drawing) offGround() {
	if d.grounded() && !d.tiny() {
		_, y := d.cell(r2.Vec{Y: d.Ground.V})
		cols, _ := d.sheet.Size()
		d.sheet.Line(0, y, float64(cols), y)
	}
}

// tiny reports whether there is so little room that only what cannot be missed
// is drawn.
func (d *drawing) tiny() bool {
	_, rows := d.sheet.Size()
	return rows < tinyRows && !d.Full
}

const tinyRows = 8

// scaleBar draws a bar of a round length with the length beside it.
func (d *drawing) scaleBar() {
	cols, rows := d.sheet.Size()
	if cols < 12 || rows < 2 || !(d.say.Size > 0) {
		return
	}
	length := roundDown(float64(cols) / 5 * d.Letter.X / d.say.Size)
	if !(length > 0) {
		return
	}
	style := Style{Role: RoleFrame}
	text := strconv.FormatFloat(length, 'g', 6, 64) + " " + d.say.Unit
	h := d.Letter.Y
	a := r2.Vec{X: d.Window.Min.X + 0.75*d.Letter.X, Y: d.Window.Min.Y + 0.375*h}
	b := r2.Vec{X: a.X + length*d.say.Size, Y: a.Y}
	up := r2.Vec{Y: h / 2}
	d.pen.Line([]r2.Vec{r2.Add(a, up), a, b, r2.Add(b, up)}, style)
	x, _ := d.cell(b)
	col := int(x) + 2
	if col+d.say.Width(text) > cols {
		return
	}
	d.sheet.Take(0, rows-1, cols) // nothing else on its row
	d.write(col, rows-1, text, style)
}

// roundDown returns the largest 1, 2 or 5 times a power of ten that is not
// above v, or 0 when v is not a number above zero.
func roundDown(v float64) float64 {
	if !(v > 0) || math.IsInf(v, 0) {
		return 0
	}
	power := math.Pow(10, math.Floor(math.Log10(v)))
	for _, f := range [...]float64{5, 2, 1} {
		if f*power <= v*(1+1e-9) {
			return f * power
		}
	}
	return power
}

// arm is one of the vehicle's axes as this view leaves it.
type arm struct {
	to   r2.Vec
	name string
}

// axes draws which way is up, rearward and to the right, in a corner where
// nothing else is.
func (d *drawing) axes() {
	long := 5 * d.Letter.X
	var arms []arm
	lo, hi := r2.Vec{}, r2.Vec{}
	for _, a := range []arm{{d.sight.At(r3.Vec{X: long}), "rear"}, {d.sight.At(r3.Vec{Y: long}), "right"}, {d.sight.At(r3.Vec{Z: long}), "up"}} {
		if r2.Norm(a.to) < 0.3*long {
			continue
		}
		arms = append(arms, a)
		lo = r2.Vec{X: min(lo.X, a.to.X), Y: min(lo.Y, a.to.Y)}
		hi = r2.Vec{X: max(hi.X, a.to.X), Y: max(hi.Y, a.to.Y)}
	}
	wide, high := hi.X-lo.X+14*d.Letter.X, hi.Y-lo.Y+2*d.Letter.Y // with the names
	w := d.Window
	for _, corner := range []r2.Vec{{X: w.Max.X - wide, Y: w.Min.Y}, {X: w.Max.X - wide, Y: w.Max.Y - high}, {X: w.Min.X, Y: w.Max.Y - high}} {
		room := r2.Box{Min: corner, Max: r2.Add(corner, r2.Vec{X: wide, Y: high})}
		if d.empty(room) {
			at := r2.Add(corner, r2.Vec{X: 7*d.Letter.X - lo.X, Y: 0.5*d.Letter.Y - lo.Y})
			d.arms(r2.Vec{ // on a dot, so that it stands still while the drawing moves
				X: w.Min.X + (math.Round((at.X-w.Min.X)/d.Dot)+0.5)*d.Dot,
				Y: w.Min.Y + (math.Round((at.Y-w.Min.Y)/d.Dot)+0.5)*d.Dot,
			}, arms)
			d.keep(room)
			return
		}
	}
}

// arms draws the axes from an origin, each with its name at its end.
func (d *drawing) arms(origin r2.Vec, arms []arm) {
	style := Style{Role: RoleFrame}
	for _, a := range arms {
		end := r2.Add(origin, a.to)
		d.pen.Line([]r2.Vec{origin, end}, style)
		col, row := d.letter(end)
		n := len(a.name)
		over, under := label.Spot{Col: col - n/2, Row: row - 1}, label.Spot{Col: col - n/2, Row: row + 1}
		left, right := label.Spot{Col: col - n - 1, Row: row}, label.Spot{Col: col + 2, Row: row}
		spots := []label.Spot{right, left, over, under}
		switch {
		case math.Abs(a.to.X) < math.Abs(a.to.Y)/2 && a.to.Y > 0:
			spots = []label.Spot{over, right, left, under}
		case math.Abs(a.to.X) < math.Abs(a.to.Y)/2:
			spots = []label.Spot{under, right, left, over}
		case a.to.X < 0:
			spots = []label.Spot{left, right, over, under}
		}
		for i := range spots {
			spots[i].Cost = i
		}
		if p, ok := d.sheet.Place(n, n, spots); ok {
			d.write(p.Col, p.Row, a.name, style)
		}
	}
}

// cells are the columns and rows of a rectangle.
func (d *drawing) cells(b r2.Box) (c0, r0, c1, r1 int) {
	c0, r0 = d.letter(r2.Vec{X: b.Min.X, Y: b.Max.Y})
	c1, r1 = d.letter(r2.Vec{X: b.Max.X, Y: b.Min.Y})
	return c0, r0, c1, r1
}

// empty reports whether nothing is drawn in a rectangle, but for the ground.
func (d *drawing) empty(b r2.Box) bool {
	c0, r0, c1, r1 := d.cells(b)
	for row := r0; row <= r1; row++ {
		if _, free := d.sheet.Free(max(c0, 0), row, 1); !free && row >= 0 && d.rows() > row {
			return false
		}
		for col := c0; col <= c1; col++ {
			if d.sheet.Inked(col, row) {
				return false
			}
		}
	}
	return true
}

func (d *drawing) rows() int {
	_, rows := d.sheet.Size()
	return rows
}

// keep keeps texts out of a rectangle.
func (d *drawing) keep(b r2.Box) {
	c0, r0, c1, r1 := d.cells(b)
	for row := r0; row <= r1; row++ {
		d.sheet.Take(c0, row, c1-c0+1)
	}
}
