package ui

import (
	"strings"

	"fitup/internal/assess"
	"fitup/internal/project"
	"fitup/internal/ui/field"
	"fitup/internal/ui/pane"
	"fitup/internal/ui/theme"

	tea "github.com/charmbracelet/bubbletea"
)

// override asks why something is done although it is held.
type override struct {
	holds  []assess.Hold
	reason field.Model
	at     string // what is done, for the journal
	was    string // the reason that it began with
	accept func(m *Model, reason string)
}

func newOverride(m *Model, at string, holds []assess.Hold, reason string, accept func(m *Model, reason string)) *override {
	return &override{at: at, was: reason, holds: holds, accept: accept, reason: field.New("The reason, for the file", reason, nil).WithTheme(m.theme)}
}

func (o *override) key(m *Model, k tea.KeyMsg) {
	var done field.Done
	o.reason, done = o.reason.Update(k)
	switch done {
	case field.Cancelled:
		m.close()
	case field.Accepted:
		if strings.TrimSpace(o.reason.Text()) == "" {
			m.say(theme.Doubt, "An override needs a reason; it stays visible in the list. Esc leaves it as it is.")
			return
		}
		m.close()
		o.accept(m, o.reason.Text())
	}
}

func (o *override) lines(m *Model, w int) []string {
	out := []string{""}
	for _, h := range o.holds {
		if h.Holds() {
			for _, l := range theme.Wrap(m.theme.Plain(project.Printable(h.Text)), max(w-4, 1)) {
				out = append(out, " "+m.theme.StatusSign(pane.Status(h.Status))+" "+l)
			}
		}
	}
	out = append(out, "")
	for _, l := range theme.Wrap("You can do it anyway: say why. It shows as overridden from then on.", max(w-2, 1)) {
		out = append(out, " "+l)
	}
	out = append(out, "")
	for _, l := range o.reason.View(max(w-2, 1)) {
		out = append(out, " "+l)
	}
	return out
}

func (o *override) size(w, _ int) (int, int) { return min(72, w-4), 14 }

func (o *override) draw(m *Model, w, h int) (string, string, []string) {
	lines := o.lines(m, w)
	if n := len(o.reason.View(max(w-2, 1))); len(lines) > h && h > n { // the field stays in sight
		lines = append(lines[:h-n:h-n], lines[len(lines)-n:]...)
	}
	return "Held", "enter overrides, esc leaves", lines
}
