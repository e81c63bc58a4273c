package assess

import (
	"math"
	"os"
	"strings"
	"testing"

	"fitup/internal/assess/finding"
	"fitup/internal/project"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

func supportBuild(t *testing.T, name string, edits ...string) *Assessment {
	t.Helper()
	text, err := os.ReadFile("../../testdata/mounts/" + name + ".toml")
	require.NoError(t, err)
	f, err := project.Parse(name, []byte(strings.NewReplacer(edits...).Replace(string(text))))
	require.NoError(t, err)
	return Run(f.Build)
}

// A crossmember under a carrier bearing carries what hangs on that and what the joints turn
// it with, where the shaft is over its pad: by hand from the figures of the line.
func TestACarrierBearingIsHeld(t *testing.T) {
	a := supportBuild(t, "carrier_bearing")
	for _, id := range []func(string) string{finding.BracketFits, finding.BracketBending, finding.BracketStruts, finding.BracketWeld, finding.BracketBolts, finding.PadPlateBending, finding.RailPlateBending} {
		f, ok := a.Finding(id("bearing"))
		require.True(t, ok)
		assert.Equal(t, OK, f.Status, "%s: %s", f.ID, f.Missing)
		assert.NotContains(t, strings.Join(f.Assumes, "; "), "as if the wheels never slipped", "%s rests on nothing of the mounts", f.ID)
	}
	load, ok := a.mountLoad("bearing")
	require.True(t, ok)
	require.Empty(t, load.Why)
	l := a.Lines[0]
	joint := l.Joints[1].At.V
	assert.InDelta(t, 60, joint.X-load.At.X, 1, "the pad is 60 mm ahead of the joint")
	long := l.Shafts[0].Length.V
	lever := long / (long - r3.Norm(r3.Sub(joint, load.At)))
	hangs := (l.Shafts[0].Tube.Mass.V + l.Shafts[1].Tube.Mass.V) * 9.80665 * lever
	rest := load.Cases[0]
	assert.Equal(t, "at rest", rest.Name)
	assert.InDelta(t, -hangs, rest.Force.Z, 1e-6)
	turned := ((l.Joints[0].Load.Driven.V+l.Joints[1].Load.Driver.V)/long + (l.Joints[1].Load.Driven.V+l.Joints[2].Load.Driver.V)/l.Shafts[1].Length.V) * lever
	assert.Greater(t, turned, 50.0)
	most := 0.0
	for _, c := range load.Cases {
		most = max(most, math.Abs(c.Force.Y))
	}
	assert.InDelta(t, turned, most, turned*1e-9)
}

// Without what the load rests on nothing is judged, and the row that lacks is named; with
// no pad of its own the bracket stands under the joint.
func TestASupportThatIsNotWhole(t *testing.T) {
	for name, c := range map[string]struct{ build, old, new, mount, says string }{
		"no wall":        {"carrier_bearing", "wall = 2.1", "", "bearing", "line.rear.shaft.1.wall"},
		"no torque":      {"carrier_bearing", `torque = "390 N m"`, "", "bearing", "powertrain.torque"},
		"no mass":        {"transfer_case", `mass = "62 kg"`, "", "case_left", "transfer_case.mass"},
		"no centre":      {"transfer_case", "centre_of_mass = [1790, 20, -70]", "", "case_rear", "transfer_case.centre_of_mass"},
		"no range":       {"transfer_case", "reduction = 2\n", "", "case_left", "line.rear.reduction"},
		"no case":        {"transfer_case", `reduction_in = "own case"`, "", "case_left", "line.rear.reduction_in"},
		"two mounts":     {"transfer_case", "[mount.case_rear]\ncarries = \"transfer case\"\n", "[mount.case_rear]\nat = [1700, 0, -100]\n", "case_left", "three mounts at least"},
		"bearing afar":   {"carrier_bearing", "pad = [2340, 0, -95]", "pad = [1800, 0, -95]", "bearing", "ahead of the joint that it is to hold"},
		"pad behind it":  {"carrier_bearing", "pad = [2340, 0, -95]", "pad = [2440, 0, -95]", "bearing", "ahead of the joint that it is to hold"},
		"no pad of case": {"transfer_case", "pad = [1980, 0, -95]", "", "case_left", "mount.case_rear.bracket.pad"},
	} {
		t.Run(name, func(t *testing.T) {
			a := supportBuild(t, c.build, c.old, c.new)
			f, ok := a.Finding(finding.BracketBending(c.mount))
			require.True(t, ok)
			assert.Equal(t, NotKnown, f.Status)
			assert.False(t, f.HasValue)
			assert.Contains(t, f.Missing, c.says)
		})
	}
	a := supportBuild(t, "carrier_bearing", "pad = [2340, 0, -95]", "")
	b, _ := a.Bracket("bearing")
	require.NotNil(t, b.Members, b.Why)
	assert.InDelta(t, 2400, b.Members.Pad.Point.X, 1e-9)
	assert.InDelta(t, -36-57, b.Members.Pad.Point.Z, 1e-9)
	left := supportBuild(t, "transfer_case", "pad = [1980, 0, -95]", "")
	b, _ = left.Bracket("case_rear")
	assert.False(t, b.Wrong)
	assert.Contains(t, b.Why, "mount.case_rear.bracket.pad")
}

// A transfer case is held by all its mounts together, mirrored ones too; its low range
// turns it, and a case without one does not.
func TestATransferCaseIsHeld(t *testing.T) {
	a := supportBuild(t, "transfer_case")
	sum := r3.Vec{}
	for _, name := range []string{"case_left", "case_right", "case_rear"} {
		load, ok := a.mountLoad(name)
		require.True(t, ok)
		require.Empty(t, load.Why)
		sum = r3.Add(sum, load.Cases[0].Force)
		for _, id := range []func(string) string{finding.BracketFits, finding.BracketBending, finding.BracketWeld, finding.PadPlateBending} {
			f, _ := a.Finding(id(name))
			assert.Equal(t, OK, f.Status, "%s: %s", f.ID, f.Missing)
		}
	}
	assert.InDelta(t, 0, r3.Norm(r3.Sub(sum, r3.Vec{Z: -62 * 9.80665})), 1e-9)
	down := 0.0
	for _, m := range a.railLoads().Mounts {
		if strings.HasPrefix(m.Mount, "case_") {
			down += m.Down
		}
	}
	assert.InDelta(t, 62*9.80665, down, 1e-9, "the rails carry it too")
	assert.Contains(t, supportBuild(t, "transfer_case", `mass = "62 kg"`, "").railLoads().Why, "transfer_case.mass")
	b, _ := a.Bracket("case_right")
	assert.NotEmpty(t, b.MemberMatches())
	used := func(a *Assessment) float64 { f, _ := a.Finding(finding.BracketBending("case_left")); return f.Value }
	assert.Less(t, used(supportBuild(t, "transfer_case", "reduction = 2\n", "reduction = 1\n")), 0.4*used(a))
	other := supportBuild(t, "transfer_case", `turns = "opposite"`, "", "cylinders = 6", "cylinders = 6\nturns = \"opposite\"")
	assert.NotEqual(t, used(a), used(other), "an engine that turns the other way turns it the other way")
	f, ok := supportBuild(t, "transfer_case", "[mount.case_rear.bracket]", "[mount.case_front]\ncarries = \"transfer case\"\n\n[mount.case_rear.bracket]").Finding(finding.BracketBending("case_left"))
	require.True(t, ok)
	assert.Contains(t, f.Missing, "mount.case_front.bracket.pad", "a mount without a bracket holds nobody knows what")
}
