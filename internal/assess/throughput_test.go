//go:build unix

package assess

import (
	"syscall"
	"testing"
	"time"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/geom/seat"
	"fitup/internal/geom/shaft"
	"fitup/internal/project"
	"fitup/internal/project/starter"

	"github.com/stretchr/testify/require"
)

// processor is the time that the program has had of the processors. Unlike the
// clock's it says the same on a machine that has other work to do.
func processor(b *testing.B) time.Duration {
	var u syscall.Rusage
	require.NoError(b, syscall.Getrusage(syscall.RUSAGE_SELF, &u))
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}

// How many places of the powertrain are assessed in a second of a processor, by what is asked:
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
	p := Prepare(demo)
	rear, err := demo.MovableNamed("placement.rear")
	require.NoError(b, err)
	of := func(which Which) func(seat.Placement) {
		return func(to seat.Placement) {
			_, err := p.At([]project.Move{{Of: rear, To: to.Rear}}, which)
			require.NoError(b, err)
		}
	}
	a := Run(demo)
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
		{"line findings", of(For(finding.JointMax("rear", 1)))},
		{"clearances", of(For("clearance.steering_shaft"))},
		{"everything", of(Everything)},
		{"everything and jobs, from the build", func(to seat.Placement) { Run(demo.Placed(to)) }},
	} {
		b.Run(c.name, func(b *testing.B) {
			b.ReportAllocs()
			before := processor(b)
			for i := 0; b.Loop(); i++ {
				c.run(places[i%len(places)])
			}
			b.ReportMetric(float64(b.N)/(processor(b)-before).Seconds(), "places/cpu-s")
		})
	}
}
