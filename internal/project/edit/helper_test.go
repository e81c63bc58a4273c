package edit

import (
	"testing"

	"fitup/internal/project"

	"github.com/stretchr/testify/require"
)

func parse(t testing.TB, text string) *project.File {
	t.Helper()
	f, err := project.Parse("b.toml", []byte(text))
	require.NoError(t, err)
	return f
}

func example(t testing.TB) *project.File {
	t.Helper()
	f, err := project.Load("../../../testdata/example.toml")
	require.NoError(t, err)
	return f
}
