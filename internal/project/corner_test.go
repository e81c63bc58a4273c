package project_test

import (
	"strings"
	"testing"

	"fitup/internal/project"
	"fitup/internal/project/example"

	"github.com/stretchr/testify/require"
)

// A mount that holds a corner of a subframe says nothing that only a mount of the
// powertrain has, and its corner is one.
func TestAMountOfACorner(t *testing.T) {
	t.Parallel()
	text := example.SubframeMounts()
	_, err := project.Parse("x.toml", []byte(text))
	require.NoError(t, err)
	const line = "corner = \"point.sub_lf\"\n"
	for with, says := range map[string]string{
		"corner = \"point.sub_xx\"\n":               "is no point of a subframe",
		line + "at = [0, 0, 0]\n":                   "leave at out",
		line + "fit_up_only = true\n":               "leave fit_up_only out",
		line + "rate_up = \"200 N/mm\"\n":           "leave its rates, its rubber and holds out",
		"corner = \"point.sub_rf\"\n":               "is held by mount.sub_left_front already",
		line + "[mount.rear]\n" + line:              "one of the powertrain's three pads",
		line + "[subframe.front]\npickup = \"x\"\n": "there are no pick-ups called",
	} {
		changed := strings.Replace(text, line, with, 1)
		if strings.Contains(with, "[subframe.front]") {
			changed = strings.Replace(text, "[subframe.front]\n", "[subframe.front]\npickup = \"x\"\n", 1)
		}
		_, err := project.Parse("x.toml", []byte(changed))
		require.ErrorContains(t, err, says, with)
	}
}
