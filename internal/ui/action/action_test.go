package action

import (
	"strings"
	"testing"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func sample() []Action {
	return []Action{
		{ID: "quit", Scope: Everywhere, Keys: []string{"q"}, Label: "quit", Help: "Leave the program.", Footer: true},
		{ID: "pane.next", Scope: Everywhere, Keys: []string{"tab"}, Label: "next pane", Help: "Move the focus on.", Footer: true, Fixed: true},
		{ID: "nudge.up", Scope: "mounts", Keys: []string{"up", "k"}, Label: "nudge up", Help: "Raise the powertrain by one step.", Footer: true},
		{ID: "nudge.down", Scope: "mounts", Keys: []string{"down", "j"}, Label: "nudge down", Help: "Lower the powertrain by one step."},
		{ID: "job.tick", Scope: "jobs", Keys: []string{"space", "x"}, Label: "tick", Help: "Mark the step as done.", Footer: true},
		{ID: "job.split", Scope: "jobs", Keys: []string{"|", "`"}, Label: "split", Help: "Cut a | step in two."},
		{ID: "book.write", Scope: Everywhere, Label: "write book", Help: "Write the build book.", Footer: true},
	}
}

func table(t *testing.T) *Table {
	t.Helper()
	tab, err := New(sample())
	require.NoError(t, err)
	return tab
}

func ids(actions []Action) []ID {
	var out []ID
	for _, a := range actions {
		out = append(out, a.ID)
	}
	return out
}

func TestLookup(t *testing.T) {
	tab := table(t)
	for _, c := range []struct {
		scope Scope
		key   string
		want  ID
		ok    bool
	}{
		{"mounts", "k", "nudge.up", true},
		{"mounts", "q", "quit", true},
		{"jobs", " ", "job.tick", true},
		{"jobs", "k", "", false},
		{"no such place", "tab", "pane.next", true},
		{Everywhere, "k", "", false},
		{"mounts", "", "", false},
	} {
		got, ok := tab.Lookup(c.scope, c.key)
		require.Equal(t, c.want, got)
		require.Equal(t, c.ok, ok)
	}
}

func TestNewRefuses(t *testing.T) {
	for name, c := range map[string]struct {
		change func(a []Action) []Action
		wants  []string
	}{
		"no id":      {func(a []Action) []Action { a[0].ID = ""; return a }, []string{"no id"}},
		"no scope":   {func(a []Action) []Action { a[0].Scope = ""; return a }, []string{`"quit"`, "no scope"}},
		"no label":   {func(a []Action) []Action { a[0].Label = ""; return a }, []string{`"quit"`, "no label"}},
		"same id":    {func(a []Action) []Action { a[1].ID = "quit"; return a }, []string{`"quit"`, "twice"}},
		"bad key":    {func(a []Action) []Action { a[0].Keys = []string{"pgdwn"}; return a }, []string{`"pgdwn"`, `"pgdn"`}},
		"same scope": {func(a []Action) []Action { a[3].Keys = []string{"k"}; return a }, []string{`"k"`, `"nudge.up"`, `"nudge.down"`}},
		"everywhere first": {func(a []Action) []Action { a[4].Keys = []string{"q"}; return a },
			[]string{`"q"`, `"quit"`, `"job.tick"`}},
		"everywhere last": {func(a []Action) []Action { a[6].Keys = []string{"space"}; return a },
			[]string{`"space"`, `"book.write"`, `"job.tick"`}},
	} {
		tab, err := New(c.change(sample()))
		require.Error(t, err, name)
		require.Nil(t, tab, name)
		for _, w := range c.wants {
			require.ErrorContains(t, err, w, name)
		}
	}
}

func TestSameKeyInTwoPanesIsFine(t *testing.T) {
	a := sample()
	a[4].Keys = []string{"k"}
	_, err := New(a)
	require.NoError(t, err)
}

func TestRebind(t *testing.T) {
	tab := table(t)
	n, err := tab.Rebind(map[ID][]string{"nudge.up": {"w", "PageUp"}, "quit": {"ctrl+q"}, "job.split": {}})
	require.NoError(t, err)
	up, ok := n.Get("nudge.up")
	require.True(t, ok)
	require.Equal(t, []string{"up", "w", "pgup"}, up.Keys, "the arrow stays")
	_, ok = n.Lookup("mounts", "k")
	require.False(t, ok)
	id, ok := n.Lookup("jobs", "ctrl+q")
	require.True(t, ok)
	require.Equal(t, ID("quit"), id)
	split, _ := n.Get("job.split")
	require.Empty(t, split.Keys)

	id, _ = tab.Lookup("mounts", "k")
	require.Equal(t, ID("nudge.up"), id, "the old table is untouched")

	swapped, err := tab.Rebind(map[ID][]string{"nudge.up": {"j"}, "nudge.down": {"k"}})
	require.NoError(t, err)
	id, _ = swapped.Lookup("mounts", "j")
	require.Equal(t, ID("nudge.up"), id)
}

func TestRebindRefuses(t *testing.T) {
	for name, c := range map[string]struct {
		keys  map[ID][]string
		wants []string
	}{
		"unknown, close": {map[ID][]string{"nudge.upp": {"w"}}, []string{`"nudge.upp"`, `did you mean "nudge.up"`}},
		"unknown, far":   {map[ID][]string{"zzz": {"w"}}, []string{`"zzz"`, "help"}},
		"fixed":          {map[ID][]string{"pane.next": {"w"}}, []string{`"pane.next"`, "fixed", "tab"}},
		"arrow":          {map[ID][]string{"quit": {"up"}}, []string{`"quit"`, `"up"`, "arrow"}},
		"another arrow":  {map[ID][]string{"nudge.up": {"left"}}, []string{`"nudge.up"`, `"left"`, "arrow"}},
		"conflict":       {map[ID][]string{"quit": {"x"}}, []string{`"x"`, `"quit"`, `"job.tick"`}},
		"no such key":    {map[ID][]string{"quit": {"ctrl+i"}}, []string{`"quit"`, "tab"}},
	} {
		tab, err := table(t).Rebind(c.keys)
		require.Error(t, err, name)
		require.Nil(t, tab, name)
		for _, w := range c.wants {
			require.ErrorContains(t, err, w, name)
		}
	}
}

func TestParseKey(t *testing.T) {
	for in, want := range map[string]string{
		"k": "k", "J": "J", "ß": "ß", " ": " ", "Space": " ", "Ctrl+S": "ctrl+s", "Escape": "esc",
		"return": "enter", "Page Down": "pgdown", "F5": "f5", "shift+j": "J", "Shift+Tab": "shift+tab",
		"alt+J": "alt+J", "alt+space": "alt+ ", "Alt+Up": "alt+up", "del": "delete", "+": "+",
	} {
		got, err := ParseKey(in)
		require.NoError(t, err, in)
		require.Equal(t, want, got, in)
	}
	for _, in := range []string{"", "ctrl+i", "ctrl+m", "ctrl+[", "shift+1", "runes", "f99", "kk", "\x1b", "alt+", "hyper+x"} {
		_, err := ParseKey(in)
		require.Error(t, err, "%q", in)
	}
}

// Names are those the screen library reports, so that what is parsed can match.
func TestKeysMatchTheScreenLibrary(t *testing.T) {
	for _, msg := range []tea.KeyMsg{
		{Type: tea.KeyUp}, {Type: tea.KeyCtrlS}, {Type: tea.KeyShiftTab}, {Type: tea.KeyPgDown}, {Type: tea.KeyEsc},
		{Type: tea.KeySpace, Runes: []rune{' '}}, {Type: tea.KeyRunes, Runes: []rune{'J'}},
		{Type: tea.KeyRunes, Runes: []rune{'n'}, Alt: true}, {Type: tea.KeyF12}, {Type: tea.KeyBackspace},
	} {
		got, err := ParseKey(msg.String())
		require.NoError(t, err)
		require.Equal(t, msg.String(), got)
	}
}

func TestParseKeyIsStable(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.OneOf(rapid.String(), rapid.SampledFrom(namedKeys()),
			rapid.Map(rapid.String(), func(s string) string { return "alt+" + s })).Draw(t, "key")
		once, err := ParseKey(s)
		if err != nil {
			return
		}
		twice, err := ParseKey(once)
		require.NoError(t, err)
		require.Equal(t, once, twice)
	})
}

