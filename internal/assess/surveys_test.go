package assess

import (
	"strings"
	"testing"

	"fitup/internal/project"
	"fitup/internal/project/edit"
	"fitup/internal/project/starter"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// An edit that the survey does not rest on leaves it as it was adjusted; one that it
// rests on, in whichever table, adjusts it anew, and says what a new file would.
func TestASurveyIsAdjustedAnewWhenItHasTo(t *testing.T) {
	f, err := project.Parse("demo", starter.Demo())
	require.NoError(t, err)
	was := Prepare(f.Build).frame
	set := func(path, raw string) *project.File {
		edits := []edit.Edit{{Op: edit.OpSet, Path: path, Text: raw}}
		g, err := edit.Apply(f, edits...)
		require.NoError(t, err)
		return g
	}
	same := Prepare(set("placement.rear", "-280").Build).frame
	assert.Same(t, was.Now, same.Now)
	for path, raw := range map[string]string{"measure[3].lengths": "[1951]", "tool.tape.repeat": `"2 mm"`, "survey.datum": `"rails"`} {
		g := set(path, raw)
		got := Prepare(g.Build).frame
		assert.NotSame(t, was.Now, got.Now, path)
		fresh, err := project.Parse("demo", []byte(strings.Clone(string(g.Bytes()))))
		require.NoError(t, err)
		want := Run(fresh.Build)
		for _, x := range Run(g.Build).Findings {
			y, _ := want.Finding(x.ID)
			assert.Equal(t, y.Value, x.Value, "%s: %s", path, x.ID)
		}
	}
	h := Run(set("limits.frame_offset", `"9 mm"`).Build)
	assert.Equal(t, OK, findingOf(t, h, "frame.rails.3.offset").Status, "a limit is that of its own build")
}
