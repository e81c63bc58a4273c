package drawing

import (
	"math"
	"testing"

	"fitup/internal/assess"
	"fitup/internal/project"
	"fitup/internal/project/starter"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What is drawn of a survey is what was worked out, twenty times as large about where a
// point would be: how far it is off, and the axes of its ellipse with k = 2, which hold
// its ± along the axes. What to measure next is drawn from point to point of it.
func TestASurveyIsDrawnTwentyTimesAsItIs(t *testing.T) {
	f, err := project.Parse("demo", starter.Demo())
	require.NoError(t, err)
	a := assess.Run(f.Build)
	d := &surveyDrawing{plan: a.Frame.Plan()}
	require.Len(t, d.plan.Points, 10)
	off := 0
	for i, p := range d.plan.Points {
		x, y := d.at(i)
		assert.InDelta(t, 20*p.Off(), math.Hypot(x-p.Ideal.X, y-p.Ideal.Y), 1e-9, p.Name)
		if p.Off() > 1 {
			off++
		}
		long, short, wide, tall := 0.0, math.Inf(1), 0.0, 0.0
		for _, q := range d.ring(i) {
			r := math.Hypot(q[0]-x, q[1]-y)
			long, short = max(long, r), min(short, r)
			wide, tall = max(wide, math.Abs(q[0]-x)), max(tall, math.Abs(q[1]-y))
		}
		assert.InDelta(t, 20*2*p.Ellipse.Long, long, 1e-9, p.Name)
		assert.InDelta(t, 20*2*p.Ellipse.Short, short, 1e-9, p.Name)
		is := a.Frame.Now.Points()[i]
		require.Equal(t, p.Path, is.Path)
		assert.InDelta(t, 20*is.Place[0].Expanded(), wide, 0.02*wide, "%s along", p.Name) // of 24 corners
		assert.InDelta(t, 20*is.Place[1].Expanded(), tall, 0.02*tall, "%s across", p.Name)
	}
	assert.GreaterOrEqual(t, off, 2, "ends of the rails are off by more than a millimetre")
	require.Len(t, d.plan.Next, 2)
	assert.Contains(t, a.Frame.Now.Next(), "from "+d.plan.Points[d.plan.Next[0]].Name+" to "+d.plan.Points[d.plan.Next[1]].Name)
}
