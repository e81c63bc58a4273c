package mount

import (
	"math"
	"strings"
	"testing"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/project"
	"fitup/internal/project/quantity"
	"fitup/internal/uncertain"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// tilting is a build whose line has two joints: the first has the slope of the
// powertrain, the second three times that and 2 degrees.
func tilting(t testing.TB, more string) *Result {
	t.Helper()
	b := build(t, levelHead+weight+more+"[line.rear]\n[line.own]\n[line.own.first]\nslope = \"2 deg down to the rear\"\n")
	s, p, err := b.Seat()
	require.NoError(t, err)
	pose, err := s.Pose(p)
	require.NoError(t, err)
	return Prepare(b, finding.Missing("no tyre"), new(uncertain.Sources), finding.Estimate{}).At(Input{Pose: finding.Maybe[geom.Pose]{V: pose, Known: true}, Carried: true,
		Angles: func(l project.Line, pose geom.Pose) ([]geom.Angle, error) {
			assert.Equal(t, "rear", l.Name, "what begins at points of its own does not follow")
			return []geom.Angle{pose.Slope(), 3*pose.Slope() + 2*geom.Deg}, nil
		}})
}

const softRear = "[mount.left_front]\nrate_up = 300\nrate_across = 150\nrate_along = 140\n[mount.right_front]\nrate_up = 300\nrate_across = 150\nrate_along = 140\n" +
	"[mount.rear]\nhardness = 50\nthickness = 30\ndiameter = 60\n"

// The angles with the weight on are those at the pose it sinks to, as open as the
// estimated rates leave that pose.
func TestJointAnglesWithTheWeightOn(t *testing.T) {
	res := tilting(t, softRear)
	require.Empty(t, res.Isolators.Why)
	require.Len(t, res.Isolators.Loaded, 1)
	joints, tilt := res.Isolators.Loaded[0].Joints, res.Isolators.Tilt
	assert.Greater(t, tilt.V, 1e-4)
	assert.InDelta(t, tilt.V, joints[0].V, 1e-12)
	assert.InDelta(t, 3*tilt.V+(2*geom.Deg).Rad(), joints[1].V, 1e-12)
	assert.Positive(t, tilt.U())
	assert.InDelta(t, tilt.U(), joints[0].U(), 1e-12)
	assert.InDelta(t, 3*tilt.U(), joints[1].U(), 1e-12)

	// The stands are those poses, and the softer ones behind them.
	st := res.Standings()
	require.Len(t, st.All, 7)
	assert.Equal(t, "as built", st.All[0].Name)
	assert.InDelta(t, tilt.V, st.All[1].Pose.Slope().Rad(), 1e-12)
	for k, s := range st.All {
		assert.Equal(t, k >= 4, s.Soft)
	}
	assert.Empty(t, st.Assumes)
	assert.Greater(t, st.All[4].Pose.Slope().Rad(), st.All[1].Pose.Slope().Rad(), "softer behind, it tilts more")
	assert.Len(t, res.Isolators.AtEnds(), 6)
	solid := tilting(t, strings.ReplaceAll(rubbers, `"captive"`, `"solid"`))
	assert.Len(t, solid.Standings().All, 1)
	assert.Contains(t, solid.Standings().Assumes[0], "not sagged or rocked on its mounts: the file says nothing of its mounts' rubber")
}

// What estimates leave open is that of each mount by itself, taken together, or of
// all at once, whichever is more.
func TestEstimatesAreTakenTogether(t *testing.T) {
	rubber := "hardness = 50\nthickness = 30\ndiameter = 60\n"
	res := tilting(t, "[mount.left_front]\n"+rubber+"[mount.right_front]\n"+rubber+"[mount.rear]\n"+rubber)
	is := &res.Isolators
	require.Len(t, is.Ends, 3)
	slope, sum := is.Poses[1].Pose.Slope().Rad(), 0.0
	for _, e := range is.Ends {
		sum += math.Pow(max(math.Abs(e[0][1].Pose.Slope().Rad()-slope), math.Abs(e[1][1].Pose.Slope().Rad()-slope)), 2)
	}
	open := max(math.Sqrt(sum), math.Abs(is.Soft[1].Pose.Slope().Rad()-slope))
	open *= 2 / math.Sqrt(3) // a bound, rectangular
	assert.InDelta(t, open, is.Tilt.Expanded(), 1e-12)
	assert.InDelta(t, open, is.Loaded[0].Joints[0].Expanded(), 1e-12)
}

// What hangs on the powertrain is held where it runs, and the worse of that and as
// built is the verdict; what was read, or does not follow, stays as it is.
func TestVerdictsWithTheWeightOn(t *testing.T) {
	res := tilting(t, softRear)
	joints := res.Isolators.Loaded[0].Joints
	rule := func(limit float64) project.Rule {
		return project.Rule{Kind: quantity.Angle, Value: limit, Source: "here"}
	}
	of := func(id string, v, limit float64) finding.Finding {
		f := finding.Finding{ID: id}
		f.Judge(finding.Exact(v), rule(limit), false)
		return f
	}
	mismatch := math.Abs(joints[0].V - joints[1].V)
	limit := res.p.mismatch.Value
	hold := func(f finding.Finding, l HungLine) finding.Finding {
		fs := []finding.Finding{f}
		res.Sunk(fs, []HungLine{l})
		return fs[0]
	}
	l := HungLine{Name: "rear", Read: []bool{false, false}, Mismatch: []finding.Number{finding.Exact(0.01)}}

	f := hold(of("line.rear.joint.1.max", 0, joints[0].V/2), l)
	assert.Equal(t, finding.Over, f.Status)
	assert.InDelta(t, joints[0].V, f.Value, 1e-12)
	assert.Contains(t, f.Advice(), "As built it is ok, and once the powertrain's weight is on its mounts it is over")
	assert.Contains(t, f.Assumes[0], "the powertrain with its weight on its mounts; as built it is 0.00°")
	f = hold(of("line.rear.joint.2.max", 0, 1), l)
	assert.Equal(t, finding.OK, f.Status)
	assert.Zero(t, f.Value)
	assert.Contains(t, f.Assumes[0], "the powertrain as built; with its weight on its mounts it is ")

	f = hold(of("line.rear.shaft.1.mismatch", 0.01, limit), l)
	require.Greater(t, mismatch, limit)
	assert.Equal(t, finding.Over, f.Status)
	assert.InDelta(t, mismatch, f.Value, 1e-12)
	assert.InDelta(t, 2*(joints[1].U()-joints[0].U()), f.Uncertainty, 1e-12, "the one estimate moves both")
	other := l
	other.Mismatch = []finding.Number{finding.Exact(0.02)}
	f = hold(of("line.rear.shaft.1.mismatch", 0.01, limit), other) // it holds something else
	assert.Equal(t, []string{"the powertrain as built, before its weight is on its mounts"}, f.Assumes)
	f = hold(of("line.rear.residual", 0.01, limit), l)
	assert.Equal(t, []string{"the powertrain as built, before its weight is on its mounts"}, f.Assumes)

	read := l
	read.Read = []bool{true, false}
	assert.Empty(t, hold(of("line.rear.joint.1.max", 0, 1), read).Assumes)
	assert.NotEmpty(t, hold(of("line.rear.joint.2.max", 0, 1), read).Assumes)
	assert.NotEmpty(t, hold(of("line.rear.travel.joint.1.max", 0, 1), read).Assumes, "its travel was not read")
	read.WasRead = true
	assert.Empty(t, hold(of("line.rear.residual", 0, 1), read).Assumes)
	for _, id := range []string{"line.rear.joint.1.torque", "line.rear.shaft.1.whirl", "line.front.joint.1.max", "line.rear.travel.reach", "mounts.sag"} {
		assert.Empty(t, hold(of(id, 0, 1), l).Assumes, id)
	}
	moved := of("line.rear.joint.1.max", 0, 1)
	moved.Moved = true
	assert.Empty(t, hold(moved, l).Assumes)

	res = tilting(t, "")
	f = hold(of("line.rear.joint.1.max", 0, 1), l)
	assert.Equal(t, []string{"the powertrain as built, not sunk on its mounts: the file says nothing of its mounts' rubber"}, f.Assumes)
	res = tilting(t, "[mount.left_front]\nholds = \"solid\"\n[mount.right_front]\nholds = \"solid\"\n[mount.rear]\nholds = \"solid\"\n")
	assert.Empty(t, hold(of("line.rear.joint.1.max", 0, 1), l).Assumes, "it stands where it was built")
}
