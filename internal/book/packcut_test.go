package book

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A wedge of 2 degrees rises by 100 tan 2 over its length, to the end that the file says;
// the saddle of a perch lies on its tube, and its seat is as far over that as it is thick.
func TestPackingIsCutTrue(t *testing.T) {
	a := assessed(t, "format = 3\n[[packing]]\nname = \"pinion wedge\"\nkind = \"wedge\"\nlength = 100\nwidth = 60\nthickness = 4\nangle = \"2 deg\"\nthick_end = \"front\"\ncount = 2\n"+
		"[[packing]]\nname = \"left perch\"\nkind = \"spring perch\"\nlength = 60\nwidth = 60\nthickness = 20\ntube = 76\n"+
		"[[packing]]\nname = \"long perch\"\nkind = \"spring perch\"\nlength = 110\nwidth = 60\nthickness = 20\ntube = 76\n"+
		"[[packing]]\nname = \"shim\"\nkind = \"shim\"\nlength = 80\nwidth = 50\nthickness = 3\n")
	cs, left, err := Cutouts(a, "")
	require.NoError(t, err)
	assert.Empty(t, left)
	require.Len(t, cs, 4)
	wedge := cs[0].Edges[0]
	require.Len(t, wedge, 4)
	assert.InDelta(t, 4, wedge[2].Y, 1e-9, "the rear is thin")
	assert.InDelta(t, 4+100*math.Tan(2*math.Pi/180), wedge[3].Y, 1e-9)
	assert.Contains(t, strings.Join(cs[0].Facts, " "), "Quantity: 2.")
	for i, c := range cs[1:3] {
		on := 0
		for _, p := range c.Edges[0] {
			far := math.Hypot(p.X, p.Y)
			assert.GreaterOrEqual(t, far, 38-1e-9, "none of it lies in the tube")
			if far < 38+1e-9 {
				on++
			}
		}
		assert.Greater(t, on, 100)
		box := c.box()
		assert.InDelta(t, 58, box.Max.Y, 1e-9)
		assert.InDelta(t, []float64{60, 110}[i], box.Max.X-box.Min.X, 1e-9)
	}
	assert.InDelta(t, 50, cs[3].box().Max.Y, 1e-9)
	_, _, err = Cutouts(a, "left_front")
	assert.ErrorContains(t, err, "there is no leg")
}
