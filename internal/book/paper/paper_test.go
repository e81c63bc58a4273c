package paper

import (
	"math"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"fitup/internal/scene"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r2"
	"pgregory.net/rapid"
)

func TestTheFaceHasWhatSheetsSay(t *testing.T) {
	f := Regular()
	for _, r := range "Aa0äéßœ⌀∠⅛→≤±°·×☐✓…□αЖ" {
		assert.True(t, f.Has(r), "%c", r)
	}
	assert.False(t, f.Has('中'))
	assert.False(t, f.Has('𝄞'))
	assert.Zero(t, f.Width("", 3))
	assert.InDelta(t, 10*f.Width("m", 3), f.Width("mmmmmmmmmm", 3), 1e-9)
	assert.Less(t, f.Width("i", 3), f.Width("W", 3))
	for _, broken := range [][]byte{nil, make([]byte, 12), f.ttf[:300], f.ttf[:100000]} {
		_, err := readFace(broken)
		assert.Error(t, err)
	}
}

func TestSettle(t *testing.T) {
	f := Regular()
	out, lost := f.Settle("⌀ 12 mm")
	assert.Equal(t, "⌀ 12 mm", out)
	assert.False(t, lost)
	out, lost = f.Settle("中 truck𝄞")
	assert.Equal(t, "□ truck□", out)
	assert.True(t, lost)
}

// Hebrew runs from the right; numbers in it do not.
func TestVisualOrder(t *testing.T) {
	assert.Equal(t, "plain", visual("plain"))
	assert.Equal(t, "\u05d2\u05d1\u05d0", visual("\u05d0\u05d1\u05d2"))
	assert.Contains(t, visual("\u05d0\u05d1 120 mm"), "120")
	assert.True(t, strings.HasPrefix(visual("leg \u05d0\u05d1"), "leg "))
}

// Lines are no wider than their room, and nothing but blanks is lost.
func TestWrapKeepsAll(t *testing.T) {
	f := Regular()
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringMatching(`[a-zA-Z0-9 Wäé⌀]{0,300}`).Draw(t, "text")
		room := rapid.Float64Range(4, 200).Draw(t, "room")
		lines := f.Wrap(text, 3, room)
		squeeze := func(s string) string { return strings.Join(strings.Fields(s), "") }
		assert.Equal(t, squeeze(text), squeeze(strings.Join(lines, " ")))
		for _, l := range lines {
			assert.LessOrEqual(t, f.Width(l, 3), room+1e-9)
		}
		cut := f.Fit(text, 3, room)
		assert.LessOrEqual(t, f.Width(cut, 3), room+1e-9)
		assert.True(t, utf8.ValidString(cut))
	})
	assert.Equal(t, []string{"W", "W"}, f.Wrap("WW", 3, 0.1), "a line has at least one sign")
}

func sample() *Page {
	p := &Page{Wide: 210, High: 297, Marks: []Bookmark{{Text: "first \u05d0 中"}}}
	s := scene.Style{Role: scene.RolePaper}
	p.Line([]r2.Vec{{X: 10, Y: 20}, {X: 110, Y: 20}}, s)
	p.Line([]r2.Vec{{X: math.NaN()}, {}}, s)
	p.Polygon([]r2.Vec{{X: 20, Y: 30}, {X: 60, Y: 30}, {X: 60, Y: 50}}, scene.Style{Role: scene.RoleBody, Kind: scene.Chain})
	p.Clip(r2.Box{Min: r2.Vec{X: 5, Y: 5}, Max: r2.Vec{X: 200, Y: 200}})
	p.Arc(r2.Vec{X: 100, Y: 100}, 30, 0, 7, s)
	p.Arc(r2.Vec{X: 100, Y: 100}, 20, 1, 2, s)
	p.Unclip()
	p.Sign(r2.Vec{X: 5, Y: 6}, scene.Style{Role: scene.RoleJoint})
	p.Type(r2.Vec{X: 10, Y: 280}, "⌀ 12.0 mm, 中", 4, true)
	p.Text(scene.Note{At: r2.Vec{X: 10, Y: 270}, Text: "note"})
	return p
}

func TestPageIsWhatWasDrawn(t *testing.T) {
	p := sample()
	assert.Equal(t, `page 210 by 297
line 10.00,20.00 110.00,20.00
polygon 0.35 [6 0.75 0.5 0.75] 20.00,30.00 60.00,30.00 60.00,50.00
clip 5.00,5.00 200.00,200.00
arc 100.00,100.00 30.00 0.000 7.000
arc 100.00,100.00 20.00 1.000 2.000
unclip
sign 5.00,6.00
type bold 4.0 10.00,280.00 "⌀ 12.0 mm, □"
type 3.0 10.00,270.00 "note"
`, p.String())
	assert.True(t, p.Lost)
	svg := p.SVG()
	assert.Contains(t, svg, `M10.000 277.000 L110.000 277.000`)
	assert.Contains(t, svg, `font-weight="bold"`)
}

func TestPDF(t *testing.T) {
	doc := Document{Title: "\u05d0 title 中", Date: "2026-01-31", Pages: []*Page{sample(), sample()}}
	a, err := doc.PDF()
	require.NoError(t, err)
	for range 5 {
		b, err := doc.PDF()
		require.NoError(t, err)
		assert.Equal(t, a, b)
	}
	assert.Contains(t, string(a), "/PrintScaling /None")
	assert.Contains(t, string(a), "D:20260131000000")
	assert.NotContains(t, string(a), "D:"+time.Now().Format("20060102"))
	_, err = Document{Date: "2026-01-31"}.PDF()
	assert.ErrorContains(t, err, "without a page")
	_, err = Document{Date: "soon", Pages: doc.Pages}.PDF()
	assert.ErrorContains(t, err, "wanted like 2026-01-31")
	_, err = unscaled([]byte("%PDF"))
	assert.Error(t, err)
}
