package ui

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"fitup/internal/assess/finding"
	"fitup/internal/inturn"
	"fitup/internal/project"
	"fitup/internal/project/grown"
	"fitup/internal/project/sheet"
	"fitup/internal/project/starter"
	"fitup/internal/ui/action"
	"fitup/internal/ui/pane"
	"fitup/internal/ui/search"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// listed are what a search shows for a query, the first n.
func (d *driver) listed(query string, n int) []string {
	d.t.Helper()
	d.keys("/", "text:"+query)
	s, ok := d.m.dialogs[len(d.m.dialogs)-1].(*searchBox)
	require.True(d.t, ok)
	var out []string
	for _, h := range s.hits[:min(n, len(s.hits))] {
		out = append(out, s.all[h.At].id())
	}
	d.keys("esc")
	return out
}

func TestSearchFindsByWords(t *testing.T) {
	t.Parallel()
	d := demo(t, 120, 36)
	assert.Contains(t, d.listed("mass", 5), "value powertrain.mass")
	assert.Equal(t, []string{"value placement.left_front", "value placement.right_front", "value placement.rear"}, d.listed("height mount", 5)[2:])
	assert.Equal(t, "value line.rear.shaft[0].outside", d.listed("line.rear.shaft.1.outside", 1)[0])
	assert.Equal(t, []string{"action edit.undo"}, d.listed("undo", 1))
	assert.Contains(t, d.listed("weld mounts", 5), "job weld-mounts")
	assert.Contains(t, d.listed("mount rear", 9), "part mount.rear")
	s := newSearch(d.m)
	for _, f := range inturn.Kinds(t, d.m.now.Findings, 8, func(f finding.Finding) string { return string(f.By) }) {
		at := slices.IndexFunc(s.all, func(x sought) bool { return x.id() == "finding "+f.ID })
		require.GreaterOrEqual(t, at, 0)
		assert.True(t, hasHit(s.index.Find(f.ID, nil), at), f.ID)
		assert.True(t, hasHit(s.index.Find(f.Title, nil)[:1], at), f.Title)
	}
}

// Every value that the file can hold is found by its path, also in a file that has begun
// none of it, and Enter stands on its row and changes nothing. By default every sixth
// value of the starter is looked for, and fewer of the demo.
func TestSearchReachesEveryValue(t *testing.T) {
	t.Parallel()
	for name, text := range map[string][]byte{"demo": starter.Demo(), "starter": starter.New()} {
		d := drive(t, text, 100, 30)
		s := newSearch(d.m)
		at := map[string]int{}
		for i, x := range s.all {
			if x.kind == aValue {
				at[x.path] = i
			}
		}
		n := 0
		for _, sec := range sheet.Of(d.m.sess.Now()).Sections {
			for nth, r := range sec.Rows {
				i, ok := at[r.Path]
				require.True(t, ok, "%s: %s is not in the search", name, r.Path)
				if n++; !inturn.Try(t, nth, map[string]int{"demo": 24, "starter": 6}[name]) {
					continue
				}
				hits := s.index.Find(r.Label+" "+sec.Title, nil)
				require.True(t, hasHit(hits, i), "%s: %s is not found by %q", name, r.Path, r.Label+" "+sec.Title)
				d.m.goTo(s.all[i])
				_, row, on := d.m.data.Here()
				require.True(t, on && row.Path == r.Path, "%s: %s", name, r.Path)
			}
		}
		require.Greater(t, n, 500)
		same(t, string(text), d.bytes())
	}
}

func TestSearchGoesThere(t *testing.T) {
	t.Parallel()
	d := demo(t, 120, 36).keys(":", "text:powertrain mass", "enter")
	require.True(t, d.m.dataOnTop())
	_, r, _ := d.m.data.Here()
	assert.Equal(t, "powertrain.mass", r.Path)
	d.keys("/", "text:undo", "esc", "/", "text:"+d.m.now.Jobs[9].Title, "enter")
	assert.Empty(t, d.m.dialogs, "from the data page too")
	assert.Equal(t, paneWith(scopeJobs), d.m.focus)
	assert.Equal(t, 9, d.m.jobs().Job(d.m.now))

	last := worstFirst(d.m.now)[len(d.m.now.Findings)/2]
	d.keys("/", "text:"+last.ID, "enter")
	_, ok := d.m.dialogs[0].(*findings)
	require.True(t, ok)
	assert.Contains(t, d.screen(), "▸ "+project.Printable(last.Title))
	same(t, string(starter.Demo()), d.bytes())
}

// Every page of every pane is found by its name, and Enter turns to it.
func TestSearchTurnsToPages(t *testing.T) {
	t.Parallel()
	for _, p := range []struct{ scope, page string }{{"mounts", "loads"}, {"driveline", "travel"}, {"jobs", "fasteners"}, {"mounts", "placement"}} {
		d := demo(t, 120, 36).keys("1")
		s := newSearch(d.m)
		at := slices.IndexFunc(s.all, func(x sought) bool { return x.kind == aPage && x.entry.Name == p.page })
		require.GreaterOrEqual(t, at, 0, p.page)
		require.True(t, hasHit(s.index.Find(p.page+" page", nil), at), p.page)
		d.m.goTo(s.all[at])
		assert.Empty(t, d.m.dialogs)
		assert.Equal(t, p.scope, string(scopeOf(d.m.focus)))
		assert.Equal(t, p.page, d.m.panes[d.m.focus].(pane.Paged).Leaf())
		same(t, string(starter.Demo()), d.bytes())
	}
}

