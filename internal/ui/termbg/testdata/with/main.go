// The with program starts bubbletea's package in the presence of termbg.
package main

import (
	"fmt"

	tea "github.com/charmbracelet/bubbletea"

	_ "fitup/internal/ui/termbg"
)

func main() { fmt.Println("started", tea.KeyEnter) }
