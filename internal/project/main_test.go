package project

import (
	"os"
	"testing"

	"fitup/internal/inturn"
)

func TestMain(m *testing.M) {
	inturn.Draws(30)
	os.Exit(m.Run())
}
