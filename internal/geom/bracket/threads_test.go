package bracket

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// Whatever is offered is a thread, and has a class of its kind.
func TestOfferedThreadsAreThreads(t *testing.T) {
	seen := map[string]bool{}
	for _, name := range Threads() {
		th, err := ParseThread("a bolt", name)
		require.NoError(t, err)
		require.False(t, seen[th.Name], "%s is there twice", name)
		seen[th.Name] = true
		fits := 0
		for _, class := range Classes() {
			if _, err := th.Class("a bolt", class); err == nil {
				fits++
			}
		}
		require.Equal(t, 3, fits, name)
	}
}
