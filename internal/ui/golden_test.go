package ui

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"fitup/internal/inturn"
	"fitup/internal/project/starter"
	"fitup/internal/ui/layout"
	"fitup/internal/ui/pane"
	"fitup/internal/ui/theme"

	"github.com/charmbracelet/x/ansi"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var update = flag.Bool("update", false, "write the golden screens anew")

// goldens are the files of a folder, each of several sections: what changes
// together stands together.
type goldens map[string]*strings.Builder

// add appends a section to a file.
func (g goldens) add(file, section, text string) {
	if g[file] == nil {
		g[file] = &strings.Builder{}
	}
	fmt.Fprintf(g[file], "== %s\n%s\n", section, text)
}

// compare holds the files against those of a folder of testdata.
func (g goldens) compare(t *testing.T, dir string) {
	t.Helper()
	for file, text := range g {
		golden(t, dir, file, text.String())
	}
	old, err := filepath.Glob(filepath.Join(dir, "*.txt"))
	require.NoError(t, err)
	for _, path := range old {
		name := strings.TrimSuffix(filepath.Base(path), ".txt")
		switch _, ok := g[name]; {
		case !ok && *update:
			require.NoError(t, os.Remove(path))
		case !ok:
			assert.Fail(t, "no test draws "+path+" any more")
		}
	}
}

// golden compares got with a file.
func golden(t *testing.T, dir, name, got string) {
	t.Helper()
	path := filepath.Join(dir, name+".txt")
	if *update {
		require.NoError(t, os.MkdirAll(dir, 0o755))
		require.NoError(t, os.WriteFile(path, []byte(got), 0o644))
		return
	}
	want, err := os.ReadFile(path)
	require.NoError(t, err, "run the test with -update to make it")
	if string(want) != got {
		assert.Fail(t, name+" has changed", "%s", differences(string(want), got))
	}
}

// differences writes only the lines that are not the same, each section under
// its name.
func differences(want, got string) string {
	var b strings.Builder
	section := ""
	was, is := strings.Split(want, "\n"), strings.Split(got, "\n")
	for i := range max(len(was), len(is)) {
		var x, y string
		if i < len(was) {
			x = was[i]
		}
		if i < len(is) {
			y = is[i]
		}
		if strings.HasPrefix(y, "== ") {
			section = y + "\n"
		}
		if x != y {
			b.WriteString(section)
			section = ""
			fmt.Fprintf(&b, "%3d was %s\n    is  %s\n", i+1, x, y)
		}
	}
	return b.String()
}

// testdata is the folder of the golden files; tests go to folders of their own.
func testdata(t *testing.T, name string) string {
	t.Helper()
	dir, err := filepath.Abs(filepath.Join("testdata", name))
	require.NoError(t, err)
	return dir
}

// wholes are the shots of which the whole screen is held: every size and look,
// and boxes in their places. All are in one file, since what is on one is on most.
func wholes() map[string]bool {
	out := map[string]bool{"ascii-demo-80x24": true, "nudged-twice-80x24": true}
	for _, size := range []string{"140x45", "120x36", "80x24", "60x20", "59x19"} {
		out["demo-"+size] = true
	}
	for _, name := range []string{"starter-120x36", "readings-140x45", "nodirection-80x24", "inches-120x36"} {
		out[name] = true
	}
	for _, name := range []string{"help-60x20", "ask-wrong-60x20", "findings-120x36", "large-140x45"} {
		out[name] = true
	}
	return out
}

// TestGoldenScreens holds whole screens, without colour, against files.
func TestGoldenScreens(t *testing.T) {
	dir, files, whole := testdata(t, "screens"), goldens{}, wholes()
	for _, s := range shots() {
		if whole[s.title()] {
			files.add("whole", s.title(), s.take(t).screen())
			delete(whole, s.title())
		}
	}
	require.Empty(t, whole, "there are no such shots")
	files.add("whole", "recover-80x24", recovered(t).screen())
	files.compare(t, dir)
}

// TestGoldenPanels holds what each shot is about against files: the box that is
// open, the pane in focus, or every pane of a build that has no more to show. A
// file is a page of a pane, or a kind of box.
func TestGoldenPanels(t *testing.T) {
	dir, files, whole := testdata(t, "panels"), goldens{}, wholes()
	seen, drawn := map[string]bool{}, map[string]bool{}
	refused := shot{name: "demo", build: starter.Demo(), w: 59, h: 19}.take(t).screen()
	for _, s := range shots() {
		require.False(t, seen[s.title()], "two shots are called %s", s.title())
		seen[s.title()] = true
		d := s.take(t)
		if s.w < layout.MinW {
			require.Equal(t, refused, d.screen(), "%s: too small a screen shows nothing of the build", s.title())
			continue
		}
		if whole[s.title()] {
			continue
		}
		d.panels(s, files, drawn)
	}
	everyLeaf(t, files, drawn)
	files.compare(t, dir)
}

