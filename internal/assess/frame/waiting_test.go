package frame

import (
	"testing"

	"fitup/internal/assess/finding"
	"fitup/internal/project"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// While a survey is being worked out, what it is to say of a pair between the ends and of
// an axle beside the rails' line is there, and not known.
func TestNothingIsPassedOverWhileASurveyIsWorkedOut(t *testing.T) {
	const three = `format = 3
[survey]
left = ["point.l1", "point.l2", "point.l3"]
right = ["point.r1", "point.r2", "point.r3"]
rear_axle = ["point.rl", "point.rr"]
[point.l1]
[point.l2]
[point.l3]
[point.r1]
[point.r2]
[point.r3]
[point.fl]
[point.fr]
[point.rl]
[point.rr]
`
	const height = "[[measure]]\nfrom = \"point.l1\"\nto = \"point.r2\"\nas = \"height\"\nwith = \"tape\"\nlengths = [3]\n"
	of := func(text string) map[string]finding.Status {
		f, err := project.Parse("x.toml", []byte(text))
		require.NoError(t, err)
		out := map[string]finding.Status{}
		for _, x := range Unadjusted(f.Build, nil, BeingWorkedOut).Findings() {
			out[x.ID] = x.Status
			assert.Equal(t, finding.NotKnown, x.Status, x.ID)
		}
		return out
	}
	one := of(three + height)
	assert.Contains(t, one, finding.RailsSag(2))
	assert.NotContains(t, one, finding.RailsSag(1), "an end")
	assert.Contains(t, one, finding.AxleOffset("rear"))
	assert.NotContains(t, of(three), finding.RailsSag(2), "no height is measured there")
	both := of(three[:len("format = 3\n")] + "[survey]\nfront_axle = [\"point.fl\", \"point.fr\"]\n" + three[len("format = 3\n[survey]\n"):])
	assert.NotContains(t, both, finding.AxleOffset("rear"), "the centre line goes through its middle")
}
