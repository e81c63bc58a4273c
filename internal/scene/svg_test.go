package scene

import (
	"encoding/xml"
	"errors"
	"io"
	"math"
	"strings"
	"testing"

	"fitup/internal/project/starter"
	"fitup/internal/scene/view"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r2"
)

// elements reads a document as a reader of XML sees it: how many there are of
// each kind, and all text.
func elements(t *testing.T, doc string) (count map[string]int, text string) {
	t.Helper()
	count = map[string]int{}
	d := xml.NewDecoder(strings.NewReader(doc))
	for {
		tok, err := d.Token()
		if errors.Is(err, io.EOF) {
			return count, text
		}
		require.NoError(t, err)
		switch tok := tok.(type) {
		case xml.StartElement:
			count[tok.Name.Local]++
		case xml.CharData:
			text += string(tok)
		}
	}
}

// A page 100 wide and 50 high, its lower left corner at (-10, 20).
func page() *SVG { return NewSVG(r2.Box{Min: r2.Vec{X: -10, Y: 20}, Max: r2.Vec{X: 90, Y: 70}}) }

func TestSVGIsOfTrueSizeWithYUp(t *testing.T) {
	p := page()
	p.Line([]r2.Vec{{X: -10, Y: 70}, {X: 90, Y: 20}}, Style{Role: RoleRail})
	p.Polygon([]r2.Vec{{X: 0, Y: 30}, {X: 1, Y: 30}, {X: 1, Y: 31}}, Style{Role: RoleShaft, Kind: Dashed})
	p.Arc(r2.Vec{X: 0, Y: 60}, 5, 0, 2*math.Pi, Style{})
	doc := p.String()
	assert.Contains(t, doc, `width="100.000mm" height="50.000mm" viewBox="0 0 100.000 50.000"`)
	assert.Contains(t, doc, `<path d="M0.000 0.000 L100.000 50.000"/>`, "the upper left corner to the lower right one")
	assert.Contains(t, doc, `<path d="M10.000 40.000 L11.000 40.000 L11.000 39.000 Z" stroke-width="0.35" stroke-dasharray="2 1"/>`)
	assert.Contains(t, doc, `<circle cx="10.000" cy="10.000" r="5.000"/>`)
}

// A quarter from right to top, anticlockwise; three quarters of it; and back.
func TestSVGArcs(t *testing.T) {
	for _, c := range []struct {
		from, to float64
		want     string
	}{
		{0, math.Pi / 2, `M15.000 10.000 A5.000 5.000 0 0 0 10.000 5.000`},
		{0, 3 * math.Pi / 2, `M15.000 10.000 A5.000 5.000 0 1 0 10.000 15.000`},
		{math.Pi / 2, 0, `M10.000 5.000 A5.000 5.000 0 0 1 15.000 10.000`},
	} {
		p := page()
		p.Arc(r2.Vec{X: 0, Y: 60}, 5, c.from, c.to, Style{})
		assert.Contains(t, p.String(), c.want)
	}
}

func TestSVGTextIsSafe(t *testing.T) {
	p := page()
	p.Text(Note{At: r2.Vec{X: 0, Y: 60}, Text: "<b>&\x1b[2J\u202e"})
	doc := p.String()
	count, text := elements(t, doc)
	assert.Equal(t, 1, count["text"])
	assert.Zero(t, count["b"])
	assert.Contains(t, text, "<b>&·[2J·")
}

// What is no number spoils no document.
func TestSVGLeavesOutWhatIsNoNumber(t *testing.T) {
	p := page()
	bad := r2.Vec{X: math.NaN()}
	p.Line([]r2.Vec{{}, bad}, Style{})
	p.Line([]r2.Vec{{}}, Style{})
	p.Arc(r2.Vec{}, math.Inf(1), 0, 1, Style{})
	p.Sign(bad, Style{Role: RoleJoint})
	p.Text(Note{At: bad, Text: "lost"})
	p.Text(Note{})
	count, _ := elements(t, p.String())
	assert.Equal(t, map[string]int{"svg": 1, "g": 2}, count)
}

// The demo, as both pens are asked to draw it.
func TestSVGDrawsAllOfTheDemo(t *testing.T) {
	a, s := sceneOf(t, starter.Demo())
	for _, v := range view.Named() {
		look, ok := sheetOf(s, v, 140, 45)
		require.True(t, ok)
		var r recorder
		s.Draw(&r, look, plain(a))
		p := NewSVG(look.Window)
		s.Draw(p, look, plain(a))
		count, text := elements(t, p.String())
		joints := 0
		for _, st := range r.signs {
			if st.Role == RoleJoint {
				joints++
			}
		}
		assert.Equal(t, len(r.lines)+2*(len(r.signs)-joints), count["path"], v)
		assert.Equal(t, joints, count["circle"], v)
		assert.Equal(t, len(r.notes), count["text"], v)
		assert.Contains(t, text, "block and head", v)
	}
}
