package mount

import (
	"testing"

	"fitup/internal/assess/finding"
	"fitup/internal/project"
	"fitup/internal/uncertain"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A mount that carries 50 N at least, give or take 80, may lift: that matters where its
// rubber alone holds it, and where nobody said what does.
func TestALoadWithinItsUncertaintyMayLift(t *testing.T) {
	for holds, want := range map[project.Holds]finding.Status{project.BondedOnly: finding.Tight, "": finding.NotKnown, project.Captive: finding.OK} {
		for u, want := range map[float64]finding.Status{40: want, 20: finding.OK} {
			m := &support{spec: project.Mount{Holds: holds}, id: "mount.rear"}
			var f finding.Finding
			f.Figure(finding.Exact(50))
			f.Again(m.judgeLiftAgain)
			n, err := new(uncertain.Sources).With(0, uncertain.Source{Label: "the ± typed of powertrain.mass", U: u})
			require.NoError(t, err)
			f.Open(n)
			assert.Equal(t, want, f.Status, "%s, %g", holds, u)
		}
	}
}
