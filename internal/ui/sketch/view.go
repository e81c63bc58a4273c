package sketch

import (
	"math"
	"strconv"
)

// View maps a flat world, in mm with y upwards, onto a canvas, in dots with y
// downwards, at one scale both ways.
type View struct {
	// Scale is in dots per mm and always more than zero.
	Scale float64
	// The world point shown at the dot (dotX, dotY).
	worldX, worldY float64
	dotX, dotY     float64
}

// Centred returns the view with a world point in the middle of the canvas, at a
// scale in dots per mm, which has to be more than nothing.
func Centred(x, y, scale float64, c *Canvas) View {
	w, h := c.Dots()
	return View{Scale: scale, worldX: x, worldY: y, dotX: float64(w-1) / 2, dotY: float64(h-1) / 2}
}

// X returns the dot coordinate of a world x in mm.
func (v View) X(x float64) float64 { return v.dotX + (x-v.worldX)*v.Scale }

// Y returns the dot coordinate of a world y in mm.
func (v View) Y(y float64) float64 { return v.dotY - (y-v.worldY)*v.Scale }

// Len returns a length in mm as dots.
func (v View) Len(mm float64) float64 { return mm * v.Scale }

// Cell returns the column and row of the cell a world point falls into; it may
// lie outside the canvas.
func (v View) Cell(x, y float64) (col, row int) {
	return cellOf(v.X(x), 2), cellOf(v.Y(y), 4)
}

func cellOf(dot float64, per int) int {
	if !near(dot) {
		return -1
	}
	return int(math.Floor((dot + 0.5) / float64(per)))
}

// roundDown returns the largest 1, 2 or 5 times a power of ten that is not
// above v, or 0 when v is not a number above zero.
func roundDown(v float64) float64 {
	if !(v > 0) || !near(v) {
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

// number writes a value with no more figures than it needs.
func number(v float64) string {
	if v == 0 {
		v = 0 // no "-0"
	}
	return strconv.FormatFloat(v, 'g', 6, 64)
}
