package ui

import (
	"slices"
	"strings"

	"fitup/internal/ui/action"
	"fitup/internal/ui/pane"
	"fitup/internal/ui/theme"
)

// hint is a key in the footer and what it does.
type hint struct {
	key, label string
	spare      int // what can be spared most goes first where there is no room; 0 stays
}

func (h hint) width() int { return theme.Width(h.key) + theme.Width(h.label) + 3 }

// footer names the keys of the pane in focus in h rows. Where there is no room for
// all, pages, findings, undo, save, help and quit stay: with help the rest can be
// found.
func (m *Model) footer(w, h int) []string {
	hints, more := []hint(nil), []hint(nil)
	if n := len(m.dialogs); n == 0 {
		hints, more = m.hints(), m.moreHints()
	} else if d, ok := m.dialogs[n-1].(*dataPage); ok {
		hints = d.hints(m)
	} // other boxes say themselves which keys they take
	for len(flow(hints, w)) > h {
		at := 0
		for i := range hints {
			if hints[i].spare > 0 && hints[i].spare >= hints[at].spare {
				at = i
			}
		}
		hints = slices.Delete(hints, at, at+1)
	}
	for _, x := range more { // where there is room
		if with := append(slices.Clone(hints), x); len(flow(with, w)) <= h {
			hints = with
		}
	}
	rows := flow(hints, w)
	out := make([]string, h)
	for i := range out {
		var b strings.Builder
		if i < len(rows) {
			for _, x := range rows[i] {
				b.WriteString(" " + m.theme.Paint(theme.Key, x.key) + " " + m.theme.Paint(theme.Dim, x.label) + " ")
			}
		}
		out[i] = m.theme.Pad(b.String(), w)
	}
	return out
}

// flow sets hints into rows of w cells.
func flow(hints []hint, w int) [][]hint {
	rows, used := [][]hint{nil}, 0
	for _, x := range hints {
		if used > 0 && used+x.width() > w {
			rows, used = append(rows, nil), 0
		}
		rows[len(rows)-1] = append(rows[len(rows)-1], x)
		used += x.width()
	}
	return rows
}

// hints are the keys that belong in the footer of the pane in focus.
func (m *Model) hints() []hint {
	var out []hint
	sides, enter := m.words()
	if sides != "" {
		out = append(out, hint{m.theme.Left + m.theme.Right, sides, 2})
	}
	_, paged := m.panes[m.focus].(pane.Paged)
	for _, a := range m.actions.Footer(scopeOf(m.focus)) {
		if a.ID == pane.NextLeaf && !paged || a.ID == pane.Enter && enter == "" {
			continue
		}
		if a.ID == pane.Enter {
			a.Label = enter
		}
		a.Keys = a.Keys[:1]
		out = append(out, hint{a.KeyText(), a.Label, spare(a.ID)})
	}
	return out
}

// words are what the sideways arrows and Enter do in the pane in focus.
func (m *Model) words() (sides, enter string) {
	if p, ok := m.panes[m.focus].(pane.Worded); ok {
		return p.Words(m.view(m.focus))
	}
	return "", benchPanes[m.focus].enter
}

// spare says how well the footer can do without a key.
func spare(id action.ID) int {
	switch id {
	case actNextPane: // the panes have the keys that lead to them in their titles
		return 4
	case pane.Read:
		return 3
	case actData:
		return 1
	}
	return 0
}

// moreHints are the other keys of the pane in focus: what is rarely wanted last.
func (m *Model) moreHints() []hint {
	rest := m.actions.ForScope(scopeOf(m.focus))
	slices.SortStableFunc(rest, func(a, b action.Action) int { return rarely(a.ID) - rarely(b.ID) })
	var out []hint
	for _, a := range rest {
		if a.ID == actFit && m.now.Fitting() == nil {
			continue
		}
		if a.Footer || len(a.Keys) == 0 || isMove(a.ID) || isStep(a.ID) && !benchPanes[m.focus].steps {
			continue
		}
		a.Keys = a.Keys[:1]
		out = append(out, hint{a.KeyText(), a.Label, 0})
	}
	return out
}

func rarely(id action.ID) int {
	switch id {
	case actJobList, actDoneTo, pane.DropJob, pane.JobUp, pane.JobDown, pane.PrevLeaf:
		return 1
	}
	return 0
}

func isStep(id action.ID) bool { return id == actStepSmaller || id == actStepLarger }

// isMove reports whether an action only moves the cursor or the focus, which
// the pane titles and the arrows show already.
func isMove(id action.ID) bool {
	switch id {
	case pane.Up, pane.Down, pane.Less, pane.More, actPrevPane:
		return true
	}
	_, focus := paneOf(id)
	return focus
}
