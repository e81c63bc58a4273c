package assess

import (
	"fmt"
	"testing"

	"fitup/internal/assess/frame"
	"fitup/internal/project"
	"fitup/internal/project/example"
	"fitup/internal/project/grown"

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

// Surveys of many points along a frame with ten distances from each: from the
// measurements to all that is said of the frame, and how that grows.
func BenchmarkLargeSurvey(b *testing.B) {
	for _, points := range []int{40, 124, 250, 500} {
		b.Run(fmt.Sprintf("points=%d/distances=%d", points, 10*points), func(b *testing.B) {
			f, err := project.Parse("frame", []byte(grown.Survey(points, 10*points, 0)))
			require.NoError(b, err)
			for b.Loop() {
				_, err := adjust(frame.Watch{Context: b.Context()}, f.Build)
				require.NoError(b, err)
			}
		})
	}
}
