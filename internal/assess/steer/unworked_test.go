package steer

import (
	"strings"
	"testing"

	"fitup/internal/assess/finding"

	"github.com/stretchr/testify/assert"
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
		"no axis of the box":  good[:strings.Index(good, "input_axis")] + good[strings.Index(good, "[[steering.joint]]"):],
		"no place of the box": good[:strings.Index(good, "input = ")] + good[strings.Index(good, "input_axis"):],
	} {
		r := run(t, text)
		assert.NotEmpty(t, r.Why, name)
		assert.Equal(t, all, ids(r), name)
		for _, f := range r.Findings {
			assert.Equal(t, finding.NotKnown, f.Status, "%s: %s", name, f.ID)
		}
	}
}
