package book

import (
	"fmt"
	"math"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r2"
)

var from = Origin{Build: "bench frame", File: "test.toml", Hash: strings.Repeat("ab12", 16), Date: "2026-01-31"}

func named(t *testing.T, cs []Cutout, name string) Cutout {
	t.Helper()
	for _, c := range cs {
		if c.Name == name {
			return c
		}
	}
	require.Fail(t, "no template of that name", name)
	return Cutout{}
}

// big is a leg with a plate larger than a sheet.
const big = round + `[mount.left_front.leg.pad_plate]
thickness = 6
width = 400
height = 400
hole = 11
pitch_across = 300
pitch_high = 300
`

// What neighbouring tiles draw is one drawing: a hole that stands on one sheet
// is where the register crosses put it, and every part of the outline is on some
// sheet.
func TestTilesJoinUp(t *testing.T) {
	cs, _, err := Cutouts(assessed(t, big), "left_front")
	require.NoError(t, err)
	c := named(t, cs, "left_front-pad-plate")
	for _, size := range PaperSizes() {
		g := tile(c.box(), size)
		require.Greater(t, g.cols*g.rows, 1)
		for row := range g.rows {
			for col := range g.cols {
				w := g.window(col, row)
				assert.InDelta(t, g.room.X, w.Max.X-w.Min.X, 1e-9)
				if col > 0 {
					assert.InDelta(t, overlap, g.window(col-1, row).Max.X-w.Min.X, 1e-9)
				}
				if row > 0 {
					assert.InDelta(t, overlap, w.Max.Y-g.window(col, row-1).Min.Y, 1e-9)
				}
			}
		}
		first, last := g.window(0, 0), g.window(g.cols-1, g.rows-1)
		b := c.box()
		assert.True(t, first.Min.X <= b.Min.X && first.Max.Y >= b.Max.Y && last.Max.X >= b.Max.X && last.Min.Y <= b.Min.Y)
		pages := c.Pages(size, from)
		require.Len(t, pages, g.cols*g.rows)
		assert.Contains(t, pages[0].String(), fmt.Sprintf("sheet 1 of %d", len(pages)))
		wordy := c
		wordy.Facts = append(wordy.Facts, strings.Repeat("more to mind ", 60)+"and the last of it.")
		assert.Contains(t, wordy.Pages(size, from)[0].String(), "the last of it", "nothing is left out")
	}
}

// Names that no font has, that run from the right, or that never end.
func TestTemplatesOfOddNames(t *testing.T) {
	for _, name := range []string{strings.Repeat("W", 300), "\u05e9\u05dc\u05d5\u05dd \u05e2\u05d5\u05dc\u05dd", "\u4e2d\u6587 truck", "a\u202eb\x1b[2J", ""} {
		o := from
		o.Build = name
		files, _, err := CutoutFiles(assessed(t, round), "", PaperSizes()[1], o)
		require.NoError(t, err, "%q", name)
		assert.Equal(t, "%PDF", string(files[0].Data[:4]))
	}
	_, _, err := CutoutFiles(assessed(t, "format = 1\n"), "", PaperSizes()[0], from)
	assert.ErrorContains(t, err, "no leg is in the file yet")
}

// A pad of 80 mm that leans by 3 degrees wants 80 tan 3 more at its thick end,
// and the profile has that angle.
func TestTaperIsAsLongAndHighAsTheLean(t *testing.T) {
	lean := "[mount.left_front.built]\npad = [300, -200, -75]\npad_points = [[260, -200, -75], [340, -200, -75], [300, -197.903689, -35]]\n"
	text := strings.Replace(legs, "[mount.right_front.built]", "[mount.left_front.leg.pad_plate]\nthickness = 6\nwidth = 80\nheight = 60\n"+lean+"[mount.right_front.built]", 1)
	cs, _, err := Cutouts(assessed(t, text), "left_front")
	require.NoError(t, err)
	e := named(t, cs, "left_front-pad-taper").Edges[0]
	require.Len(t, e, 3)
	assert.InDelta(t, 80, e[1].X, 0.01)
	assert.InDelta(t, 80*math.Tan(3*math.Pi/180), e[2].Y, 0.01)
	for _, c := range cs {
		assert.NotEqual(t, "right_front", c.Name)
	}
}

