//go:build !unix

package ui

import (
	"io"
	"os"
)

func joinEscapes(f *os.File) io.Reader { return f }

func notifyHangup(chan os.Signal) {}
