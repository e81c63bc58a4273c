package ui

import (
	"strings"

	"fitup/internal/assess"
	"fitup/internal/ui/action"
	"fitup/internal/ui/pane"
	"fitup/internal/ui/pane/mounts"
	"fitup/internal/ui/theme"

	tea "github.com/charmbracelet/bubbletea"
)

// large shows the watched figure so that it can be read from under the
// vehicle. Arrow keys still nudge the row under the Mounts cursor, and a digit begins
// the next reading.
type large struct{ moves *mounts.Pane }

func newLarge(m *Model) *page {
	return &page{
		Pane: &large{m.mounts()}, opens: actLarge, scope: scopeMounts,
		keeps: []action.ID{actStepSmaller, actStepLarger, actWatch, actUndo, actRedo},
		digits: func(k tea.KeyMsg) { // a number is a reading
			m.close()
			m.openRound().key(m, k)
		},
	}
}

func (l *large) Key(id action.ID, v pane.View) pane.Intent { return l.moves.PlacementKey(id, v) }

func (l *large) Draw(w, h int, v pane.View) pane.Frame {
	if !v.HasW {
		return pane.Frame{Title: "Large figures", Note: "digits read, esc closes", Text: theme.Wrap("No finding has a value yet.", w)}
	}
	f := v.Watch
	text := v.Cell(f.Kind, assess.Exact(f.Value), v.Digits(f.Kind))
	role := pane.Status(f.Status).Role()
	scale := 1
	for (scale+1)*digitWidth(text) <= w && (scale+1)*digitHeight <= h-8 {
		scale++
	}
	row := l.moves.Row(v)
	lines := []string{"", centre(w, v.Theme.Paint(theme.Title, f.Title)), ""}
	for _, s := range digits(text, scale, v.Theme.Full) {
		lines = append(lines, centre(w, v.Theme.Paint(role, s)))
	}
	limit := "at most "
	if f.AtLeast {
		limit = "at least "
	}
	limit += v.Number(f.Kind, assess.Exact(f.Limit), v.Digits(f.Kind))
	lines = append(lines, "",
		centre(w, v.Theme.Status(pane.Status(f.Status))+"   "+limit),
		centre(w, row.Label+"  "+v.Number(row.Kind, row.Now, v.Digits(row.Kind))))
	for len(lines) < h-1 {
		lines = append([]string{""}, lines...)
		if len(lines) < h-1 {
			lines = append(lines, "")
		}
	}
	return pane.Frame{Title: "Large figures", Note: "arrows nudge, w next, digits read, esc closes", Text: lines}
}

func centre(w int, s string) string {
	return strings.Repeat(" ", max((w-theme.Width(s))/2, 0)) + s
}

const digitHeight = 5

// digitRows are the figures on a grid of three by five.
var digitRows = map[rune][digitHeight]string{
	'0': {"###", "# #", "# #", "# #", "###"},
	'1': {" # ", "## ", " # ", " # ", "###"},
	'2': {"###", "  #", "###", "#  ", "###"},
	'3': {"###", "  #", " ##", "  #", "###"},
	'4': {"# #", "# #", "###", "  #", "  #"},
	'5': {"###", "#  ", "###", "  #", "###"},
	'6': {"###", "#  ", "###", "# #", "###"},
	'7': {"###", "  #", " # ", " # ", " # "},
	'8': {"###", "# #", "###", "# #", "###"},
	'9': {"###", "# #", "###", "  #", "###"},
	'.': {" ", " ", " ", " ", "#"},
	'-': {"   ", "   ", "###", "   ", "   "},
	'+': {"   ", " # ", "###", " # ", "   "},
	'/': {"  #", "  #", " # ", "#  ", "#  "},
	',': {" ", " ", " ", "#", "#"},
	' ': {" ", " ", " ", " ", " "},
}

// digitWidth is the width of a text at scale 1; every dot is two cells wide so
// that it looks square.
func digitWidth(s string) int {
	n := 0
	for _, r := range s {
		if g, ok := digitRows[r]; ok {
			n += 2 * (len(g[0]) + 1)
		}
	}
	return n
}

// digits draws the figures of s; letters are left out.
func digits(s string, scale int, full string) []string {
	out := make([]string, 0, digitHeight*scale)
	for y := range digitHeight {
		var b strings.Builder
		for _, r := range s {
			g, ok := digitRows[r]
			if !ok {
				continue
			}
			for _, dot := range g[y] + " " {
				cell := " "
				if dot == '#' {
					cell = full
				}
				b.WriteString(strings.Repeat(cell, 2*scale))
			}
		}
		for range scale {
			out = append(out, b.String())
		}
	}
	return out
}
