package edit

import (
	"os"
	"runtime/debug"
	"testing"

	"fitup/internal/inturn"
)

// TestMain collects garbage seldom: the tests make thousands of builds and keep little of
// them.
func TestMain(m *testing.M) {
	debug.SetGCPercent(400)
	inturn.Draws(30)
	os.Exit(m.Run())
}
