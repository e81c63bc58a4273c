//go:build !linux

package ui

// behindKeys does nothing where no thread has a priority of its own.
func behindKeys() {}
