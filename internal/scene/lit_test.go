package scene

import (
	"strings"
	"testing"

	"fitup/internal/project/starter"

	"github.com/stretchr/testify/require"
)

// What a finding, a row, a reading's target or the pattern of a job is about.
func TestSubject(t *testing.T) {
	for id, want := range map[string]string{
		"placement.rear":               "mount.rear",
		"placement.tilt":               "",
		"match.right_front.lean":       "bracket.right_front.lean",
		"bracket.*.weld":               "bracket",
		"bracket.rear":                 "bracket.rear",
		"line.rear.travel.joint.2.max": "line.rear.joint.2.max",
		"line.rear.travel.slip.pull":   "line.rear.shaft",
		"line.rear.travel.reach":       "line.rear",
		"line.rear.residual":           "line.rear",
		"line.rear.powertrain.agree":   "powertrain",
		"line.front.half_shafts":       "line.front.half_shaft",
		"line.*.joint.*.max?":          "line",
		"drift.line.rear.shaft.1":      "line.rear.shaft.1",
		"powertrain.across.read":       "powertrain",
		"mounts.sag":                   "mount",
		"weld.left-front.foot.front":   "bracket.left_front",
		"welds.finished":               "bracket",
		"axle.front.height":            "axle.front.height",
		"frame.axle.rear.square":       "axle.rear.square",
		"frame.wheelbase":              "axle",
		"rail.left.splice.1.bending":   "rails.left",
		"subframe.front.fit":           "subframe.front",
		"subframe.front.corner.sub_lf": "subframe.front.corner.sub_lf",
		"frame.rails.2.width":          "rails",
		"frame.twist":                  "rails",
		"*":                            "",
		"":                             "",
	} {
		require.Equal(t, want, Subject(id), id)
	}
}

// Every finding of the builds has a place in the drawing, but for those that are about no
// place.
func TestFindingsHaveAPlace(t *testing.T) {
	all := builds(t)
	all["the demo"], _ = sceneOf(t, starter.Demo())
	n := 0
	for name, a := range all {
		s := Of(a)
		for _, f := range a.Findings {
			_, ok := s.Selection(f.ID)
			require.Equal(t, !strings.HasPrefix(f.ID, "cuts."), ok, "%s: %s", name, f.ID)
			n++
		}
	}
	require.Greater(t, n, 150)
}
