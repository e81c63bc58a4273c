package edit

import (
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"fitup/internal/inturn"
	"fitup/internal/project"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// dressed are the build files of the tree in every dress a text can have.
func dressed(t require.TestingT) map[string][]byte {
	out := map[string][]byte{}
	for _, path := range []string{"../starter/demo.toml", "../starter/starter.toml", "../../../testdata/example.toml"} {
		src, err := os.ReadFile(path)
		require.NoError(t, err)
		name, text := filepath.Base(path), string(src)
		crlf := strings.ReplaceAll(text, "\n", "\r\n")
		out[name], out[name+" crlf"], out[name+" bom"] = src, []byte(crlf), []byte("\xef\xbb\xbf"+text)
		out[name+" bom crlf"] = []byte("\xef\xbb\xbf" + crlf)
		out[name+" open end"] = []byte(strings.TrimRight(text, "\n"))
		out[name+" tabs"] = []byte(strings.ReplaceAll(text, " = ", "\t=\t"))
	}
	return out
}

// lineChanges counts what an edit did to the lines: those taken out and those
// put in, the same ones at both ends aside.
func lineChanges(a, b []byte) (out, in []string) {
	x, y := strings.SplitAfter(string(a), "\n"), strings.SplitAfter(string(b), "\n")
	for len(x) > 0 && len(y) > 0 && x[0] == y[0] {
		x, y = x[1:], y[1:]
	}
	for len(x) > 0 && len(y) > 0 && x[len(x)-1] == y[len(y)-1] {
		x, y = x[:len(x)-1], y[:len(y)-1]
	}
	return x, y
}

func wholeCRLF(text []byte) bool {
	return strings.Count(string(text), "\n") == strings.Count(string(text), "\r\n")
}

// Only what is changed changes, whatever the dress: a value is one line, an
// entry its own lines, and line ends and the mark at the top stay. Each value is changed
// in the file as it stands, and in one of its other dresses.
func TestOnlyWhatChangesChanges(t *testing.T) {
	dresses := slices.Sorted(maps.Keys(dressed(t)))
	day := time.Date(2026, 5, 14, 0, 0, 0, 0, time.UTC)
	for name, src := range dressed(t) {
		t.Run(name, func(t *testing.T) {
			f, err := project.Parse("b.toml", src)
			require.NoError(t, err)
			require.Equal(t, src, f.Bytes())
			same := func(g *project.File) {
				assert.Equal(t, strings.HasPrefix(string(src), "\xef\xbb\xbf"), strings.HasPrefix(string(g.Bytes()), "\xef\xbb\xbf"))
				if strings.Contains(name, "crlf") {
					assert.True(t, wholeCRLF(g.Bytes()), "CRLF stays CRLF")
				} else {
					assert.NotContains(t, string(g.Bytes()), "\r")
				}
				assert.Equal(t, strings.HasSuffix(string(src), "\n"), strings.HasSuffix(string(g.Bytes()), "\n"))
			}
			changed := 0
			dress := slices.Index(dresses, name)
			for i, path := range f.Paths() {
				if strings.Contains(name, " ") && !inturn.Try(t, i+dress, 12) {
					continue
				}
				at := f.Resolve(path)
				k, isNumber := project.KindAt(at)
				raw, has := f.Raw(at)
				if !isNumber || !has {
					continue
				}
				e, err := SetValue(f, at, 0.0123)
				require.NoError(t, err, path)
				g, err := Apply(f, e)
				if err != nil {
					continue // not every value may be as small as that
				}
				changed++
				out, in := lineChanges(f.Bytes(), g.Bytes())
				require.Len(t, in, 1, "%s (%s %s)", path, k, raw)
				require.Len(t, out, 1)
				_, was, _ := strings.Cut(out[0], "#")
				_, is, _ := strings.Cut(in[0], "#")
				assert.Equal(t, was, is, "the comment stays")
				same(g)
			}
			if !strings.HasPrefix(name, "starter") {
				assert.Greater(t, changed, 2)
			}

			target := f.Build.Targets()[0]
			e, err := AddReading(f, TypedReading{Of: target, On: project.SquareFace, Shown: "85 deg", Lower: project.RearEnd}, day)
			require.NoError(t, err)
			g, err := Apply(f, e)
			require.NoError(t, err)
			out, in := lineChanges(f.Bytes(), g.Bytes())
			assert.LessOrEqual(t, len(out), 1, "only a text without a line end at its end loses its last line to a longer one")
			assert.LessOrEqual(t, len(in), 9)
			same(g)
			h, err := Apply(g, Edit{Op: OpRemove, Path: "reading[" + itoa(len(f.Build.Readings)) + "]"})
			require.NoError(t, err)
			assert.Equal(t, f.Build, h.Build)
			same(h)

			if len(f.Build.Lines) > 0 {
				edits, err := Rename(f, "line."+f.Build.Lines[0].Name, "other")
				require.NoError(t, err)
				g, err := Apply(f, edits...)
				require.NoError(t, err)
				same(g)
				assert.Equal(t, strings.Count(string(src), "\n"), strings.Count(string(g.Bytes()), "\n"))
			}
		})
	}
}

func itoa(n int) string { return string(rune('0' + n)) }

// Any run of edits that is undone whole gives the first bytes, in any dress.
func TestUndoGivesTheBytesBackInAnyDress(t *testing.T) {
	all := dressed(t)
	rapid.Check(t, func(t *rapid.T) {
		name := rapid.SampledFrom([]string{"demo.toml crlf", "demo.toml bom", "example.toml bom crlf", "example.toml tabs", "demo.toml open end"}).Draw(t, "file")
		f, err := project.Parse("b.toml", all[name])
		require.NoError(t, err)
		h := NewHistory(f)
		for range rapid.IntRange(1, 6).Draw(t, "steps") {
			f := h.Now()
			var e Edit
			switch n := len(f.Build.Readings); rapid.IntRange(0, 2).Draw(t, "what") {
			case 0:
				e, err = AddReading(f, TypedReading{Of: "powertrain", On: project.Along, Shown: "3 deg"}, time.Time{})
			case 1:
				if n == 0 {
					continue
				}
				e = Edit{Op: OpRemove, Path: "reading[" + itoa(rapid.IntRange(0, min(n, 9)-1).Draw(t, "which")) + "]"}
			default:
				e, err = SetValue(f, "placement.setback", float64(rapid.IntRange(-900, 900).Draw(t, "mm")))
			}
			require.NoError(t, err)
			require.NoError(t, h.Do("step", e))
		}
		for {
			if _, ok := h.Undo(); !ok {
				break
			}
		}
		require.Equal(t, string(all[name]), string(h.Now().Bytes()))
	})
}
