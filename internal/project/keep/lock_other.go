//go:build !windows && (!unix || aix || solaris)

package keep

import (
	"errors"
	"os"
)

// lockFile cannot be done here.
func lockFile(*os.File) error { return errors.ErrUnsupported }
