package ui

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"sync"
	"testing"

	"github.com/stretchr/testify/require"
)

// asBuilt is the program as the README has it installed, built once for all tests.
func asBuilt(t *testing.T) string {
	t.Helper()
	program, err := built()
	require.NoError(t, err)
	return program
}

var built = sync.OnceValues(func() (string, error) {
	dir, err := os.MkdirTemp("", "fitup")
	if err != nil {
		return "", err
	}
	programDir = dir
	program := filepath.Join(dir, "fitup")
	if out, err := exec.Command("go", "build", "-ldflags", "-s -w", "-o", program, "../../cmd/fitup").CombinedOutput(); err != nil {
		return "", fmt.Errorf("%w: %s", err, out)
	}
	return program, nil
})

// programDir is where it is; "" where it was not built.
var programDir string
