// Package termbg tells lipgloss that the background is dark before anything
// can ask the terminal.
//
// The init function of bubbletea calls lipgloss.HasDarkBackground, which
// writes a colour query to the terminal and waits up to five seconds for an
// answer. Serial consoles, some multiplexers and remote links never answer, so
// the program would seem dead for that long at every start, even for commands
// that draw nothing. This program picks its colours by theme and has no use
// for the answer.
//
// Why this package is in time: the Go specification ("Program
// initialization") sorts all packages by import path and then, again and
// again, initialises the first one in that list whose imports are all
// initialised. This package imports lipgloss alone. bubbletea imports lipgloss
// too, so neither can run before lipgloss has; at the moment lipgloss is done
// this package is ready, and "fitup/..." sorts before
// "github.com/charmbracelet/bubbletea". It must therefore import nothing else,
// and it must be imported (for effect) by the program that uses bubbletea.
package termbg

import "github.com/charmbracelet/lipgloss"

func init() {
	lipgloss.SetHasDarkBackground(true)
}
