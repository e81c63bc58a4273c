package project

import (
	"strings"
	"testing"

	"fitup/internal/project/joblist"
	"fitup/internal/project/tomltext"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// single lists the single values of a text.
func single(n *tomltext.Node) (out []*tomltext.Node) {
	if n.Kind > tomltext.Array {
		return []*tomltext.Node{n}
	}
	for _, c := range n.Children {
		out = append(out, single(c)...)
	}
	return out
}

// anyEdit changes one thing of a text: mostly a value, else an entry, a key or the
// order of things.
func anyEdit(rt *rapid.T, doc *tomltext.Doc) (*tomltext.Doc, error) {
	literals := []string{"1", "-3.5", "0", "true", "false", "2026-01-02", `"x"`, `""`, `"412 mm"`, `"4 deg"`, `"2 deg down to the rear"`, `"3 mm right"`, `"left"`,
		`"transaxle"`, `"fixed"`, `"weld it"`, `"weld-in"`, `"a"`, `"line.rear.pinion"`, `"powertrain"`, `"unit-body"`,
		`"412 mm ± 1"`, `"4 deg ± 0.2 down to the rear"`, `"tool.tape"`, `"point.rear_hanger"`, `"rails.left.top"`, "[3, 4]"}
	all := single(doc.Root())
	n := all[rapid.IntRange(0, len(all)-1).Draw(rt, "value")]
	list := doc.Root().Child(rapid.SampledFrom([]string{"reading", "job", "weld", "chassis", "fastener", "line", "mount", "placement", "limits", "loads"}).Draw(rt, "list"))
	var in *tomltext.Node
	if list != nil && len(list.Children) > 0 {
		in = list.Children[rapid.IntRange(0, len(list.Children)-1).Draw(rt, "entry")]
	}
	switch op := rapid.IntRange(0, 9).Draw(rt, "op"); {
	case op == 0:
		return doc.Remove(n.Path)
	case op == 1 && in != nil:
		return doc.Remove(in.Path)
	case op == 2 && in != nil:
		return doc.Move(list.Path, rapid.IntRange(0, 3).Draw(rt, "from"), rapid.IntRange(0, 3).Draw(rt, "to"))
	case op == 3 && list != nil && rapid.Bool().Draw(rt, "of the table"):
		return doc.Set(list.Path+"."+rapid.SampledFrom([]string{"joint_max", "bump", "rear"}).Draw(rt, "key"), rapid.SampledFrom([]string{"2", `"2 deg"`, "-1"}).Draw(rt, "new"))
	case op == 3 && in != nil:
		return doc.Set(in.Path+"."+rapid.SampledFrom([]string{"note", "done", "needs", "hold", "finish", "override", "leg.height", "suspension.kind"}).Draw(rt, "key"),
			rapid.SampledFrom([]string{`"x"`, "true", "false", "[]", "30", `"leaf"`}).Draw(rt, "new"))
	case op == 4 && list != nil:
		return doc.Append("job", []tomltext.Pair{{Key: "id", Literal: `"new"`}, {Key: "title", Literal: `"Weld it"`}})
	case op == 5 && list != nil:
		return doc.Append("reading", []tomltext.Pair{{Key: "of", Literal: `"powertrain"`}, {Key: "shown", Literal: "3"}, {Key: "lower", Literal: `"rear"`}})
	case op == 6:
		return doc.Set(n.Path, rapid.SampledFrom(literals).Draw(rt, "literal"))
	case op == 7 && in != nil:
		return doc.Rename(in.Path, "other")
	case op == 8:
		return doc.Set(n.Path, all[rapid.IntRange(0, len(all)-1).Draw(rt, "whose")].Raw)
	}
	beside := single(doc.Find(n.Path[:max(0, strings.LastIndexAny(n.Path, ".["))]))
	return doc.Set(n.Path, beside[rapid.IntRange(0, len(beside)-1).Draw(rt, "beside")].Raw)
}

// A build of which only the changed parts were read again is the one that the
// whole text gives, and so are the problems; the builds before stay as they were.
func TestChangedPartsAreReadAlone(t *testing.T) {
	var starts []*File
	for _, path := range []string{"starter/demo.toml", "starter/starter.toml", "../../testdata/example.toml"} {
		f, err := Load(path)
		require.NoError(t, err)
		starts = append(starts, f)
	}
	starts = append(starts, parse(t, "format = 3\n[limits]\njoint_max = 3\n[loads]\nbump = 2\n[powertrain]\nlayout = \"transaxle\"\n[line.front]\ntoward = \"front\"\n[[line.front.joint]]\n[[line.front.joint]]\n"+
		"[[reading]]\nof = \"powertrain\"\nlower = \"left\"\nshown = 1\n[[reading]]\nof = \"line.front.first\"\naside = \"3 mm right\"\nover = 500\n"+
		"[[job]]\nid = \"a\"\nfrom = \"weld-in\"\n[[job]]\nid = \"b\"\ntitle = \"Weld it\"\nneeds = [\"a\"]\nhold = [\"x\"]\n"))
	edited := 0
	rapid.Check(t, func(rt *rapid.T) {
		f := rapid.SampledFrom(starts).Draw(rt, "start")
		for range rapid.IntRange(1, 4).Draw(rt, "steps") {
			doc := f.doc
			for range rapid.IntRange(1, 3).Draw(rt, "edits") {
				if next, err := anyEdit(rt, doc); err == nil {
					doc = next
				}
			}
			before, err := Parse(f.Name, f.Bytes())
			require.NoError(rt, err)
			want, wantErr := Parse(f.Name, doc.Bytes())
			got, err := f.With(doc)
			require.Equal(rt, before.Build, f.Build, "what was there stays")
			require.Equal(rt, before.said, f.said)
			require.Equal(rt, wantErr, err)
			if err != nil {
				return
			}
			require.Equal(rt, want.said, got.said)
			require.Equal(rt, want.Build, got.Build)
			require.Equal(rt, want.facts, got.facts)
			f = got
			edited++
		}
	})
	require.Greater(t, edited, 5, "most edits make no build")
}

// Two numbers of one point are one value, and wrong once.
func TestAPointIsReadOnce(t *testing.T) {
	f := parse(t, "format = 3\n[powertrain]\noutput = [1, 2, 3]\n")
	doc, err := f.doc.Set("powertrain.output[0]", "true")
	require.NoError(t, err)
	doc, err = doc.Set("powertrain.output[2]", "true")
	require.NoError(t, err)
	_, err = f.With(doc)
	var ps Problems
	require.ErrorAs(t, err, &ps)
	require.Len(t, ps, 1)
}

// What the built-in list adds to a job hangs on the rest of the build too.
func TestJobsFollowTheFacts(t *testing.T) {
	text := "format = 3\n[powertrain]\nlayout = \"longitudinal\"\n[line.rear.suspension]\nkind = \"leaf\"\n"
	for _, id := range joblist.IDs() {
		text += "[[job]]\nid = \"" + id + "\"\nfrom = \"" + id + "\"\n"
	}
	f := parse(t, text)
	doc, err := f.doc.Set("powertrain.layout", `"transaxle"`)
	require.NoError(t, err)
	got, err := f.With(doc)
	require.NoError(t, err)
	want := parse(t, string(doc.Bytes()))
	require.Equal(t, want.Build, got.Build)
	require.NotEqual(t, f.Build.Jobs, got.Build.Jobs)
}
