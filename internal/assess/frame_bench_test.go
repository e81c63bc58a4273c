package assess

import (
	"testing"

	"fitup/internal/project"
	"fitup/internal/project/example"

	"github.com/stretchr/testify/require"
)

// The survey of a frame with 12 points, 72 measurements and one slip among them,
// with all that is said of it.
func BenchmarkSurvey(b *testing.B) {
	f, err := project.Parse("frame", []byte(example.Frame))
	require.NoError(b, err)
	for b.Loop() {
		Run(f.Build)
	}
}
