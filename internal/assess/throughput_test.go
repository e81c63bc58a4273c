package assess

import (
	"testing"

	"fitup/internal/assess/finding"
	"fitup/internal/assess/line"
	"fitup/internal/assess/reading"
	"fitup/internal/geom"
	"fitup/internal/geom/seat"
	"fitup/internal/geom/shaft"
	"fitup/internal/project"
	"fitup/internal/project/starter"

	"github.com/stretchr/testify/require"
)

// How many places of the powertrain are assessed in a second, by what is asked:
// the joint angles alone, what a step does to a line's finding at ride height and
// to a clearance, and everything.
func BenchmarkThroughput(b *testing.B) {
	demo := build(b, string(starter.Demo()))
	supports, placed, err := demo.Seat()
	require.NoError(b, err)
	places := make([]seat.Placement, 64)
	for i := range places {
		places[i], err = supports.Solve(placed, seat.Rear, placed.Rear+0.1*float64(i))
		require.NoError(b, err)
	}
	of := func(p part, light bool) func(seat.Placement) {
		return func(to seat.Placement) {
			a := &Assessment{Build: demo.Placed(to), byID: map[string]int{}, light: light, part: p}
			a.judge()
		}
	}
	a := Run(demo)
	away := demo.Placed(places[1])
	readings := reading.Of(away)
	var prepared []*line.Prepared
	for _, l := range away.Lines {
		prepared = append(prepared, line.Prepare(line.Input{Build: away, Readings: readings.Taken(), Droop: hanging}, l))
	}
	builds := make([]*project.Build, len(places))
	for i := range places {
		builds[i] = demo.Placed(places[i])
	}
	i := 0
	for _, c := range []struct {
		name string
		run  func(seat.Placement)
	}{
		{"joint angles", func(to seat.Placement) {
			pose, err := supports.Pose(to)
			require.NoError(b, err)
			for _, l := range demo.Lines {
				chain, err := a.chain(l, finding.Maybe[geom.Pose]{V: pose, Known: true})
				require.NoError(b, err)
				axes, err := chain.Line().Axes()
				require.NoError(b, err)
				_, err = shaft.Angles(axes)
				require.NoError(b, err)
			}
		}},
		{"line findings, prepared", func(to seat.Placement) {
			pose, err := supports.Pose(to)
			require.NoError(b, err)
			i++
			for _, p := range prepared {
				p.At(line.Place{Build: builds[i%len(places)], Pose: finding.Maybe[geom.Pose]{V: pose, Known: true}, Light: true})
			}
		}},
		{"line findings", of(partOf("line.rear.joint.1.max"), true)},
		{"clearances", of(partOf("clearance.steering_shaft"), false)},
		{"everything", func(to seat.Placement) { Run(demo.Placed(to)) }},
	} {
		b.Run(c.name, func(b *testing.B) {
			b.ReportAllocs()
			for i := 0; b.Loop(); i++ {
				c.run(places[i%len(places)])
			}
			b.ReportMetric(float64(b.N)/b.Elapsed().Seconds(), "places/s")
		})
	}
}
