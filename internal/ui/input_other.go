//go:build !unix

package ui

import (
	"io"
	"os"
)

// joinEscapes leaves the input alone: no question is asked here (see canAsk).
func joinEscapes(f *os.File, _ func(backgroundMsg)) io.Reader { return f }

// canAsk says that answers of the terminal can be told from keys.
const canAsk = false

func notifyHangup(chan os.Signal) {}
