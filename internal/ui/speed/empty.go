//go:build linux

package main

import (
	"fmt"

	_ "fitup/internal/ui/termbg" // before bubbletea can ask the terminal

	tea "github.com/charmbracelet/bubbletea"
)

// emptyName makes this program the yardstick: one of the same screen library that
// does nothing but count keys, drawn by the library itself at its fastest.
const emptyName = "empty"

type counter int

func (c counter) Init() tea.Cmd { return nil }

func (c counter) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	if k, ok := msg.(tea.KeyMsg); ok {
		if k.String() == "q" {
			return c, tea.Quit
		}
		return c + 1, nil
	}
	return c, nil
}

func (c counter) View() string { return fmt.Sprintf("%d keys", int(c)) }

func empty() error {
	_, err := tea.NewProgram(counter(0), tea.WithAltScreen(), tea.WithFPS(120)).Run()
	return err
}