// cutouts are the templates of all builds that have any, made once.
var cutouts = sync.OnceValue(func() map[string][]Cutout {
	out := map[string][]Cutout{}
	all, _ := sampled()
	for name, a := range all {
		if cs, _, err := Cutouts(a, ""); err == nil {
			out[name] = cs
		}
	}
	return out
})

func allCutouts(t *testing.T) map[string][]Cutout {
	t.Helper()
	builds(t)
	return cutouts()
}

// A jig has the bolts of its plate about its cross, each with a pilot hole to drill and
// the hole that it is opened to scribed, and says how far above the lower edge they lie.
func TestDrillingJigHasTheBoltsOfItsPlate(t *testing.T) {
	found := 0
	for name, cs := range allCutouts(t) {
		for _, c := range cs {
			if !strings.HasSuffix(c.Name, "-rail-jig") {
				continue
			}
			found++
			plate := named(t, cs, strings.TrimSuffix(c.Name, "jig")+"plate")
			require.Len(t, c.Holes, len(plate.Holes), name)
			require.Len(t, c.Rings, len(plate.Holes), name)
			shift := r2.Sub(plate.Holes[0].At, c.Holes[0].At)
			for i, h := range c.Holes {
				assert.InDelta(t, 0, r2.Norm(r2.Sub(r2.Sub(plate.Holes[i].At, h.At), shift)), 1e-9, "the same places")
				assert.InDelta(t, plate.Holes[i].Diameter, c.Rings[i].Diameter, 1e-9)
				assert.InDelta(t, jigPilot, h.Diameter, 0)
			}
			// The lower edge is where the plate's own is.
			low := c.Marks[2][0].Y
			assert.InDelta(t, plate.box().Min.Y, low+shift.Y, 1e-9, name)
			assert.Contains(t, strings.Join(c.Facts, " "), "qualified people")
		}
	}
	assert.Positive(t, found)
}

// Whatever a template is of says on the piece itself what it is, on the layer of the DXF
// that is engraved: inside its outline, off holes, bends and what else is written.
func TestEveryPieceIsEngravedWithWhatItIs(t *testing.T) {
	pieces, cutOff := 0, 0
	for name, cs := range allCutouts(t) {
		for i := range cs {
			c := &cs[i]
			pieces++
			says := ""
			for j := range c.Written {
				n := &c.Written[j]
				says += " " + n.Text
				if part := strings.TrimSuffix(n.Text, "…"); !strings.Contains(settled(c.Title), part) && !strings.HasPrefix(c.Name, part) {
					continue
				}
				at := r2.Box{Min: n.At, Max: r2.Add(n.At, r2.Vec{X: widest([]string{n.Text}), Y: 2})}
				for _, e := range c.Edges {
					for k, p := range e {
						a, b, ok := within(p, e[(k+1)%len(e)], at.Min.Y, at.Max.Y)
						assert.False(t, ok && max(a.X, b.X) > at.Min.X && min(a.X, b.X) < at.Max.X, "%s %s: %s on its edge", name, c.Name, n.Text)
					}
				}
				for _, h := range c.Holes {
					off := r2.Sub(h.At, r2.Vec{X: min(max(h.At.X, at.Min.X), at.Max.X), Y: min(max(h.At.Y, at.Min.Y), at.Max.Y)})
					assert.Greater(t, r2.Norm(off), h.Diameter/2, "%s %s: %s in a hole", name, c.Name, n.Text)
				}
			}
			said := strings.Join(strings.Fields(says), " ")
			if strings.Contains(said, strings.Join(strings.Fields(settled(c.Title)), " ")) || strings.Contains(said, c.Name) {
				engraved := ""
				for _, e := range dxf(t, c.DXF()).of("TEXT", LayerScribe) {
					engraved += e.pairs[1]
				}
				assert.NotEmpty(t, engraved, c.Name)
				continue
			}
			cutOff++
			t.Log(name, c.Name, c.Title, r2.Sub(c.box().Max, c.box().Min), said)
		}
	}
	assert.Positive(t, pieces)
	assert.Less(t, 20*cutOff, pieces, "few are too small")
}
