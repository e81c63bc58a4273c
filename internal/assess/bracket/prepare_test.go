package bracket

import (
	"testing"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/geom/seat"
	"fitup/internal/project"
	"fitup/internal/project/example"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// said is everything that a result says, in order.
func said(r Result) (out []string, values finding.List) {
	for _, f := range r.Findings {
		out = append(out, f.ID, f.Title, f.Status.String(), f.Missing, f.Advice())
	}
	r.Values(&values)
	return out, values
}

// What is prepared where the powertrain stood serves wherever it stands: it says
// what a build placed there says from the start, and keeps nothing of a place.
func TestPreparedServesEveryPlace(t *testing.T) {
	const plates = `rail_plate = { thickness = 8, width = 140, height = 140, flange = 45, radius = 8, pitch_across = 100, pitch_high = 60, hole = 13 }
pad_plate = { thickness = 6, width = 120, height = 110 }
weld = { size = 3 }` + m10
	f, err := project.Parse("legs.toml", []byte(example.Legs("", plates, example.OtherLeg)))
	require.NoError(t, err)
	supports, placed, err := f.Build.Seat()
	require.NoError(t, err)
	loads := Loads{Mounts: []MountLoad{bumped("left_front", r3.Vec{X: 300, Y: -200, Z: -35}), bumped("right_front", r3.Vec{X: 300, Y: 200, Z: -35})}}
	ready := Prepare(f.Build, nil)
	at := func(p *Prepared, to seat.Placement) ([]string, finding.List) {
		pose, err := supports.Pose(to)
		require.NoError(t, err)
		return said(p.At(finding.Maybe[geom.Pose]{V: pose, Known: true}, loads))
	}
	first, firstValues := at(ready, placed)
	for _, row := range []seat.Row{seat.LeftFront, seat.Setback, seat.Heading} {
		to, err := supports.Solve(placed, row, 0.1)
		require.NoError(t, err)
		got, values := at(ready, to)
		want, wanted := at(Prepare(f.Build.Placed(to), nil), to)
		assert.Equal(t, want, got)
		assert.Equal(t, wanted, values)
		assert.NotEqual(t, firstValues, values)
	}
	again, values := at(ready, placed)
	assert.Equal(t, first, again)
	assert.Equal(t, firstValues, values)
}
