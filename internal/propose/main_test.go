package propose

import (
	"os"
	"runtime/debug"
	"testing"
)

// TestMain collects garbage seldom: the tests make thousands of builds and keep little of
// them.
func TestMain(m *testing.M) {
	debug.SetGCPercent(400)
	os.Exit(m.Run())
}