// panels adds what a shot is about.
func (d *driver) panels(s shot, files goldens, drawn map[string]bool) {
	said := ""
	if m := d.m.message.text; m != "" && len(s.keys) > 0 {
		said = "message: " + m + "\n"
	}
	if n := len(d.m.dialogs); n > 0 {
		box := d.m.dialogs[n-1]
		kind := strings.TrimPrefix(fmt.Sprintf("%T", box), "*ui.")
		w, h := box.size(d.m.width, d.m.height)
		w, h = theme.Inner(w, min(h, d.m.height-2))
		title, note, lines := box.draw(d.m, w, h)
		files.add("box-"+kind, fmt.Sprintf("%s, box %dx%d", s.title(), w, h), said+"title: "+title+"\nnote: "+note+"\n"+d.flush(lines, w, h))
		return
	}
	about := []layout.Slot{d.m.focus}
	switch {
	case len(s.keys) > 0 && s.keys[0] == "v":
		about = []layout.Slot{layout.Sketch}
	case len(s.keys) == 0 && s.then == nil:
		about = nil
		for p := range d.m.panes {
			about = append(about, layout.Slot(p))
		}
	}
	for _, p := range about {
		if r, ok := d.m.plan().Panes[p]; ok {
			d.panel(s, p, r, said, files, drawn)
		}
	}
}

// panel adds a pane drawn alone. Title and note of one with pages are left to the
// borders, where all its pages are named and the note has what room they leave.
func (d *driver) panel(s shot, p layout.Slot, r layout.Rect, said string, files goldens, drawn map[string]bool) {
	w, h := theme.Inner(r.W, r.H)
	f := d.m.draw(p, w, h)
	file, title := string(benchPanes[p].scope), ""
	if leaf, ok := d.m.panes[p].(pane.Paged); ok {
		file += "-" + leaf.Leaf()
	} else {
		title = "title: " + f.Title + "\n"
		if f.Note != "" {
			title += "note: " + ansi.Strip(f.Note) + "\n"
		}
	}
	drawn[fmt.Sprintf("%s %dx%d", file, s.w, s.h)] = true
	files.add(file, fmt.Sprintf("%s, pane %dx%d", s.title(), w, h), said+title+d.flush(f.Text, w, h))
}

// flush joins the lines that w by h cells show, without the spaces behind them.
func (d *driver) flush(lines []string, w, h int) string {
	var out []string
	lines = slices.Clone(lines)
	theme.Unmarked(lines)
	for _, l := range lines[:min(len(lines), h)] {
		out = append(out, strings.TrimRight(d.m.theme.Cut(l, w), " "))
	}
	return strings.Join(out, "\n")
}

// everyLeaf adds every page of every pane of the demo at one size of each mode,
// unless a shot shows it there.
func everyLeaf(t *testing.T, files goldens, drawn map[string]bool) {
	t.Helper()
	for p := range benchPanes {
		for _, size := range [][2]int{{140, 45}, {80, 24}, {60, 20}} {
			s := shot{name: "demo", build: starter.Demo(), w: size[0], h: size[1], keys: []string{fmt.Sprint(p + 1)}}
			d := s.fresh(t, "plain")
			leaf, _ := d.m.panes[p].(pane.Paged)
			for first := ""; leaf == nil || leaf.Leaf() != first; d.keys("]") {
				file := string(benchPanes[p].scope)
				if leaf != nil {
					file += "-" + leaf.Leaf()
				}
				if !drawn[fmt.Sprintf("%s %dx%d", file, s.w, s.h)] {
					d.panel(s, layout.Slot(p), d.m.plan().Panes[layout.Slot(p)], "", files, drawn)
				}
				if leaf == nil {
					break
				}
				if first == "" {
					first = leaf.Leaf()
				}
			}
		}
	}
}

// TestGoldenBorders holds what stands round the panes: their titles with their
// pages and notes, the strip, the bars of those that are closed, the footer.
func TestGoldenBorders(t *testing.T) {
	dir, files := testdata(t, "borders"), goldens{}
	for _, b := range []struct {
		name string
		text []byte
		keys []string
	}{{"demo", starter.Demo(), nil}, {"demo zoomed", starter.Demo(), []string{"z"}}, {"lines", []byte(twoLines), []string{"3", "right"}}} {
		for _, size := range [][2]int{{200, 50}, {140, 45}, {120, 36}, {80, 24}, {60, 20}} {
			d := shot{build: b.text, w: size[0], h: size[1], keys: b.keys}.fresh(t, "plain")
			for p := range benchPanes {
				d.keys(fmt.Sprint(p + 1))
				plan := d.m.plan()
				rows := []int{plan.Footer.Y}
				if !plan.Strip.Empty() {
					rows = append(rows, plan.Strip.Y)
				}
				for _, r := range plan.Panes {
					rows = append(rows, r.Y)
				}
				for _, r := range plan.Collapsed {
					rows = append(rows, r.Y)
				}
				slices.Sort(rows)
				screen := strings.Split(d.screen(), "\n")
				var lines []string
				for _, y := range slices.Compact(rows) {
					lines = append(lines, screen[y])
				}
				files.add("borders", fmt.Sprintf("%s-%dx%d, %s", b.name, size[0], size[1], benchPanes[p].name), d.flush(lines, size[0], size[1]))
			}
		}
	}
	files.compare(t, dir)
}

// With ASCII glyphs every sign the program itself writes is ASCII, by default on every
// eighth screen.
func TestASCIIScreensAreASCII(t *testing.T) {
	for n, s := range shots() {
		if !inturn.Try(t, n, 8) {
			continue
		}
		s.ascii = true
		t.Run(s.title(), func(t *testing.T) {
			for i, line := range strings.Split(s.take(t).screen(), "\n") {
				for _, r := range line {
					require.Less(t, r, rune(0x7f), "line %d: %s", i, line)
				}
			}
		})
	}
}
