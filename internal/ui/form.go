package ui

import tea "github.com/charmbracelet/bubbletea"

// picker is a line of the reading form with a few answers.
type picker struct {
	label   string
	answers []string // as shown
	values  []string // as the file has them; "" leaves the key out
	at      int
}

func (p *picker) value() string { return p.values[p.at] }

func (p *picker) turn(by int) { p.at = (p.at + by + len(p.answers)) % len(p.answers) }

// key turns the picker or chooses by first letter.
func (p *picker) key(k tea.KeyMsg) {
	switch k.String() {
	case "left", "-":
		p.turn(-1)
	case "right", "+", " ":
		p.turn(1)
	default:
		for i, a := range p.answers { // a first letter chooses
			if k.String() == a[:1] {
				p.at = i
			}
		}
	}
}

// formKey does what a key means in every form: move between its lines, take it
// or leave it. It reports whether the key was one of those.
func formKey(m *Model, k tea.KeyMsg, row *int, rows int, accept func(*Model)) bool {
	switch k.String() {
	case "esc", "ctrl+c":
		m.close()
	case "up", "shift+tab":
		*row = (*row + rows - 1) % rows
	case "down", "tab":
		*row = (*row + 1) % rows
	case "enter":
		accept(m)
	default:
		return false
	}
	return true
}
