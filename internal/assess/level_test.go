package assess

import (
	"strings"
	"testing"

	"fitup/internal/project/example"
	"fitup/internal/project/grown"
	"fitup/internal/project/starter"
)

// levelHead is a powertrain that stands level with its own frame the vehicle's:
// front pads 600 mm apart, the rear one 1200 mm behind them.
const levelHead = example.Level

const weight = example.Heavy

const rubbers = example.Rubbers

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

func BenchmarkRunLarge(b *testing.B) {
	large := build(b, grown.Large())
	b.ReportAllocs()
	before := processor(b)
	for b.Loop() {
		Run(large)
	}
	b.ReportMetric((processor(b)-before).Seconds()*1e3/float64(b.N), "cpu-ms/op")
}
