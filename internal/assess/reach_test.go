package assess

import (
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A transfer case rests on all its mounts, so where one of them stands is felt by the
// brackets of the others.
func TestWhereAMountOfACaseStandsReachesTheOthers(t *testing.T) {
	src, err := os.ReadFile("../../testdata/mounts/transfer_case.toml")
	require.NoError(t, err)
	head, rear, ok := strings.Cut(string(src), "[mount.case_rear.bracket]")
	require.True(t, ok)
	text := head + "[mount.case_rear.bracket]" + strings.Replace(rear, "standing = 30", `standing = "30 mm ± 10"`, 1)
	require.NotEqual(t, string(src), text)
	was, a := Run(build(t, string(src))), Run(build(t, text))
	for _, id := range []string{"bracket.case_left.bending", "bracket.case_right.weld"} {
		assert.Greater(t, findingOf(t, a, id).Uncertainty, findingOf(t, was, id).Uncertainty, id)
	}
}
