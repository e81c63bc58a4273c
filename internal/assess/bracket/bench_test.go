package bracket

import (
	"testing"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/project"
	"fitup/internal/project/starter"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// How many places of the powertrain the brackets of the demo are judged at in a
// second, under as many load cases as its mounts have.
func BenchmarkBrackets(b *testing.B) {
	f, err := project.Parse("demo.toml", starter.Demo())
	require.NoError(b, err)
	supports, placed, err := f.Build.Seat()
	require.NoError(b, err)
	pose, err := supports.Pose(placed)
	require.NoError(b, err)
	var loads Loads
	for _, m := range f.Build.Mounts {
		l := MountLoad{Mount: m.Name, At: pose.Point(m.At.At)}
		for c := range 14 {
			l.Cases = append(l.Cases, Case{"case", r3.Vec{X: 40 * float64(c), Y: 300 - 50*float64(c), Z: -900 - 100*float64(c)}})
		}
		for range 2 {
			l.Swings = append(l.Swings, [2][]Case{l.Cases, l.Cases})
		}
		loads.Mounts = append(loads.Mounts, l)
	}
	ready := Prepare(f.Build, nil)
	b.ReportAllocs()
	for b.Loop() {
		ready.At(finding.Maybe[geom.Pose]{V: pose, Known: true}, loads)
	}
	b.ReportMetric(float64(b.N)/b.Elapsed().Seconds(), "places/s")
}
