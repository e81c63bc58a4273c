// The without program is the control: bubbletea's package alone.
package main

import (
	"fmt"

	tea "github.com/charmbracelet/bubbletea"
)

func main() { fmt.Println("started", tea.KeyEnter) }
