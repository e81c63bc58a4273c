package scene

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"gonum.org/v1/gonum/spatial/r2"
)

// At 1:20 with the middle moved: 200 mm of the vehicle are 10 mm of the page, and
// a circle is as much smaller.
func TestReduced(t *testing.T) {
	svg := NewSVG(r2.Box{Max: r2.Vec{X: 100, Y: 100}})
	p := Reduced{Pen: svg, By: 1.0 / 20, To: r2.Vec{X: 50, Y: 40}}
	p.Line([]r2.Vec{{}, {X: 200}}, Style{})
	p.Polygon([]r2.Vec{{}, {X: 200}, {Y: 400}}, Style{})
	p.Arc(r2.Vec{X: 20}, 100, 0, 2*math.Pi, Style{})
	p.Sign(r2.Vec{X: -200}, Style{Role: RolePad})
	p.Text(Note{At: r2.Vec{X: 400}, Text: "here"})
	doc := svg.String()
	for _, want := range []string{
		`d="M50.000 60.000 L60.000 60.000"`, `d="M50.000 60.000 L60.000 60.000 L50.000 40.000 Z"`,
		`cx="51.000" cy="60.000" r="5.000"`, `d="M39.000 60.000 L41.000 60.000"`, `x="70.000" y="60.000">here`,
	} {
		assert.Contains(t, doc, want)
	}
}
