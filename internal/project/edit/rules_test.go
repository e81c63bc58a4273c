package edit

import (
	"testing"

	"fitup/internal/project"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestLoadCasesOfTheTable(t *testing.T) {
	text := "format = 3\n[loads]\nfriction = 0.7\n[[loads.case]]\nname = \"pull in a bend\"\ndrive = 0.5\ncornering = 0.4\nsource = \"test road\"\n"
	f, err := project.Parse("x", []byte(text))
	require.NoError(t, err)
	require.Len(t, f.Build.LoadCases, 1)
	assert.Equal(t, 0.4, f.Build.LoadCases[0].Cornering.V())
	assert.Equal(t, 0.7, f.Build.Load("friction").Value)
	e, err := SetText(f, f.Resolve("loads.case.1.bump"), "2")
	require.NoError(t, err)
	g, err := Apply(f, e)
	require.NoError(t, err)
	assert.Equal(t, 2.0, g.Build.LoadCases[0].Bump.V())
	assert.Contains(t, f.Paths(), "loads.case.1.braking")

	f, err = project.Parse("x", []byte("format = 3\n"))
	require.NoError(t, err)
	assert.Equal(t, project.DefaultLoadCases(), f.Build.LoadCases)
	for _, c := range f.Build.LoadCases {
		assert.NotEmpty(t, c.Source)
		assert.Zero(t, c.Drive.V()*c.Braking.V(), c.Name)
	}
	f, err = project.Parse("x", []byte("format = 3\n[loads]\ncase = []\n"))
	require.NoError(t, err)
	assert.Empty(t, f.Build.LoadCases)
}

func TestALoadIsSet(t *testing.T) {
	f := parse(t, "format = 1\n[loads]\nbump = 2\n")
	e, err := SetText(f, "loads.bump", "2.5")
	require.NoError(t, err)
	g, err := Apply(f, e)
	require.NoError(t, err)
	assert.InDelta(t, 2.5, g.Build.Load("bump").Value, 0)
}