// However keys are dealt out, either the table refuses or no key has two meanings.
func TestNoKeyHasTwoMeanings(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		scopes := rapid.SampledFrom([]Scope{Everywhere, "a", "b"})
		keys := rapid.SliceOfN(rapid.SampledFrom([]string{"x", "y", "z", "up", "f1", "f2"}), 0, 2)
		var actions []Action
		for i := range rapid.IntRange(1, 5).Draw(t, "n") {
			actions = append(actions, Action{ID: ID(rune('A' + i)), Scope: scopes.Draw(t, "scope"), Keys: keys.Draw(t, "keys"), Label: "l"})
		}
		clash := false
		for i, a := range actions {
			for _, b := range actions[:i] {
				for _, k := range a.Keys {
					if strings.Contains(" "+strings.Join(b.Keys, " ")+" ", " "+k+" ") &&
						(a.Scope == b.Scope || a.Scope == Everywhere || b.Scope == Everywhere) {
						clash = true
					}
				}
			}
		}
		tab, err := New(actions)
		require.Equal(t, clash, err != nil)
		if err != nil {
			return
		}
		for _, a := range actions {
			for _, k := range a.Keys {
				id, ok := tab.Lookup(a.Scope, k)
				require.True(t, ok)
				require.Equal(t, a.ID, id)
			}
		}
	})
}

