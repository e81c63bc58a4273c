package pane

import (
	"fmt"

	"fitup/internal/ui/theme"
)

// LeafTitle is the title of a pane that has leaves, and its note: all leaves
// with the open one in brackets where the border has room, otherwise the open
// one and how many there are. The first of the notes that fits goes with it;
// there may be none.
func LeafTitle(name string, leaves []string, open, w int, notes []string, t *theme.Theme) (title, note string) {
	full, short := name+":", fmt.Sprintf("%s: %s (%d of %d)", name, leaves[open], open+1, len(leaves))
	on, off := t.SGR(theme.Title)
	for i, leaf := range leaves {
		if i == open {
			full += " [" + leaf + "]"
		} else {
			full += " " + off + t.Paint(theme.Dim, leaf) + on
		}
	}
	bare := name + ": " + leaves[open]
	for _, s := range []string{full, short, bare} {
		if len(notes) == 0 && theme.Width(s)+4 <= w {
			return s, ""
		}
		for _, n := range notes {
			if theme.Width(s)+theme.Width(n)+7 <= w {
				return s, n
			}
		}
	}
	if len(notes) == 0 {
		return short, ""
	}
	return bare, notes[len(notes)-1]
}
