package ui

import (
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"fitup/internal/project/starter"
	"fitup/internal/ui/theme"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// crash ends the program without a word and begins it again on what is left. A second
// after the last key the journal has what was typed.
func (d *driver) crash(t *testing.T) *driver {
	t.Helper()
	d.send(draftMsg{})
	return driveFile(t, d.path, d.m.width, d.m.height)
}

// takeBack takes unsaved work back in, where that is asked.
func (d *driver) takeBack() *driver {
	if len(d.m.dialogs) == 1 && strings.Contains(d.screen(), "Unsaved work was found") {
		d.keys("t")
	}
	return d
}

// In every form of the bench what is typed stands there again after a crash: the text,
// the place of the cursor, and what was chosen beside it.
func TestWhatIsTypedStandsThereAgainAfterACrash(t *testing.T) {
	held := strings.Replace(string(starter.Demo()), "tyre_diameter = 740", "tyre_diameter = 740\ndriven_km = 60", 1)
	for name, c := range map[string]struct {
		src  string
		keys []string
		on   string // what the screen shows
	}{
		"a row of the placement":           {"", []string{"2", "enter", "text:412", "left"}, "left front mount, now"},
		"a value of the file":              {"", []string{"d", "right", "down", "enter", "text: and more", "left", "left"}, "typed before the stop, not taken"},
		"a reading":                        {"", []string{"n", "text:85.6", "down", "right", "down", "right"}, "85.6"},
		"a reading by tape":                {"", []string{"n", "up", "right", "down", "text:14", "down", "right", "down", "text:1000"}, "1000"},
		"a measurement":                    {"", []string{"5", "m", "text:diagonal, left to right", "down", "right", "down", "text:pads", "down", "text:90.1"}, "diagonal"},
		"a job":                            {"", []string{"5", "a", "text:Look at the loom"}, "Look at the loom"},
		"the name of a copy":               {"", []string{"s", "S", "text:second.toml"}, "second.toml"},
		"a shake":                          {"", []string{"5", "V", "text:90", "down", "text:2600"}, "2600"},
		"why a weld is made":               {held, []string{"5", "page:fasteners", "down", "down", "down", "down", "down", "space", "space", "text:the mock-up stays"}, "the mock-up stays"},
		"a round, with a value that waits": {"", []string{"B", "type:85.6", "enter"}, "Which end is lower?"},
		"a round, with a value":            {"", []string{"B", "down", "type:2.", "tab", "type:412.5"}, "412.5"},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			if c.src == "" {
				c.src = string(starter.Demo())
			}
			d := drive(t, []byte(c.src), 100, 40).keys(c.keys...)
			want := d.m.drafted()
			require.NotEmpty(t, want, d.screen())
			again := d.crash(t).takeBack()
			assert.Equal(t, want, again.m.drafted())
			assert.Contains(t, again.screen(), c.on)
			assert.Contains(t, again.m.message.text, "Typed before the stop, not taken")
			assert.Equal(t, len(d.m.dialogs), len(again.m.dialogs))
			// And after one more, with no key between.
			assert.Equal(t, want, again.crash(t).takeBack().m.drafted())
		})
	}
}

// Keys in quick succession are one write; what is taken is out of the journal with the
// edit that took it.
func TestNotEveryKeyIsAWrite(t *testing.T) {
	t.Parallel()
	writes := 0
	gate := func(step, name string) error {
		if strings.Contains(step, "write") || strings.Contains(step, "rename") {
			writes++
		}
		return nil
	}
	path := filepath.Join(t.TempDir(), "build.toml")
	require.NoError(t, os.WriteFile(path, starter.Demo(), 0o644))
	d := driveOn(t, path, 120, 36, "plain", theme.Unicode(), gate)
	asked := 0
	d.m.disk.after = func(_ time.Duration, msg tea.Msg) tea.Cmd {
		if _, ok := msg.(draftMsg); ok {
			asked++
		}
		return nil
	}
	d.keys("d", "right", "down", "enter", "text:, of twelve signs")
	assert.Equal(t, 1, asked, "one wait is under way")
	assert.Zero(t, writes)
	d.send(draftMsg{})
	first := writes
	assert.NotZero(t, first)
	d.keys("text:x")
	assert.Equal(t, 2, asked, "the next key begins the next wait")
	assert.Equal(t, first, writes)
	d.keys("enter")
	assert.Contains(t, d.bytes(), "of twelve signsx")
	again := driveFile(t, d.path, 120, 36)
	require.Contains(t, again.screen(), "1 edit from")
	again.keys("t")
	assert.Empty(t, again.m.drafted(), "it was taken")
	assert.NotContains(t, again.m.message.text, "Typed before")
}

