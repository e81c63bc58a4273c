package project

import (
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

// A build of which only the changed values were read again is the one that the
// whole text gives, and so are the problems; the builds before stay as they were.
func TestChangedValuesAreReadAlone(t *testing.T) {
	var starts []*File
	for _, path := range []string{"starter/demo.toml", "starter/starter.toml", "../../testdata/example.toml"} {
		f, err := Load(path)
		require.NoError(t, err)
		starts = append(starts, f)
	}
	starts = append(starts, parse(t, "format = 3\n[powertrain]\nlayout = \"transaxle\"\n[line.front]\ntoward = \"front\"\n[[line.front.joint]]\n[[line.front.joint]]\n"+
		"[[reading]]\nof = \"powertrain\"\nlower = \"left\"\nshown = 1\n[[reading]]\nof = \"line.front.first\"\naside = \"3 mm right\"\nover = 500\n"+
		"[[job]]\nid = \"a\"\nfrom = \"weld-in\"\n[[job]]\nid = \"b\"\ntitle = \"Weld it\"\nneeds = [\"a\"]\nhold = [\"x\"]\n"))
	literals := []string{"1", "-3.5", "0", "true", "false", "2026-01-02", `"x"`, `""`, `"412 mm"`, `"4 deg"`, `"2 deg down to the rear"`, `"3 mm right"`, `"left"`,
		`"transaxle"`, `"fixed"`, `"weld it"`, `"weld-in"`, `"a"`, `"line.rear.pinion"`, `"powertrain"`, `"unit-body"`}
	alone := 0
	rapid.Check(t, func(rt *rapid.T) {
		f := rapid.SampledFrom(starts).Draw(rt, "start")
		for range rapid.IntRange(1, 4).Draw(rt, "steps") {
			doc := f.doc
			for range rapid.IntRange(1, 3).Draw(rt, "values") {
				all := single(doc.Root())
				n := all[rapid.IntRange(0, len(all)-1).Draw(rt, "value")]
				lit := rapid.SampledFrom(literals).Draw(rt, "literal")
				if rapid.Bool().Draw(rt, "another's") {
					lit = all[rapid.IntRange(0, len(all)-1).Draw(rt, "whose")].Raw
				}
				if rapid.Bool().Draw(rt, "its like") && n.Parent() != nil {
					lit = rapid.SampledFrom(single(n.Parent())).Draw(rt, "beside").Raw
				}
				next, err := doc.Set(n.Path, lit)
				require.NoError(rt, err)
				doc = next
			}
			if changed, ok := tomltext.Changed(f.doc, doc, maxAgain); ok && len(changed) > 0 {
				alone++
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
		}
	})
	require.Positive(t, alone)
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
