package mount

import (
	"math"
	"strings"
	"testing"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/project"
	"fitup/internal/project/example"
	"fitup/internal/uncertain"

	"github.com/stretchr/testify/require"
)

// levelHead is a powertrain that stands level with its own frame the vehicle's:
// front pads 600 mm apart, the rear one 1200 mm behind them.
const levelHead = example.Level

const weight = example.Heavy

const rubbers = example.Rubbers

// judged is a build on its mounts, with all that is said of it.
type judged struct {
	*Result
	Build  *project.Build
	Pose   geom.Pose
	Values finding.List
}

func build(t require.TestingT, text string) *project.Build {
	f, err := project.Parse("test.toml", []byte(text))
	require.NoError(t, err)
	return f.Build
}

// run judges a build: the tyres' size as the file says it, and no line.
func run(b *project.Build) *judged {
	in, round := Input{Carried: true}, finding.Missing("vehicle.tyre is not in the file yet")
	if d, ok := b.Vehicle.WheelDiameter.Get(); ok {
		round = finding.Exact(math.Pi * d)
	}
	s, p, err := b.Seat()
	if err == nil {
		in.Pose.V, err = s.Pose(p)
	}
	if in.Pose.Known = err == nil; err != nil {
		in.Pose.Why = err.Error()
	}
	j := &judged{Result: Prepare(b, round, new(uncertain.Sources), finding.Estimate{}).At(in), Build: b, Pose: in.Pose.V}
	levels, fs := j.Ride()
	j.Findings = append(j.Findings, fs...)
	j.Result.Values(&j.Values)
	for _, r := range levels {
		r.Values(&j.Values)
	}
	return j
}

// levelBuild is levelHead with what else a build has.
func levelBuild(t testing.TB, more ...string) *judged {
	t.Helper()
	return run(build(t, levelHead+strings.Join(more, "\n")))
}

func (j *judged) Finding(id string) (finding.Finding, bool) {
	for _, f := range j.Findings {
		if f.ID == id {
			return f, true
		}
	}
	return finding.Finding{}, false
}

func findingOf(t testing.TB, j *judged, id string) finding.Finding {
	t.Helper()
	f, ok := j.Finding(id)
	require.True(t, ok, id)
	return f
}

func value(t testing.TB, a *judged, name string) float64 {
	t.Helper()
	for _, v := range a.Values {
		if v.Name == name {
			require.True(t, v.Known, name)
			return v.V
		}
	}
	require.Fail(t, "no value is called "+name)
	return 0
}
