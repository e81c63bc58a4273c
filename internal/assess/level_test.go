package assess

import (
	"strings"
	"testing"

	"fitup/internal/project/starter"
)

// levelHead is a powertrain that stands level with its own frame the vehicle's:
// front pads 600 mm apart, the rear one 1200 mm behind them.
const levelHead = `
format = 1
[powertrain.pads]
left_front = [0, -300, 0]
right_front = [0, 300, 0]
rear = [1200, 0, 0]
[placement]
left_front = 0
right_front = 0
rear = 0
setback = 0
`

const weight = `
[powertrain]
mass = 300
centre_of_mass = [400, 0, 100]
torque = "300 N m"
gears = [4, 2, 1]
reverse = 3.5
`

const rubbers = `
[mount.left_front]
rate_up = 300
rate_across = 150
rate_along = 140
holds = "captive"
[mount.right_front]
rate_up = 300
rate_across = 150
rate_along = 140
holds = "captive"
[mount.rear]
rate_up = 250
rate_across = 120
rate_along = 110
holds = "captive"
`

// levelBuild is levelHead with what else a build has.
func levelBuild(t testing.TB, more ...string) *Assessment {
	t.Helper()
	return Run(build(t, levelHead+strings.Join(more, "\n")))
}

func BenchmarkRunDemo(b *testing.B) {
	demo := build(b, string(starter.Demo()))
	b.ReportAllocs()
	for b.Loop() {
		Run(demo)
	}
}
