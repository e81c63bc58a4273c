package book

import (
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The template is as wide as once around a tube of 42.4 mm, and as deep as the
// table says; the pad's end runs to the right from its beginning, the rail's to
// the left. The line to measure is 100 mm.
func TestTemplateIsDrawnInTrueSize(t *testing.T) {
	a := assessed(t, round)
	b, _ := a.Bracket("left_front")
	wraps, err := b.Wraps(smooth)
	require.NoError(t, err)
	require.Len(t, wraps, 2)
	for _, w := range wraps {
		doc, err := TemplateSVG(a, "left_front", w.End)
		require.NoError(t, err)
		paths := regexp.MustCompile(`<path d="([^"]*)"`).FindAllStringSubmatch(doc, -1)
		require.Len(t, paths, 4, "the edge, the line and its two ends")
		edge := places(t, paths[0][1])
		first, last := edge[0], edge[len(edge)-1]
		way := 1.0
		if w.End == "rail" {
			way = -1
		}
		assert.InDelta(t, way*math.Pi*42.4, last[0]-first[0], 2e-3, w.End)
		assert.Equal(t, first[1], last[1])
		deepest := 0.0
		for _, p := range edge {
			deepest = max(deepest, p[1]-first[1])
		}
		assert.InDelta(t, w.Deepest, deepest, 2e-3)
		line := places(t, paths[1][1])
		assert.InDelta(t, 100, line[1][0]-line[0][0], 1e-9)
		assert.Contains(t, doc, w.End+" end, print outside")
	}
	_, err = TemplateSVG(a, "left_front", "middle")
	assert.ErrorContains(t, err, "there is nothing to wrap")
}

// places are the points of a path of straight lines.
func places(t *testing.T, d string) [][2]float64 {
	t.Helper()
	var out [][2]float64
	f := strings.Fields(strings.NewReplacer("M", "", "L", "", "Z", "").Replace(d))
	for i := 0; i+1 < len(f); i += 2 {
		x, err := strconv.ParseFloat(f[i], 64)
		require.NoError(t, err)
		y, err := strconv.ParseFloat(f[i+1], 64)
		require.NoError(t, err)
		out = append(out, [2]float64{x, y})
	}
	return out
}

// Places of the table by the plane's own equation: the flat cut of the pad's end
// is a sine around the tube, deepest half a turn from where it is shallowest.
func TestTemplateTableOfAFlatCut(t *testing.T) {
	a := assessed(t, round)
	b, _ := a.Bracket("left_front")
	wraps, err := b.Wraps(24)
	require.NoError(t, err)
	pad := wraps[0]
	require.Equal(t, "pad", pad.End)
	for _, p := range pad.Points {
		assert.InDelta(t, pad.Deepest*(1-math.Cos(p.Angle))/2, p.Toward, 1e-9)
	}
	s, err := Template(a, "left_front", 24)
	require.NoError(t, err)
	r := row(t, s, "left front leg, pad end", "12")
	assert.Equal(t, []string{"12", "180.00°", "66.6 mm"}, r[:3])
}
