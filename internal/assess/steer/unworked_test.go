package steer

import (
	"strings"
	"testing"

	"fitup/internal/assess/finding"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What cannot be worked out is not known joint by joint, shaft by shaft and bearing by
// bearing; nothing that the file has is passed over.
func TestWhatCannotBeWorkedOutIsNotPassedOver(t *testing.T) {
	good := line([]float64{20, 15, 10}, []float64{30, 40}, "slip_closed = 250\nphase = \"in phase\"") + "[[steering.bearing]]\nat = [600, -300, 400]\n"
	ids := func(r *Result) (out []string) {
		for _, f := range r.Findings {
			out = append(out, f.ID)
		}
		return out
	}
	all := ids(run(t, good))
	for name, text := range map[string]string{
		"no axis of the box":  without(t, good, "input_axis", "[[steering.joint]]"),
		"no place of the box": without(t, good, "input = ", "input_axis"),
	} {
		r := run(t, text)
		assert.NotEmpty(t, r.Why, name)
		assert.Equal(t, all, ids(r), name)
		for _, f := range r.Findings {
			assert.Equal(t, finding.NotKnown, f.Status, "%s: %s", name, f.ID)
		}
	}
}

// without is a text less what goes from one place in it up to another.
func without(t *testing.T, text, from, upTo string) string {
	before, rest, found := strings.Cut(text, from)
	_, after, ends := strings.Cut(rest, upTo)
	require.True(t, found && ends, "%s to %s", from, upTo)
	return before + upTo + after
}