// What was chosen lately comes first while nothing is typed.
func TestSearchRemembers(t *testing.T) {
	t.Parallel()
	d := demo(t, 120, 36).keys("/", "text:help", "enter", "esc", "/", "text:powertrain mass", "enter", "esc")
	assert.Equal(t, []string{"value powertrain.mass", "action bench.help"}, d.listed("", 2))
	for i := range 30 {
		d.m.remember(strings.Repeat("x", i))
	}
	assert.Len(t, d.m.recent, mostRecent)
}

// What an action that changes the build is about to do stands below the list; it is not
// run where only its description or scattered letters lead to it.
func TestSearchShowsWhatItWillDo(t *testing.T) {
	t.Parallel()
	d := demo(t, 120, 36).keys("down", "down", "/", "text:one step more")
	before := d.m.mounts().Row(d.m.view(d.m.focus))
	assert.Contains(t, d.screen(), "Now: rear mount "+d.m.view(d.m.focus).Number(before.Kind, before.Now, 1))
	d.keys("esc", "/", "text:right or rearward", "enter")
	require.Len(t, d.m.dialogs, 1, "only its description has these words")
	assert.Contains(t, d.screen(), "Only its description has these words")
	same(t, string(starter.Demo()), d.bytes())
	d.keys("y")
	assert.NotEqual(t, string(starter.Demo()), d.bytes())

	job := demo(t, 80, 24).toJob(4).keys("/", "text:tick")
	assert.Contains(t, job.screen(), "Now:")
	assert.Contains(t, job.screen(), job.m.now.Jobs[4].Title[:20])
}

// An action that changes the file without asking is one that is known to.
func TestWhatChangesIsKnown(t *testing.T) {
	t.Parallel()
	all := demo(t, 60, 20).m.actions.All()
	for _, a := range inturn.Kinds(t, all, 4, func(a action.Action) string { return string(a.Scope) }) {
		d := demo(t, 60, 20)
		if a.Scope == scopeData {
			d.keys("d")
			d.m.data.Go("mount.rear.at")
			d.m.performFound(a.ID)
		} else {
			d.m.focus = max(paneWith(a.Scope), firstPane)
			d.m.perform(a.ID)
		}
		if d.bytes() != string(starter.Demo()) {
			assert.True(t, changes(a.ID), a.ID)
		}
	}
}

func TestSearchOnTheDataPage(t *testing.T) {
	t.Parallel()
	d := demo(t, 120, 36).keys("d")
	d.m.data.Go("mount.rear.at")
	require.Equal(t, "action data.copy", d.listed("copy", 1)[0])
	d.keys("/", "text:clear", "enter")
	require.True(t, d.m.dataOnTop())
	assert.NotContains(t, d.bytes(), "at = [858")
	d.keys("/", "text:large figures", "enter")
	require.Len(t, d.m.dialogs, 1)
	_, ok := d.m.dialogs[0].(*page)
	assert.True(t, ok, "what the data page has not is done on the bench")
}

// Only what is on show is drawn, in a list of thousands too, and every row can be
// reached.
func TestSearchInALargeBuild(t *testing.T) {
	t.Parallel()
	path := filepath.Join(t.TempDir(), "large.toml")
	require.NoError(t, os.WriteFile(path, []byte(grown.Large()), 0o644))
	d := driveFile(t, path, 80, 24).keys("/")
	s := d.m.dialogs[0].(*searchBox)
	require.Greater(t, len(s.hits), 8000)
	d.keys("text:outside shaft", "down", "pgdown", "pgdown", "pgup", "up")
	assert.Equal(t, s.page, s.at)
	for range len(s.hits) {
		d.m.key(tea.KeyMsg{Type: tea.KeyDown})
	}
	assert.Equal(t, len(s.hits)-1, s.at)
}

func hasHit(hits []search.Hit, at int) bool {
	return slices.ContainsFunc(hits, func(h search.Hit) bool { return h.At == at })
}

// BenchmarkSearch is one letter more in the search, with its frame, and opening it.
func BenchmarkSearch(b *testing.B) {
	for _, s := range benched {
		b.Run(s.name, func(b *testing.B) {
			m := benchModel(b, s.text, s.w, s.h)
			m.Update(rune1('/'))
			m.Update(rune1('s'))
			keys := []tea.Msg{rune1('h'), tea.KeyMsg{Type: tea.KeyBackspace}}
			for i := 0; b.Loop(); i++ {
				m.Update(keys[i%2])
			}
		})
		b.Run(s.name+"-open", func(b *testing.B) {
			m := benchModel(b, s.text, s.w, s.h)
			keys := []tea.Msg{rune1('/'), tea.KeyMsg{Type: tea.KeyEsc}}
			for i := 0; b.Loop(); i++ {
				m.Update(keys[i%2])
			}
		})
	}
}
