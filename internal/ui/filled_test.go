package ui

import (
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"

	small "fitup/internal/project/example"
	"fitup/internal/ui/pane"
	"fitup/internal/ui/theme"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/stretchr/testify/require"
)

// TestGoldenFilled holds every page of the Frame pane that has all it can show, as far
// as the page goes, on a wide and on a narrow screen that are tall enough for it.
func TestGoldenFilled(t *testing.T) {
	annotated, err := os.ReadFile("../../testdata/example.toml")
	require.NoError(t, err)
	dir, files := testdata(t, "filled"), goldens{}
	for _, b := range []struct {
		name  string
		build []byte
		pages []string
	}{
		{"frame", []byte(small.Frame), []string{"survey", "square", "rails"}},
		{"subframe", []byte(small.Subframe), []string{"subframe"}},
		{"annotated", annotated, []string{"sections", "steering", "pick-ups"}},
	} {
		d := shot{build: b.build, w: 110, h: 100, keys: []string{"4", "z"}}.fresh(t, "plain")
		for _, page := range b.pages {
			d.keys("page:" + page)
			for _, width := range []int{110, 60} {
				d.send(tea.WindowSizeMsg{Width: width, Height: 100})
				w, h, text := d.openPage()
				require.Equal(t, page, d.m.panes[d.m.focus].(pane.Paged).Leaf())
				require.NotContains(t, text, " yet. Press", "%s is empty in %s", page, b.name)
				require.Greater(t, strings.Count(text, "\n"), 8, "%s shows next to nothing in %s", page, b.name)
				files.add("frame-"+page, fmt.Sprintf("%s-%d, pane %dx%d", b.name, width, w, h), text)
			}
		}
	}
	files.compare(t, dir)
}

// openPage is what the focused pane shows of its open page, without what follows it of the
// next one.
func (d *driver) openPage() (w, h int, text string) {
	r := d.m.plan().Panes[d.m.focus]
	w, h = theme.Inner(r.W, r.H)
	lines := d.m.draw(d.m.focus, w, h).Text
	if next := slices.IndexFunc(lines, func(l string) bool { return strings.HasPrefix(l, "── ") }); next >= 0 {
		lines = lines[:next]
	}
	return w, h, strings.TrimRight(d.flush(lines, w, h), "\n")
}