// Who is ended from outside has dropped nothing; who leaves by a key has.
func TestAWayOutAndWhatIsTyped(t *testing.T) {
	d := demo(t, 100, 40).keys("B", "type:85.6")
	d.send(hangupMsg{})
	require.True(t, d.quit)
	again := driveFile(t, d.path, 100, 40)
	require.Len(t, again.m.drafted(), 1, "at once, without a second")
	assert.Equal(t, "85.6", again.m.round.list().field.Text())
	again.keys("esc", "esc", "q")
	require.True(t, again.quit)
	assert.Empty(t, driveFile(t, d.path, 100, 40).m.dialogs)
	_, err := os.Stat(filepath.Join(filepath.Dir(d.path), ".build.toml.fitup"))
	assert.ErrorIs(t, err, os.ErrNotExist, "nothing is left beside the file")

	// Ended without a message to the model, as by SIGTERM.
	d = demo(t, 100, 40).keys("2", "enter", "text:412")
	require.NoError(t, d.m.finish(os.Stderr))
	assert.Len(t, driveFile(t, d.path, 100, 40).m.drafted(), 1)
}

// Unsaved work is asked about first; whatever the answer, what was typed comes then.
func TestUnsavedWorkAndWhatWasTyped(t *testing.T) {
	t.Parallel()
	for _, answer := range []string{"t", "d"} {
		d := demo(t, 100, 40).keys("2", "right", "enter", "text:412")
		again := d.crash(t)
		require.Contains(t, again.screen(), "1 edit from")
		assert.Contains(t, driveFile(t, d.path, 100, 40).keys("q").path, "build", "it is offered again")
		again = driveFile(t, d.path, 100, 40)
		require.Contains(t, again.screen(), "1 edit from")
		again.keys(answer)
		assert.Contains(t, again.screen(), "> 412")
		assert.Len(t, again.crash(t).m.typed.sent, len(again.m.typedText()))
	}
}

// What was typed for something that is gone is shown, and can be read.
func TestWhatWasTypedForSomethingThatIsGone(t *testing.T) {
	t.Parallel()
	two := "format = 3\n[[fastener]]\nname = \"rear\"\n[[fastener]]\nname = \"front\"\n"
	d := drive(t, []byte(two), 100, 40).keys("d")
	require.True(t, d.m.data.Go("fastener[1].name"))
	d.keys("enter", "text: of the crossmember")
	d.send(draftMsg{})
	require.NoError(t, os.WriteFile(d.path, []byte("format = 3\n"), 0o644))
	again := driveFile(t, d.path, 100, 40)
	assert.Contains(t, again.screen(), "is not there any more")
	assert.Contains(t, again.screen(), "value fastener[1].name: front of the crossmember")
	again.keys("enter", "q")
	require.True(t, again.quit)
	assert.Empty(t, driveFile(t, d.path, 100, 40).m.dialogs)
}

// A value that waits on the data page for what goes with it survives too.
func TestAValueThatCannotStandAloneSurvivesACrash(t *testing.T) {
	t.Parallel()
	d := drive(t, []byte("format = 3\n"), 100, 40).keys("d")
	d.m.data.drafts = nil
	require.True(t, d.m.data.Go("stock[0].length"))
	d.keys("enter", "text:6000", "enter")
	if len(d.m.data.drafts) == 0 {
		require.True(t, d.m.data.Go("reading[0].shown"))
		d.keys("enter", "text:85.6", "enter")
	}
	require.NotEmpty(t, d.m.data.drafts, d.screen())
	again := d.crash(t)
	assert.Equal(t, d.m.data.drafts, again.m.data.drafts)
	assert.Contains(t, again.m.message.text, "Typed before the stop")
}

// Every form of the bench with something to type says what it is, but for what a word
// beside it says is no loss.
func TestEveryFormIsInTheJournal(t *testing.T) {
	t.Parallel()
	noLoss := map[string]string{"searchBox": "a search is no value", "roundList": "the round speaks for it"}
	files, err := filepath.Glob("*.go")
	require.NoError(t, err)
	with, says := map[string]bool{}, map[string]bool{"dataPage": true}
	for _, name := range files {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		f, err := parser.ParseFile(token.NewFileSet(), name, nil, 0)
		require.NoError(t, err)
		ast.Inspect(f, func(n ast.Node) bool {
			switch n := n.(type) {
			case *ast.TypeSpec:
				st, ok := n.Type.(*ast.StructType)
				if !ok {
					return true
				}
				for _, fld := range st.Fields.List {
					typ := fld.Type
					if a, ok := typ.(*ast.ArrayType); ok {
						typ = a.Elt
					}
					if sel, ok := typ.(*ast.SelectorExpr); ok && sel.Sel.Name == "Model" {
						if x, ok := sel.X.(*ast.Ident); ok && x.Name == "field" {
							with[n.Name.Name] = true
						}
					}
				}
			case *ast.FuncDecl:
				if n.Recv != nil && n.Name.Name == "draft" {
					if star, ok := n.Recv.List[0].Type.(*ast.StarExpr); ok {
						says[star.X.(*ast.Ident).Name] = true
					}
				}
			}
			return true
		})
	}
	require.Greater(t, len(with), 5)
	var silent []string
	for name := range with {
		if !says[name] && noLoss[name] == "" {
			silent = append(silent, name)
		}
	}
	slices.Sort(silent)
	assert.Empty(t, silent, "forms of which the journal knows nothing")
}