func TestViewsOfTheTable(t *testing.T) {
	tab := table(t)
	require.Equal(t, []ID{"nudge.up", "nudge.down", "quit", "pane.next", "book.write"}, ids(tab.ForScope("mounts")))
	require.Equal(t, []ID{"quit", "pane.next", "book.write"}, ids(tab.ForScope(Everywhere)))
	require.Equal(t, []ID{"nudge.up", "quit", "pane.next"}, ids(tab.Footer("mounts")), "no key, no place in the footer")
	require.Len(t, tab.All(), 7)
	require.Equal(t, []Scope{Everywhere, "mounts", "jobs"}, tab.Scopes())

	tick, ok := tab.Get("job.tick")
	require.True(t, ok)
	require.Equal(t, "space, x", tick.KeyText())
	tick.Keys[0] = "spoilt"
	again, _ := tab.Get("job.tick")
	require.Equal(t, " ", again.Keys[0])
	_, ok = tab.Get("nothing")
	require.False(t, ok)
}

func TestBindings(t *testing.T) {
	all := table(t).Bindings("mounts")
	require.Len(t, all, 5)
	require.True(t, key.Matches(tea.KeyMsg{Type: tea.KeyUp}, all[0]))
	require.Equal(t, "nudge up", all[0].Help().Desc)
	require.False(t, all[4].Enabled(), "no key, no binding")
}

func TestMarkdown(t *testing.T) {
	require.Equal(t, strings.Join([]string{
		"| Where | Key | Name | What it does |",
		"|---|---|---|---|",
		"| everywhere | `q` | quit | Leave the program. |",
		"| everywhere | `tab` | next pane | Move the focus on. |",
		"| everywhere |  | write book | Write the build book. |",
		"| mounts | `up` `k` | nudge up | Raise the powertrain by one step. |",
		"| mounts | `down` `j` | nudge down | Lower the powertrain by one step. |",
		"| jobs | `space` `x` | tick | Mark the step as done. |",
		"| jobs | `\\|` `` ` `` | split | Cut a \\| step in two. |",
		"",
	}, "\n"), table(t).Markdown())
}
